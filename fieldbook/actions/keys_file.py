"""The file keys.toml: other keys for actions. One fault in it, and the usual keys hold.

[keys]
undo = ["ctrl+z", "f10"]
wire_map = ["alt+j"]
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path

from fieldbook.actions.keymap import ACTIONS, Action, key_name

KEYS_FILE = "keys.toml"
_SPOKEN = {
    **{"pgdn": "pagedown", "pgup": "pageup", "ins": "insert", "del": "delete", "esc": "escape"},
    **{"?": "question_mark", "/": "slash", "+": "plus", "control": "ctrl", "page_down": "pagedown"},
}
"""Other names of keys, and how Textual calls them."""
_KNOWN = re.compile(
    r"((ctrl\+)?(alt\+)?(shift\+)?(f([1-9]|1\d|2[0-4])|insert|delete|pageup|pagedown|home|end|up|down"
    r"|left|right|enter|tab|backspace|escape|space))|((ctrl|alt)\+[a-z0-9])"
)
_EDITS = frozenset(
    (
        *("enter", "tab", "shift+tab", "escape", "space", "backspace", "home", "end"),
        *("up", "down", "left", "right", "ctrl+u", "ctrl+w", "ctrl+c", "ctrl+v", "ctrl+x"),
    )
)
"""Keys that every cell, field or list needs."""
_SAME = {"ctrl+i": "Tab", "ctrl+m": "Enter", "ctrl+j": "Enter", "ctrl+h": "Backspace"}
"""A terminal sends the same for both."""


@dataclass(frozen=True)
class KeysRead:
    """What a file of keys says: the keys by the name of the action, and a sentence a fault."""

    keys: Mapping[str, tuple[str, ...]]
    faults: tuple[str, ...] = ()


def read_keys(path: Path) -> KeysRead:
    """The keys that a file gives to actions; none where there is no file, or a fault in it."""
    if not path.exists():
        return KeysRead({})
    try:
        held = tomllib.loads(path.read_text("utf-8"))
    except (OSError, ValueError) as why:
        return KeysRead({}, (f"{KEYS_FILE} can't be read ({why}): the usual keys hold.",))
    chosen: dict[str, tuple[str, ...]] = {}
    faults = [
        f"{KEYS_FILE}: “{title}” is unknown: keys stand under [keys]."
        for title in held
        if title != "keys"
    ]
    section = held.get("keys", {})
    if not isinstance(section, dict):
        faults.append(f"{KEYS_FILE}: keys stand under [keys], a line for each action.")
        section = {}
    for name, value in section.items():
        found = list(_faults_of(name, value))
        faults += found
        if not found:
            chosen[name] = tuple(_named(key) for key in value)
    faults += _used_twice(chosen)
    return KeysRead({} if faults else chosen, tuple(faults))


def as_toml() -> str:
    """Every action with its usual keys, as a file to begin with."""
    lines = [
        "# Keys of fieldbook, by action. Keep this file as keys.toml beside the book.",
        "[keys]",
    ]
    for action in ACTIONS:
        keys = ", ".join(f'"{key}"' for key in action.keys)
        lines.append(f"# {action.label}. {action.help}\n{action.name} = [{keys}]")
    return "\n".join(lines)


def _named(key: str) -> str:
    """A key as Textual names it: "PgDn" is "pagedown", "Ctrl+Z" is "ctrl+z"."""
    typed = key.strip()
    if typed in _SPOKEN or len(typed) == 1:
        return _SPOKEN.get(typed, typed)
    return "+".join(_SPOKEN.get(part, part) for part in typed.casefold().split("+"))


def _faults_of(name: str, value: object) -> Iterator[str]:
    """A sentence for each fault of one line of the file."""
    action = next((action for action in ACTIONS if action.name == name), None)
    if action is None:
        near = get_close_matches(name, [action.name for action in ACTIONS], n=1)
        meant = f": did you mean {near[0]}?" if near else "; fieldbook keys lists them."
        yield f"{KEYS_FILE}: there is no action “{name}”{meant}"
    elif not isinstance(value, list) or not value:
        yield f'{KEYS_FILE}: {name} needs a list of keys, such as ["ctrl+z"].'
    else:
        for key in value:
            why = _why_not(action, _named(key)) if isinstance(key, str) else "is no text in quotes."
            if why:
                yield f"{KEYS_FILE}: {name} can't have “{key}”: it {why}"


def _why_not(action: Action, key: str) -> str:
    """Why an action can't have a key; empty where it can."""
    if key in action.keys:
        return ""
    if len(key) == 1 or key in ("question_mark", "slash", "plus"):
        return "begins a value in a cell. Add ctrl or alt, or take a function key."
    if key in _SAME:
        return f"is the same as {_SAME[key]} in a terminal."
    if key in _EDITS:
        return "moves or edits in every cell."
    if _KNOWN.fullmatch(key) is None:
        return "is no key that a terminal sends. Write it like ctrl+z, alt+2 or f10."
    return ""


def _used_twice(chosen: Mapping[str, Sequence[str]]) -> Iterator[str]:
    """A sentence for each key that asks for two actions on the board, or at a place."""
    seen: dict[tuple[str, str], str] = {}
    told: set[tuple[str, str, str]] = set()
    for action in ACTIONS:
        for key in chosen.get(action.name, action.keys):
            for where in action.where:
                other = seen.setdefault((where, key), action.name)
                if other != action.name and (key, other, action.name) not in told:
                    told.add((key, other, action.name))
                    yield (
                        f"{KEYS_FILE}: {key_name(key)} would ask for both {other} and "
                        f"{action.name}: give one of them another key."
                    )
