"""The entries of a firm, made without a book: many laptops, thousands of properties, streamed.

Rows are like those that a crew types; most values are typed once, some are changed afterwards.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from uuid import UUID

from fieldbook.store.journal.entry import ADD, FORMAT, Entry, make_entry

LAPTOPS, ZONES, PUTS = 50, 8, 3
_TICK = 65_536
_BEGAN_MS = 1_700_000_000_000
_STAMP = {"entered_by": "AB", "entered_at": "2026-05-01T10:00:00-05:00"}
PER_PROPERTY = 2 + ZONES * (3 + PUTS)
"""Entries of one property: its own row, its supply; a zone, flush and pipe run for each zone."""


def row_id_of(*numbers: int) -> str:
    """An id that sorts by the numbers, as those of rows sort by the time when they were made."""
    return str(UUID(int=sum(number << 96 - 32 * at for at, number in enumerate(numbers))))


class Writer:
    """Makes the entries of one laptop, one after the other."""

    def __init__(self, origin: str) -> None:
        self.origin, self.seq, self.last = origin, 0, ""

    def make(self, job: str, table: str, row: str, op: str, held: object, *after: str) -> Entry:
        """The next entry."""
        self.seq += 1
        made = make_entry(
            {
                "origin": self.origin,
                "seq": self.seq,
                "prev": self.last,
                "clock": (_BEGAN_MS + self.seq) * _TICK,
                "wall": _STAMP["entered_at"],
                "who": "AB",
                "act": f"act-{self.seq}",
                "kind": "do",
                "target": "",
                "what": "zone name",
                "job_id": job,
                "table": table,
                "row_id": row,
                "op": op,
                "value": json.dumps(held),
                "parents": after,
                "format": FORMAT,
            }
        )
        self.last = made.id
        return made

    def property(self, label: int, number: int) -> Iterator[Entry]:
        """A property: its supply, zones, flushes and pipe, some of them changed afterwards."""
        job = row_id_of(label, number)
        row = {"address": f"{number:06} Long Street", "customer": f"Customer {number}"}
        yield self.make(job, "job", job, ADD, {**row, "units": "us", **_STAMP})
        supply = row_id_of(label, number, 1)
        held = {"job_id": job, "static_psi": 60.0 + number % 9, **_STAMP}
        yield self.make(job, "supply", supply, ADD, held)
        for zone in range(1, ZONES + 1):
            for at, table in enumerate(("zone", "flush", "pipe_run")):
                row_id = row_id_of(label, number, 2 + 3 * zone + at)
                held = {"job_id": job, "zone_id": row_id_of(label, number, 2 + 3 * zone), **_STAMP}
                if table == "zone":
                    held = {"job_id": job, "number": zone, **_STAMP}
                added = self.make(job, table, row_id, ADD, held)
                yield added
                before = added.id
                for change in range(PUTS if table == "zone" else 0):
                    put = self.make(job, table, row_id, "name", f"lawn {change}", before)
                    yield put
                    before = put.id


def entries_of_firm(count: int, label: int = 0) -> Iterator[Entry]:
    """So many entries, a property after the other; those of another `label` are others."""
    writers = [Writer(row_id_of(label, 0, 0, number + 1)) for number in range(LAPTOPS)]
    made = number = 0
    while True:
        for entry in writers[number % LAPTOPS].property(label, number):
            if made == count:
                return
            yield entry
            made += 1
        number += 1
