"""Receive entries made elsewhere, and rebuild the rows they touch from all of their entries."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass, field
from itertools import islice

from fieldbook.store.journal.append import insert_entries
from fieldbook.store.journal.entry import CLOCK_FOLLOWED_LIMIT, Entry
from fieldbook.store.journal.origin import advance_clock, current_origin, start_origin
from fieldbook.store.journal.put_away import came_back, is_any_away
from fieldbook.store.journal.row_rebuilding import rebuild_rows
from fieldbook.store.sqlite.book_connection import Connection

_BATCH = 500
"""Entries that are added by one statement."""
_JOINED_CHANGED = """
UPDATE board_line SET until = '' WHERE job_id IN (
  SELECT substr(job.joined_with, 1, instr(job.joined_with, ' ') - 1) FROM job
  WHERE job.joined_with IS NOT NULL AND job.id IN (SELECT value FROM json_each(?)))
"""
"""A property shows a flag where entries come to one that was joined with it."""
_KNOWN = "SELECT id FROM journal WHERE id IN (SELECT value FROM json_each(?))"


@dataclass
class Received:
    """How many entries were new, and the ids of those that wait for a parent.

    `unsigned` and `wrongly_signed` count those of the new ones whose maker nothing proves,
    `warnings` are sentences on what was refused or is in doubt (`seals/accepting.py`).
    """

    new: int = 0
    waiting: set[str] = field(default_factory=set)
    unsigned: int = 0
    wrongly_signed: int = 0
    warnings: list[str] = field(default_factory=list)

    def add(self, other: Received) -> None:
        """Count what another step received as well."""
        self.new += other.new
        self.waiting |= other.waiting
        self.unsigned += other.unsigned
        self.wrongly_signed += other.wrongly_signed
        self.warnings += other.warnings


def receive(connection: Connection, entries: Iterable[Entry], came_from: str) -> Received:
    """Add entries to the journal, in any order, inside the caller's transaction.

    Entries that are there already are passed over. `came_from` names the file or office.
    """
    received, rows, clock, jobs = Received(), set[tuple[str, str]](), 0, set[str]()
    own = current_origin(connection)
    copied, some_away = False, is_any_away(connection)
    left = iter(entries)
    while batch := list(islice(left, _BATCH)):
        new = _lacking(connection, batch)
        insert_entries(connection, new, came_from)
        received.new += len(new)
        for entry in new:
            rows.add((entry.table, entry.row_id))
            jobs.add(entry.job_id)
            clock = max(clock, entry.clock if entry.clock < CLOCK_FOLLOWED_LIMIT else 0)
            back = some_away and came_back(connection, entry.id)
            copied = copied or (entry.origin == own.id and not back)
    if copied:
        # Another book writes under our origin: it is a copy of this one, or this one is a copy.
        start_origin(connection)
    if rows:
        advance_clock(connection, clock)
        received.waiting = rebuild_rows(connection, rows)
        connection.run(_JOINED_CHANGED, (json.dumps(sorted(jobs)),))
    return received


def _lacking(connection: Connection, entries: Iterable[Entry]) -> list[Entry]:
    """Those of these entries that the journal lacks, each once, in their order."""
    by_id = {entry.id: entry for entry in entries}
    known = connection.run(_KNOWN, (json.dumps(list(by_id)),))
    for (entry_id,) in known.all():
        del by_id[entry_id]
    return list(by_id.values())
