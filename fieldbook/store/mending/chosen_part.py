"""What verify and rebuild know of a book that holds a part of the firm's properties.

Of a property that is not here no entry is missing: not in the book, not in the chain of an origin.
A property that was put away is not made anew from an old backup either, which has an old state of
it; but an entry that was written here and not put away since is never left out.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import closing, suppress
from dataclasses import dataclass, field
from pathlib import Path

from fieldbook.store.holding.keeping import CARRIED, Carried
from fieldbook.store.journal.entry import Entry
from fieldbook.store.mending.sound_entries import open_damaged
from fieldbook.store.sqlite.book_connection import UNREADABLE

_TABLES = {
    "not_here": "job_id, off_board",
    "put_away_entry": "id, origin, seq, job_id",
    "keeping": "id, since",
    "seal": "origin, job_id, upto, ids, key, name, at, signature, wrong",
}
_NOT_BACK = """
SELECT count(*) FROM put_away_entry p
WHERE EXISTS (SELECT 1 FROM journal WHERE journal.job_id = p.job_id)
"""


def stand_in_for_missing_tables(book: sqlite3.Connection) -> None:
    """Give a book of an older fieldbook these tables, empty and for this connection alone."""
    for table, columns in _TABLES.items():
        if not _has_table(book, table):
            book.execute(f"CREATE TEMP TABLE {table} ({columns})")


def _has_table(book: sqlite3.Connection, table: str) -> bool:
    query = "SELECT 1 FROM sqlite_schema WHERE type = 'table' AND name = ?"
    return book.execute(query, (table,)).fetchone() is not None


def what_is_held(book: sqlite3.Connection) -> str:
    """What a book of chosen properties holds, and so what was verified; "" for a whole firm's."""
    far = book.execute("SELECT count(*) FROM not_here").fetchone()[0]
    chosen = book.execute("SELECT count(*) FROM keeping").fetchone()[0]
    if not (far or chosen):
        return ""
    here = book.execute("SELECT count(*) FROM job").fetchone()[0]
    return (
        f"This laptop holds {here} of {here + far} properties: those were checked. Of the others "
        "it has a line, and nothing else was looked at."
    )


def not_come_back(book: sqlite3.Connection) -> Iterator[str]:
    """A sentence where a property is here again, but not all that was written of it here."""
    count = book.execute(_NOT_BACK).fetchone()[0]
    if count:
        yield (
            f"{count} entries that were put away have not come back with their properties: "
            "exchange with the office or the stick that has them."
        )


@dataclass
class PutAwayPart:
    """Of the book that is made anew: the properties that are not here, and what was put away."""

    jobs: set[str] = field(default_factory=set)
    put_away: set[str] = field(default_factory=set)
    origins: set[str] = field(default_factory=set)

    def leaves_out(self, entry: Entry) -> bool:
        """Whether an entry, as in an old backup, is of a property that is not here."""
        if entry.job_id not in self.jobs:
            return False
        return entry.origin not in self.origins or entry.id in self.put_away


def read_holding(sources: Iterable[Path]) -> tuple[Carried, PutAwayPart]:
    """What the first source that can be read says: the old book, then its backups."""
    for source in sources:
        with suppress(*UNREADABLE, OSError), closing(open_damaged(source)) as old:
            carried = {
                table: old.execute(f"SELECT {', '.join(columns)} FROM {table}").fetchall()
                for table, columns in CARRIED.items()
            }
            part = PutAwayPart(
                {row[0] for row in old.execute("SELECT job_id FROM not_here")},
                {row[0] for row in old.execute("SELECT id FROM put_away_entry")},
                {row[0] for row in old.execute("SELECT id FROM origin")},
            )
            return carried, part
    return {}, PutAwayPart()
