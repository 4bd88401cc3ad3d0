"""The lines of properties that are not here: made from a board row of the office, or from entries.

A line from the office is what a laptop's checks said of the whole property. One from entries that
passed by, as on a stick, has address, customer and day alone. Both say what they were made from.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any

from fieldbook.records.printable import printable
from fieldbook.records.values import Value
from fieldbook.store.journal.entry import ADD, Entry
from fieldbook.store.sqlite.book_connection import Connection

_TEXTS = ("address", "customer", "phone", "access", "next")
_COUNTS = ("zones", "flushed", "stops", "fixes", "notes", "open")
_PLACES = ("street", "boxes", "ground", "controller", "desk", "service")
_LONGEST = 400
_MOST = 1_000_000
_CELLS = ("address", "customer", "off_board")
_ALL = ""
"""The key of the clock from which on an entry is newer than every cell of the line."""
_SAVE = """
INSERT INTO not_here (job_id, sort_key, sought, told, places, runs_out, off_board, changed,
  made_from, made_number, newest, clocks, put_away, closed)
VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
ON CONFLICT (job_id) DO UPDATE SET sort_key = excluded.sort_key, sought = excluded.sought,
  told = excluded.told, places = excluded.places, runs_out = excluded.runs_out,
  off_board = excluded.off_board, changed = excluded.changed, made_from = excluded.made_from,
  made_number = excluded.made_number, newest = max(not_here.newest, excluded.newest),
  clocks = excluded.clocks, closed = excluded.closed
"""


@dataclass(frozen=True)
class FarLine:
    """The line of one property that is not here.

    `told` has the keys of a board row, `changed` is the day of its last change, `made_from` says in
    words what the line was made from. `made_number` and `newest` are the office's numbers of the
    entry it was made from and of the property's newest; 0 where no office gave it. `clocks` has for
    each cell the clock of the entry it is from.
    """

    job_id: str
    told: Mapping[str, Any]
    changed: str
    made_from: str
    places: str = ""
    runs_out: str = ""
    off_board: bool = False
    made_number: int = 0
    newest: int = 0
    clocks: Mapping[str, int] = field(default_factory=dict)
    put_away: str = ""
    closed: bool = False


def plain_row(content: Mapping[str, Any]) -> dict[str, Any]:
    """Of a board row that another laptop made, what this fieldbook knows and can show."""
    row: dict[str, Any] = {name: _text(content.get(name)) for name in _TEXTS}
    row.update({name: _count(content.get(name)) for name in _COUNTS})
    place = content.get("place")
    row["place"] = place if place in _PLACES else _PLACES[0]
    return row


def plain_places(stored: object) -> str:
    """The digits of the places, as `StoredRow` has them; "" for anything else."""
    fits = isinstance(stored, str) and len(stored) <= len(_PLACES) and set(stored) <= set("012")
    return str(stored) if fits else ""


def plain_runs_out(stored: object) -> str:
    """What runs out first, as `StoredRow` has it; "" for anything else."""
    text = _text(stored)
    with suppress(ValueError):
        date.fromisoformat(text.partition(" ")[0])
        return text
    return ""


def _text(value: object) -> str:
    return printable(value)[:_LONGEST] if isinstance(value, str) else ""


def _count(value: object) -> int:
    return value if type(value) is int and 0 <= value <= _MOST else 0


@dataclass
class Passed:
    """What entries that passed by say of the property they belong to."""

    job_id: str
    cells: dict[str, tuple[int, Value]] = field(default_factory=dict)
    changed: str = ""
    clock: int = 0

    def add(self, entry: Entry) -> None:
        """Look at one more entry, in whatever order they come."""
        if entry.clock > self.clock:
            self.clock, self.changed = entry.clock, entry.wall[:10]
        if entry.table != "job" or entry.row_id != self.job_id:
            return
        for name in _CELLS:
            if entry.op in (ADD, name):
                clock, _ = self.cells.get(name, (0, None))
                value = entry.value_of(name)
                if entry.clock >= clock and not (entry.op == ADD and value is None):
                    self.cells[name] = (entry.clock, value)


def line_of(passed: Passed, made_from: str, there: FarLine | None) -> FarLine:
    """The line of a property after entries passed by; `there` is its line so far."""
    line = there if there is not None else FarLine(passed.job_id, plain_row({}), "", made_from)
    told, clocks, off_board = dict(line.told), dict(line.clocks), line.off_board
    floor, newer = clocks.get(_ALL, 0), passed.changed > line.changed
    for name, (clock, value) in passed.cells.items():
        if clock <= max(floor, clocks.get(name, 0)):
            continue
        clocks[name], newer = clock, True
        if name == "off_board":
            off_board = bool(value)
        else:
            told[name] = _text(value)
    return replace(
        line,
        told=told,
        changed=max(line.changed, passed.changed),
        made_from=made_from if newer else line.made_from,
        off_board=off_board,
        clocks=clocks,
    )


def whole_line(line: FarLine, clock: int) -> FarLine:
    """A line from the office: entries with an earlier clock say nothing new of it."""
    return replace(line, clocks={_ALL: clock})


def read_line(connection: Connection, job_id: str) -> FarLine | None:
    """The stored line of a property, or None."""
    query = (
        "SELECT told, changed, made_from, places, runs_out, off_board, made_number, newest, "
        "clocks, put_away, closed FROM not_here WHERE job_id = ?"
    )
    row = connection.run(query, (job_id,)).first()
    if row is None:
        return None
    told, changed, made_from, places, runs_out, off_board, *others = row
    made, newest, clocks, put_away, closed = others
    return FarLine(
        job_id,
        json.loads(told),
        changed,
        made_from,
        places,
        runs_out,
        bool(off_board),
        made,
        newest,
        json.loads(clocks),
        put_away,
        bool(closed),
    )


def save_line(connection: Connection, line: FarLine) -> None:
    """Store the line of a property, in the caller's transaction."""
    told = {
        **line.told,
        "job_id": line.job_id,
        "elsewhere": line.made_from,
        "changed": line.changed,
    }
    address, customer = str(line.told["address"]), str(line.told["customer"])
    connection.run(
        _SAVE,
        (
            line.job_id,
            address.casefold(),
            f"{address} {customer}".casefold(),
            json.dumps(told),
            line.places,
            line.runs_out,
            int(line.off_board),
            line.changed,
            line.made_from,
            line.made_number,
            line.newest,
            json.dumps(line.clocks),
            line.put_away,
            int(line.closed),
        ),
    )


def drop_lines_of_held(connection: Connection, jobs: Iterable[str]) -> None:
    """Delete the lines of these properties if they are here now."""
    for job_id in jobs:
        connection.run(
            "DELETE FROM not_here WHERE job_id = ? "
            "AND EXISTS (SELECT 1 FROM journal WHERE job_id = not_here.job_id)",
            (job_id,),
        )
