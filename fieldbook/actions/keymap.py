"""The keymap: every action with its keys and words. Key bindings, palette and help all read it.

A laptop may give actions other keys (`keys_file.py`, `use_keys`).

What an action does stands elsewhere: in `screens/job/commands.py` for a place, in
`screens/open_book.py` for the board. A test holds the names in these three files equal.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

Where = Literal["board", "place"]
KeyWords = Sequence[tuple[str, str]]
"""Keys and their words for the foot of the screen, the most needed first."""


@dataclass(frozen=True)
class Action:
    """One thing a person can ask for. `keys` are named as Textual names them.

    Letters, digits and signs belong to the cells of a sheet, so an action of a place has none of
    them. The one exception is "?": no value begins with it, and it is text once a field is open.
    """

    name: str
    keys: tuple[str, ...]
    label: str
    help: str
    where: tuple[Where, ...] = ("place",)


def _go(place: str, number: int, label: str) -> Action:
    """The action that opens a place from anywhere in the property."""
    return Action(f"go_{place}", (f"alt+{number}",), label, "It opens at the next thing to do.")


_BOARD: tuple[Where, ...] = ("board",)
_BOTH: tuple[Where, ...] = ("board", "place")

ACTIONS: tuple[Action, ...] = (
    Action("open", ("enter",), "Open the property", "It opens at the next thing to do.", _BOARD),
    Action(
        "new",
        ("insert", "plus"),
        "New property",
        "Type its address; it opens at the street.",
        _BOARD,
    ),
    Action(
        "day",
        ("f7",),
        "The day",
        "What can be done now on every property, what waits, what runs out this week.",
        _BOARD,
    ),
    Action(
        "exchange",
        ("ctrl+e",),
        "Exchange with other laptops",
        "Through a folder, such as one on a stick. To repeat it does no harm.",
        _BOARD,
    ),
    Action(
        "keep",
        ("alt+h",),
        "What this laptop holds",
        "The whole firm's properties, or chosen ones; puts the property away that is highlighted.",
        _BOARD,
    ),
    Action(
        "closed",
        ("alt+c",),
        "Hide or show what is handed over",
        "Properties that are handed over, with no visit under way; a search finds them all the "
        "same, and this laptop remembers.",
        _BOARD,
    ),
    Action("laptops", ("alt+e",), "The laptops known", "Compare words, distrust one.", _BOARD),
    Action(
        "find",
        ("f8", "slash"),
        "Find a property",
        "By any text in it; typing a letter or a digit begins it too.",
        _BOARD,
    ),
    Action(
        "remove_property",
        ("delete",),
        "Remove the property",
        "It leaves the board; Ctrl+Z brings it back.",
        _BOARD,
    ),
    Action(
        "undo",
        ("ctrl+z",),
        "Undo the last entry",
        "Takes back the newest entry that still stands, also one made before a restart.",
        _BOTH,
    ),
    Action(
        "redo",
        ("ctrl+y",),
        "Put back what was undone",
        "Possible until something else is entered.",
    ),
    Action(
        "explain",
        ("f1", "question_mark"),
        "Explain this",
        "What the cell is, why it is asked, where its figures come from, who entered it.",
        _BOTH,
    ),
    Action(
        "flags",
        ("ctrl+f",),
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
        "diagnose",
        ("alt+w",),
        "What is wrong with a zone",
        "Ranks what could be wrong by what was read and seen of it, and says what to read next.",
    ),
    Action(
        "compare_rules",
        ("f3",),
        "Compare with another rule set",
        "Which rules differ, and which flags would come and go.",
    ),
    Action("plan", ("f4",), "As-built plan", "Fixed points and what is tied to them, to scale."),
    Action(
        "month",
        ("alt+m",),
        "Month of watering",
        "Each day with what may run and what does; the programmes are at the controller.",
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
        "Settle what differs, join two",
        "Asks about what laptops entered differently, and joins what two of them made twice.",
    ),
    Action(
        "attach",
        ("ctrl+a",),
        "Attach a photo or paper",
        "To the row you are on; a copy of the file is kept beside the book.",
    ),
    Action(
        "papers",
        ("f11",),
        "Write the papers",
        "Handover packet, door card, logs and the others, into a folder; entries go on meanwhile.",
    ),
    Action(
        "dispute",
        ("alt+d",),
        "Dispute sheet",
        "Every entry that bears on a claim about this cell or row, beside the other papers.",
    ),
    Action(
        "override",
        ("ctrl+o",),
        "Override a hold",
        "Sign though a hold is not met: with a name and a reason, shown wherever the sign-off is.",
    ),
    Action(
        "countersign",
        ("ctrl+k",),
        "Countersign",
        "On a signature, that; on any other cell, what somebody entered at this place. A licensed "
        "member of the crew does it, with the licence number.",
    ),
    Action(
        "repeat_nozzle",
        ("insert",),
        "Repeat the last nozzle",
        "On a run of a lateral: the sprinkler head of the run before it, and on to the next run.",
    ),
    Action(
        "next_wanted",
        ("ctrl+n",),
        "Next cell that wants a value",
        "From the cell you are on, then at the places after this one; then what can be signed.",
    ),
    Action(
        "next_place",
        ("ctrl+pagedown",),
        "Next place",
        "Street, valve boxes, ground, controller, desk, service.",
    ),
    Action("previous_place", ("ctrl+pageup",), "Previous place", "The other way round."),
    Action("places", ("escape",), "Choose a place", "Then 1 to 6, or Esc again for the board."),
    _go("street", 1, "Go to the street"),
    _go("boxes", 2, "Go to the valve boxes"),
    _go("ground", 3, "Go to the ground"),
    _go("controller", 4, "Go to the controller"),
    _go("desk", 5, "Go to the desk"),
    _go("service", 6, "Go to the service"),
    Action(
        "remove_row",
        ("ctrl+d",),
        "Remove this row",
        "With what belongs to it; Ctrl+Z brings it back.",
    ),
    Action(
        "whole_row",
        ("f10", "alt+r"),
        "The whole row",
        "Every field of the row you are on, also those beside the screen; Enter goes to one. Left "
        "of the first cell is the row's name: Enter there does the same.",
    ),
    Action("clear", ("delete",), "Clear this cell", "Ctrl+Z brings the value back."),
    Action(
        "fill_from_above",
        ("ctrl+g",),
        "Fill in from above",
        "The value of the cell above in this one; then the cursor is on the one below.",
    ),
    Action(
        "fill_below",
        ("alt+g", "f12"),
        "Fill down",
        "The value of this cell in the rows below: in so many, or Enter alone for all of them.",
    ),
    Action(
        "copy_zone",
        ("ctrl+r",),
        "Copy this zone",
        "Its laterals, heads and valve facts, as often as you say; nothing seen or measured.",
    ),
    Action(
        "next_photo",
        ("ctrl+t",),
        "Next photo that is missing",
        "Boxes, tees, crossings, trenches, assembly, controller, in the order of the work.",
    ),
    Action("next_section", ("pagedown",), "Next section", "Goes to its first row."),
    Action("previous_section", ("pageup",), "Previous section", "Goes to its first row."),
    Action(
        "visits",
        ("alt+v",),
        "Read the visits",
        "Each visit with its steps, what changed, its readings and photos, the newest first.",
    ),
    Action(
        "note_work",
        ("alt+n",),
        "Note work on this thing",
        "On the visit under way: replaced, adjusted, re-terminated, repaired or cleaned, where no "
        "cell changes. A cell that changes is listed on the visit by itself.",
    ),
    Action("board", ("ctrl+b",), "Back to the board", "Everything is already on disk."),
    Action(
        "who",
        ("f9",),
        "Who is typing",
        "Whose initials the entries carry from now on: someone of the crew, or a new one.",
        _BOTH,
    ),
    Action(
        "theme",
        ("ctrl+l",),
        "Colours for the cab or the sun",
        "Dark, or black on white for glare; this laptop remembers.",
        _BOTH,
    ),
    Action(
        "language",
        ("alt+l",),
        "English or Spanish (español)",
        "What was entered stays as it is; this laptop remembers.",
        _BOTH,
    ),
    Action("palette", ("ctrl+p",), "Find any action or place", "Type a part of its name.", _BOTH),
    Action("quit", ("ctrl+q",), "Leave fieldbook", "Everything is already on disk.", _BOTH),
)

FUNCTION_KEYS = tuple(
    key for action in ACTIONS for key in action.keys if key[0] == "f" and key[1:].isdigit()
)
"""F1, F2 ...: each also closes the page it opens."""
_keys_in_use: dict[str, tuple[str, ...]] = {}
"""The keys of the actions that a laptop gives others than the usual ones."""


def use_keys(keys: Mapping[str, tuple[str, ...]]) -> None:
    """Give actions other keys from now on, by name; those not named have their usual ones.

    One setting for the whole program, as a language would be: every line that shows a key reads it.
    """
    _keys_in_use.clear()
    _keys_in_use.update(keys)


def offered(where: Where) -> Iterable[Action]:
    """The actions of the board, or of a place, with the keys in use."""
    return (_in_use(action) for action in ACTIONS if where in action.where)


def _in_use(action: Action) -> Action:
    keys = _keys_in_use.get(action.name)
    return action if keys is None else replace(action, keys=keys)


_SENT_FOR_ALT: Mapping[str, str] = {
    "inverted_exclamation_mark": "alt+1",
    "trade_mark_sign": "alt+2",
    "pound_sign": "alt+3",
    "cent_sign": "alt+4",
    "infinity": "alt+5",
    "section_sign": "alt+6",
}
"""Most terminals send Alt and a digit as Esc and the digit, which Textual takes for the sign that a
keyboard with an Option key would type. No value begins with one of these signs; in a field that is
open they are text."""


def action_for(key: str, where: Where) -> Action | None:
    """The action that a key asks for on the board or at a place."""
    sent = _SENT_FOR_ALT.get(key, key)
    return next((action for action in offered(where) if sent in action.keys), None)


_KEY_NAMES = {
    "question_mark": "?",
    "slash": "/",
    "plus": "+",
    "escape": "Esc",
    "pagedown": "PgDn",
    "pageup": "PgUp",
    "delete": "Del",
    "insert": "Ins",
}
_OTHER_KEYS = ("enter", "space", "right", "left", "up", "down", "tab")


def key_name(key: str) -> str:
    """A key, named as Textual names it, as a person reads it: "ctrl+b" is "Ctrl+B", "n" is "n"."""
    parts = key.split("+")
    if len(parts) == 1 and len(key) == 1:
        return key
    return "+".join(_KEY_NAMES.get(part, part.capitalize()) for part in parts)


def key_named(words: str) -> str | None:
    """The key that `key_name` calls so, as Textual names it; None for words that name no key."""
    usual = {name: key for key, name in _KEY_NAMES.items()}
    *held, last = words.split("+") if words != "+" else ["+"]
    key = usual.get(last, last.lower())
    named = key in _KEY_NAMES or key in _OTHER_KEYS or key in FUNCTION_KEYS
    if not (named or len(key) == 1):
        return None
    return "+".join([*(part.lower() for part in held), key])


def key_of(name: str) -> str:
    """The first key of an action, as a person reads it."""
    return key_name(_in_use(_named(name)).keys[0])


def _named(name: str) -> Action:
    return next(action for action in ACTIONS if action.name == name)


def in_keys_in_use(sentence: str) -> str:
    """A sentence that names usual keys, such as "Ctrl+Z takes it back", with the keys in use."""
    if not _keys_in_use:
        return sentence
    others = {
        key_name(key): key_name(keys[0])
        for name, keys in _keys_in_use.items()
        for key in _named(name).keys
        if key not in keys
    }
    return KEY_IN_TEXT.sub(lambda found: others.get(found[0], found[0]), sentence)


KEY_IN_TEXT = re.compile(r"\b(?:(?:Ctrl|Alt)\+(?:[A-Z0-9]|PgDn|PgUp)|F[1-9][0-9]?|Ins)\b")
"""The names of keys that sentences name: no word of a sentence looks like them."""
