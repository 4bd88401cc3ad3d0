"""One entry of the journal: a single change, never altered, identified by a hash of its content."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from operator import attrgetter
from typing import Any, NoReturn

from fieldbook.records.printable import printable
from fieldbook.records.values import Value

ADD, DELETED = "add", "_deleted"
"""The operations on a whole row. Any other operation is the name of the column that was set."""
FORMAT = 7
"""The format of the book, which every entry carries; the book keeps it in PRAGMA user_version."""
CLOCK_LIMIT = 1 << 62
"""Every entry's clock is below this, which is about the year 4200."""
CLOCK_FOLLOWED_LIMIT = 1 << 61
"""Received clocks from here on (the year 3085) do not advance our own.

Otherwise one forged entry could push the clocks of all laptops to the limit.
"""
LONGEST_TEXT = 2_000
"""Characters in any text field of an entry but `value`."""


class EntryError(ValueError):
    """Data from outside is not a valid entry; the message says why in a few words."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One change, the same on every laptop; `id` is the hash of all the other fields.

    - `origin`, `seq`, `prev`: who wrote it, its number there from 1, the id of the one before.
    - `clock`: a hybrid logical clock, milliseconds since 1970 times 65,536, counted up where the
      wall clock stands still or goes back. `wall` is the wall clock, `who` a person's initials.
    - `act`, `kind`, `target`, `what`: the act that the entry is part of, "do", "undo", "redo" or
      "other" (which cannot be undone), the act that was undone or redone, and its name.
    - `job_id`, `table`, `row_id`: the row that it changes.
    - `op`: "add" (`value` is the row), a column's name (`value` is its new value) or "_deleted".
      `value` is JSON.
    - `parents`: the ids of the entries that it supersedes.
    - `format`: the format of the book that made it.
    """

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
        """The columns of an added row; empty for other operations."""
        columns: dict[str, Value] = json.loads(self.value) if self.op == ADD else {}
        return columns

    def value_of(self, column: str) -> Value:
        """The value that this entry gives a column."""
        value: Value = self.row.get(column) if self.op == ADD else json.loads(self.value)
        return value

    @property
    def recency(self) -> tuple[int, str]:
        """The sort key from oldest to newest: the clock, then the id so that no two are equal."""
        return self.clock, self.id


FIELDS = tuple(field.name for field in fields(Entry) if field.name != "id")
"""The fields that the id is the hash of, in the order in which they are hashed."""
NUMBERS = {"seq", "clock", "format"}
_TEXTS = tuple(name for name in FIELDS if name not in {*NUMBERS, "parents", "value"})
compact_json = json.JSONEncoder(ensure_ascii=False, separators=(",", ":")).encode
"""JSON without spaces. `json.dumps` would make an encoder for each entry, which takes longer."""
_ALL = attrgetter("id", *FIELDS)
_COLUMNS = ", ".join(f'journal."{name}"' for name in ("id", *FIELDS))
SELECT_ENTRIES = f"SELECT {_COLUMNS} FROM journal"
"""The start of a query whose rows `from_row` reads."""
SELECT_NUMBERED = f"SELECT n, {_COLUMNS} FROM journal"
"""The same, with the number of each entry before its fields."""


def make_entry(content: Mapping[str, Any]) -> Entry:
    """The entry with this content (every name in FIELDS) and the id that follows from it.

    The id is the SHA-256 of the fields as a compact JSON list in UTF-8. The office's PostgreSQL
    computes the same hash (`office_tables.py`), so this form can never change. Raises ValueError
    for half a character.
    """
    listed = [content[name] for name in FIELDS]
    return Entry(*(*listed, hashlib.sha256(compact_json(listed).encode()).hexdigest()))


def from_row(row: Sequence[Any]) -> Entry:
    """The entry of a row that SELECT_ENTRIES read."""
    entry_id, *fields_before, parents, book_format = row
    # Most entries are additions, which have no parents.
    ids = () if parents == "[]" else tuple(json.loads(parents))
    return Entry(*(*fields_before, ids, book_format, entry_id))


def to_row(entry: Entry) -> tuple[Any, ...]:
    """The id of an entry and its fields, as the journal holds them."""
    entry_id, *fields_before, parents, book_format = _ALL(entry)
    # `json.dumps` keeps to ASCII, as older fieldbooks did; the hash is of the ids themselves.
    held = json.dumps(parents, separators=(",", ":")) if parents else "[]"
    return entry_id, *fields_before, held, book_format


def as_dict(entry: Entry) -> dict[str, Any]:
    """The entry as plain values, its id first."""
    return dict(zip(("id", *FIELDS), _ALL(entry), strict=True))


def from_dict(raw: object) -> Entry:
    """The entry of values from outside. Raises EntryError unless they are whole and have its id."""
    if not isinstance(raw, Mapping) or set(raw) != {"id", *FIELDS}:
        raise EntryError("it does not have exactly the fields of an entry")
    if not _has_plain_texts(raw):
        for name in _TEXTS:
            _check_field(name, raw[name])
    for name in ("value", "parents", *NUMBERS):
        _check_field(name, raw[name])
    content = {name: raw[name] for name in FIELDS}
    content["parents"] = tuple(content["parents"])
    try:
        entry = make_entry(content)
    except UnicodeEncodeError as why:
        raise EntryError("it holds half a character") from why
    if entry.id != raw["id"]:
        raise EntryError("its content does not match its id")
    _check_value(entry)
    return entry


def _has_plain_texts(raw: Mapping[str, Any]) -> bool:
    """Whether all text fields but `value` are short ASCII, as nearly always; one look for all."""
    texts = [raw[name] for name in _TEXTS]
    try:
        joined = "".join(texts)
    except TypeError:
        return False
    return len(joined) <= LONGEST_TEXT and joined.isascii() and joined.isprintable()


def _check_field(name: str, value: object) -> None:
    if name == "parents":
        right = isinstance(value, list) and all(isinstance(parent, str) for parent in value)
    elif name in NUMBERS:
        # Not isinstance: True is an int to Python, but not the same JSON and so not the same hash.
        right = type(value) is int and 0 <= value < CLOCK_LIMIT
    else:
        right = isinstance(value, str)
    if not right:
        raise EntryError(f"its {name} has the wrong type")
    if isinstance(value, str) and name != "value" and is_hostile(value):
        raise EntryError(f"its {name} is too long or holds control characters")


def is_hostile(text: str) -> bool:
    """Whether a text is too long, or holds characters that a terminal would obey."""
    return len(text) > LONGEST_TEXT or printable(text) != text


def _check_value(entry: Entry) -> None:
    """The value must be JSON: an object of plain values for an added row, else a plain value."""
    try:
        value = _STRICT.decode(entry.value)
    except (ValueError, RecursionError) as why:
        raise EntryError("its value is not JSON") from why
    if entry.op == ADD and not isinstance(value, dict):
        raise EntryError("its row is not a JSON object")
    plain = value.values() if entry.op == ADD else [value]
    if any(isinstance(part, dict | list) for part in plain):
        raise EntryError("a value in it is a list or an object")
    if entry.table == "job":
        job_id = entry.row_id
    else:
        job_id = value.get("job_id") if entry.op == ADD else entry.job_id
    if entry.job_id != job_id:
        raise EntryError("its row belongs to another property")


def _refuse_constant(name: str) -> NoReturn:
    """Python reads NaN and Infinity, which are not JSON."""
    raise ValueError(name)


_STRICT = json.JSONDecoder(parse_constant=_refuse_constant)
