"""One sealed entry of the journal: immutable, known by the hash of its content."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from typing import Any, NoReturn

from fieldbook.records.values import Value, printable

ADD, DELETED = "add", "_deleted"
CLOCK_LIMIT = 1 << 62
"""No entry's clock reaches it: about the year 4200."""
CLOCK_FOLLOWED_LIMIT = 1 << 61
"""A later clock is not followed, so that nobody can drive all clocks to the end."""
LONGEST_TEXT = 2_000


class EntryError(ValueError):
    """What was read is no sealed entry; the reason in a few words."""


@dataclass(frozen=True, slots=True)
class Entry:
    """An entry as every laptop has it; the columns are described at records/journal.py."""

    origin: str
    seq: int
    prev: str
    clock: int
    wall: str
    who: str
    act: str
    kind: str
    target: str
    what: str
    job_id: str
    table: str
    row_id: str
    op: str
    value: str
    parents: tuple[str, ...]
    format: int
    id: str = ""

    @property
    def row(self) -> dict[str, Value]:
        """The columns of a row added; none otherwise."""
        found: dict[str, Value] = json.loads(self.value) if self.op == ADD else {}
        return found

    def value_of(self, column: str) -> Value:
        """What it says that a column holds."""
        held: Value = self.row.get(column) if self.op == ADD else json.loads(self.value)
        return held

    @property
    def recency(self) -> tuple[int, str]:
        """What orders entries when one has to be shown: the later clock, then the id."""
        return self.clock, self.id


FIELDS = tuple(one.name for one in fields(Entry) if one.name != "id")
_NUMBERS = {"seq", "clock", "format"}
_ROW = ", ".join(f'"{name}"' for name in ("id", *FIELDS))
SELECT_ENTRIES = f"SELECT {_ROW} FROM journal"
"""Read with `from_row`."""


def make_entry(content: Mapping[str, Any]) -> Entry:
    """Seal content: the entry with the id that its content gives."""
    told = json.dumps([content[name] for name in FIELDS], ensure_ascii=False, separators=(",", ":"))
    return Entry(**content, id=hashlib.sha256(told.encode("utf-8")).hexdigest())


def from_row(row: Sequence[Any]) -> Entry:
    """The entry of a row read by SELECT."""
    held = dict(zip(("id", *FIELDS), row, strict=True))
    held["parents"] = tuple(json.loads(held["parents"]))
    return Entry(**held)


def as_dict(entry: Entry) -> dict[str, Any]:
    """The entry as plain values, its id first."""
    return {"id": entry.id, **{name: getattr(entry, name) for name in FIELDS}}


def from_dict(held: object) -> Entry:
    """The entry of plain values from outside. Raises SealError unless it is whole and unaltered."""
    if not isinstance(held, Mapping) or set(held) != {"id", *FIELDS}:
        raise EntryError("it has not the parts of an entry")
    for name in FIELDS:
        value = held[name]
        if isinstance(value, str) and name != "value" and not _plain(value):
            raise EntryError(f"its {name} is too long or holds what a terminal would obey")
        if name == "parents":
            right = isinstance(value, list) and all(isinstance(one, str) for one in value)
        elif name in _NUMBERS:
            right = type(value) is int and 0 <= value < CLOCK_LIMIT
        else:
            right = isinstance(value, str)
        if not right:
            raise EntryError(f"its {name} is of another kind")
    entry = _sealed_from(held)
    if entry.id != held["id"]:
        raise EntryError("it is not what was sealed")
    _refuse_value(entry)
    return entry


def _plain(text: str) -> bool:
    return len(text) <= LONGEST_TEXT and printable(text) == text


def _sealed_from(held: Mapping[str, Any]) -> Entry:
    content = {name: held[name] for name in FIELDS}
    content["parents"] = tuple(content["parents"])
    try:
        return make_entry(content)
    except UnicodeEncodeError as why:
        raise EntryError("it holds half a character") from why


def _refuse_value(entry: Entry) -> None:
    """The value has to be JSON: an object for a row added, else a plain value."""
    try:
        value = json.loads(entry.value, parse_constant=_no_constant)
    except (ValueError, RecursionError) as why:
        raise EntryError("its value is no JSON") from why
    inside = value.values() if entry.op == ADD and isinstance(value, dict) else [value]
    if entry.op == ADD and not isinstance(value, dict):
        raise EntryError("its row is no object")
    if any(isinstance(one, dict | list) for one in inside):
        raise EntryError("a value inside is no plain one")
    if entry.table == "job":
        belongs = entry.row_id
    else:
        belongs = value.get("job_id") if entry.op == ADD else entry.job_id
    if entry.job_id != belongs:
        raise EntryError("its row belongs to another property")


def _no_constant(name: str) -> NoReturn:
    raise ValueError(name)
