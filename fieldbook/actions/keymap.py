"""The keymap: every action with its keys and words. Key bindings, palette and help all read it.

What an action does stands elsewhere: in `screens/job/commands.py` for a place, in
`screens/open_book.py` for the board. A test holds the names in these three files equal.
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
    """One thing a person can ask for.

    `keys` are named as Textual names them, `option_keys` too: those are the characters that a
    keyboard with an Option key sends where another sends Alt and a digit. On a cell whose value
    could begin with it, a single letter is text and no key, unless `in_text` is set.
    """

    name: str
    keys: tuple[str, ...]
    label: str
    help: str
    where: tuple[Where, ...] = ("place",)
    in_text: bool = False
    option_keys: tuple[str, ...] = ()

    @property
    def all_keys(self) -> tuple[str, ...]:
        """Every key that asks for the action, however the terminal sends it."""
        return (*self.keys, *self.option_keys)


def _go(place: str, number: int, label: str, option_key: str) -> Action:
    """The action that opens a place from anywhere in the property."""
    help_ = "It opens at the next thing to do there."
    keys = (f"alt+{number}",)
    return Action(f"go_{place}", keys, label, help_, in_text=True, option_keys=(option_key,))


_BOARD: tuple[Where, ...] = ("board",)
_BOTH: tuple[Where, ...] = ("board", "place")

ACTIONS: tuple[Action, ...] = (
    Action("open", ("enter",), "Open the property", "It opens at the next thing to do.", _BOARD),
    Action("new", ("n",), "New property", "Type its address; it opens at the street.", _BOARD),
    Action(
        "day",
        ("d",),
        "The day",
        "What can be done now on every property, what waits, what runs out this week.",
        _BOARD,
    ),
    Action(
        "exchange",
        ("x",),
        "Exchange with other laptops",
        "Through a folder, such as one on a stick. To repeat it does no harm.",
        _BOARD,
    ),
    Action("find", ("slash",), "Find a property", "By any text in it.", _BOARD),
    Action(
        "remove_property",
        ("delete",),
        "Remove the property",
        "It leaves the board; u brings it back.",
        _BOARD,
    ),
    Action(
        "undo",
        ("u", "ctrl+z"),
        "Undo the last entry",
        "Takes back the newest entry that still stands, also one made before a restart.",
        _BOTH,
    ),
    Action(
        "redo",
        ("ctrl+y",),
        "Put back what was undone",
        "Possible until something else is entered.",
        in_text=True,
    ),
    Action(
        "explain",
        ("question_mark", "f1"),
        "Explain this",
        "What the cell is, why it is asked, where its figures come from, who entered it.",
        _BOTH,
        in_text=True,
    ),
    Action(
        "flags",
        ("f", "ctrl+f"),
        "Go to the flags",
        "Arrows choose a flag, Enter goes to the cell that mends it, Esc comes back.",
    ),
    Action(
        "wire_map",
        ("f2",),
        "Wire map",
        "Where each wire leads and what shows it, every doubt, pictures of boxes and controller.",
    ),
    Action(
        "compare_rules",
        ("f3",),
        "Compare with another rule set",
        "Which rules differ, and which flags would come and go.",
    ),
    Action(
        "plan",
        ("f4",),
        "As-built plan",
        "Fixed points and what is tied to them, to scale, north up.",
    ),
    Action(
        "history",
        ("f5",),
        "History of this cell",
        "Every value it has held: who, when, what was there before, on which laptop.",
    ),
    Action(
        "settle",
        ("f6",),
        "Settle what differs",
        "Asks about each value that laptops entered differently: keep a version, or type another.",
    ),
    Action(
        "attach",
        ("ctrl+a",),
        "Attach a photo or paper",
        "To the row you are on; a copy of the file is kept beside the book.",
    ),
    Action(
        "override",
        ("ctrl+o",),
        "Override a hold",
        "Sign though a hold is not met: with a name and a reason, shown wherever the sign-off is.",
    ),
    Action(
        "next_wanted",
        ("n", "ctrl+n"),
        "Next cell that wants a value",
        "From the cell you are on, round the place.",
    ),
    Action("next_place", ("tab",), "Next place", "Street, valve boxes, ground, controller, desk."),
    Action("previous_place", ("shift+tab",), "Previous place", "The other way round."),
    Action("places", ("escape",), "Choose a place", "Then 1 to 5, or Esc again for the board."),
    _go("street", 1, "Go to the street", "inverted_exclamation_mark"),
    _go("boxes", 2, "Go to the valve boxes", "trade_mark_sign"),
    _go("ground", 3, "Go to the ground", "pound_sign"),
    _go("controller", 4, "Go to the controller", "cent_sign"),
    _go("desk", 5, "Go to the desk", "infinity"),
    Action(
        "remove_row",
        ("ctrl+d",),
        "Remove this row",
        "With what belongs to it; u brings it back.",
    ),
    Action("clear", ("delete",), "Clear this cell", "u brings the value back."),
    Action("next_section", ("pagedown",), "Next section", "Goes to its first row."),
    Action("previous_section", ("pageup",), "Previous section", "Goes to its first row."),
    Action("board", ("ctrl+b",), "Back to the board", "Everything is already on disk."),
    Action(
        "theme",
        ("ctrl+l",),
        "Colours for the cab or the sun",
        "Dark, or black on white for glare; this laptop remembers.",
        _BOTH,
        in_text=True,
    ),
    Action("quit", ("ctrl+q",), "Leave fieldbook", "Everything is already on disk.", _BOTH),
)

FUNCTION_KEYS = tuple(
    key for action in ACTIONS for key in action.keys if key[0] == "f" and key[1:].isdigit()
)
"""F1, F2 ...: each also closes the page it opens."""


def offered(where: Where) -> Iterable[Action]:
    """The actions of the board, or of a place."""
    return (action for action in ACTIONS if where in action.where)


def action_for(key: str, where: Where, *, typing: bool) -> Action | None:
    """The action a key asks for. `typing`: the cell takes text, so letters are text there."""
    for action in offered(where):
        if key in action.all_keys:
            # Textual names letters by themselves: only a key of one character can be text.
            if typing and len(key) == 1 and not action.in_text:
                continue
            return action
    return None
