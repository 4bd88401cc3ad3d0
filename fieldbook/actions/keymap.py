"""Every action once: its keys, its words, where it is offered. Keys, palette and help read it.

`keys` that are single letters give way to typing in a cell whose value they could begin (`?` never
does); the others work everywhere.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

Where = Literal["board", "place"]
KeyWords = Sequence[tuple[str, str]]
"""Keys and their words for the foot of the screen, the most needed first."""


@dataclass(frozen=True)
class Action:
    """One thing a person can ask for. `short` is for the foot of the screen.

    `as_read`: what Textual reads the keys as where a terminal sends Alt as Esc (Alt+2 is then the
    sign that a keyboard with an Option key has there).
    """

    name: str
    keys: tuple[str, ...]
    short: str
    label: str
    help: str
    where: tuple[Where, ...] = ("place",)
    in_text: bool = False
    as_read: tuple[str, ...] = ()

    @property
    def all_keys(self) -> tuple[str, ...]:
        """Its keys, also as a terminal may have them read."""
        return (*self.keys, *self.as_read)


def _go(place: str, number: int, label: str, as_read: str) -> Action:
    """The action that opens a place from anywhere in the property."""
    help_ = "At the next thing to do there."
    return Action(
        f"go_{place}", (f"alt+{number}",), place, label, help_, in_text=True, as_read=(as_read,)
    )


ACTIONS: tuple[Action, ...] = (
    Action(
        "new",
        ("n",),
        "new",
        "New property",
        "Type its address; it opens at the street.",
        ("board",),
    ),
    Action(
        "day",
        ("d",),
        "day",
        "The day",
        "What can be done now on every property, what waits, what runs out this week.",
        ("board",),
    ),
    Action(
        "exchange",
        ("x",),
        "exchange",
        "Exchange with other laptops",
        "Through a folder, such as one on a stick; again and again does no harm.",
        ("board",),
    ),
    Action("find", ("slash",), "find", "Find a property", "By any text in it.", ("board",)),
    Action(
        "remove_property",
        ("delete",),
        "remove",
        "Remove the property",
        "Takes it off the board; u brings it back.",
        ("board",),
    ),
    Action(
        "undo",
        ("u", "ctrl+z"),
        "undo",
        "Undo the last entry",
        "Takes back the newest entry that still stands, across restarts.",
        ("board", "place"),
    ),
    Action(
        "redo",
        ("ctrl+y",),
        "put back",
        "Put back what was undone",
        "Until something else is entered.",
        in_text=True,
    ),
    Action(
        "explain",
        ("question_mark", "f1"),
        "explain",
        "Explain this",
        "What the cell is, why it is asked, where its figures come from, who entered it.",
        ("board", "place"),
        True,
    ),
    Action(
        "flags",
        ("f", "ctrl+f"),
        "flags",
        "Go to the flags",
        "Arrows choose one, Enter goes to the cell that mends it, Esc comes back.",
    ),
    Action(
        "wire_map",
        ("f2",),
        "wire map",
        "Wire map",
        "Where each wire leads and what says so, every doubt, pictures of boxes and controller.",
    ),
    Action(
        "compare_rules",
        ("f3",),
        "compare rules",
        "Compare with another rule set",
        "Which rules differ, which flags would come and go.",
    ),
    Action(
        "plan",
        ("f4",),
        "plan",
        "As-built plan",
        "Fixed points and what is tied to them, to scale, north up.",
    ),
    Action(
        "history",
        ("f5",),
        "history",
        "History of this cell",
        "Every value it ever held: who, when, what was there before, on which laptop.",
    ),
    Action(
        "settle",
        ("f6",),
        "settle",
        "Settle what differs",
        "What laptops entered differently, one by one: take a version, or type another.",
    ),
    Action(
        "attach",
        ("ctrl+a",),
        "attach",
        "Attach a photo or paper",
        "To the line you are on; the file is kept beside the book by its content.",
    ),
    Action(
        "override",
        ("ctrl+o",),
        "override",
        "Override a hold",
        "Sign though a hold is not met: with a name and a reason, shown wherever the sign-off is.",
    ),
    Action(
        "next_wanted",
        ("n", "ctrl+n"),
        "next",
        "Next cell that wants a value",
        "Goes on from the cell you are on, round the place.",
    ),
    Action("next_place", ("tab",), "place", "Next place", "Street, valve boxes, ground, ..."),
    Action("previous_place", ("shift+tab",), "place", "Place before", "The other way round."),
    Action(
        "places",
        ("escape",),
        "places",
        "Choose a place",
        "Then 1 to 5, or Esc again for the board.",
    ),
    _go("street", 1, "Go to the street", "inverted_exclamation_mark"),
    _go("boxes", 2, "Go to the valve boxes", "trade_mark_sign"),
    _go("ground", 3, "Go to the ground", "pound_sign"),
    _go("controller", 4, "Go to the controller", "cent_sign"),
    _go("desk", 5, "Go to the desk", "infinity"),
    Action(
        "remove_row",
        ("ctrl+d",),
        "remove row",
        "Remove this row",
        "With what hangs on it; u brings it back.",
    ),
    Action("clear", ("delete",), "clear", "Clear this cell", "u brings the value back."),
    Action("next_section", ("pagedown",), "section", "Next section", "Of this place."),
    Action("previous_section", ("pageup",), "section", "Section before", "Of this place."),
    Action("board", ("ctrl+b",), "board", "Back to the board", "Everything is already on disk."),
    Action(
        "theme",
        ("ctrl+l",),
        "colours",
        "Colours for the cab or the sun",
        "Dark, or black on white for glare; this laptop remembers.",
        ("board", "place"),
        True,
    ),
    Action(
        "quit",
        ("ctrl+q",),
        "quit",
        "Leave fieldbook",
        "Everything is already on disk.",
        ("board", "place"),
    ),
)

FUNCTION_KEYS = tuple(
    key for one in ACTIONS for key in one.keys if key[0] == "f" and key[1:].isdigit()
)
"""F1 and on: what they open, each of them puts away again."""


def offered(where: Where) -> Iterable[Action]:
    """The actions of the board, or of a place."""
    return (action for action in ACTIONS if where in action.where)


def action_for(key: str, where: Where, *, typing: bool) -> Action | None:
    """The action a key asks for. `typing`: the cell takes text, so letters are text there."""
    for action in offered(where):
        if key in action.all_keys:
            if typing and len(key) == 1 and not action.in_text:
                continue
            return action
    return None
