"""Laptops with a book in memory, for tests of the merge; their clocks may be years off."""

from __future__ import annotations

import json
import random
import weakref
from collections.abc import Iterable, Sequence
from datetime import UTC, datetime, timedelta
from functools import cache
from typing import Any

from fieldbook.records.base import natural_id
from fieldbook.records.column_values import column_accepts
from fieldbook.records.loaded_job import RECORDS
from fieldbook.store.changes import Act, Add, Change
from fieldbook.store.errors import BookError
from fieldbook.store.journal import history, receive, undo
from fieldbook.store.journal.commit import commit
from fieldbook.store.journal.entry import SELECT_ENTRIES, Entry, from_row
from fieldbook.store.journal.latest_versions import latest_of_row, parents_of_change, state_of
from fieldbook.store.journal.origin import start_origin
from fieldbook.store.lifecycle.connect import prepare_tables
from fieldbook.store.sqlite.book_connection import Connection

JOBS = ("j1", "j2")
"""Properties that any laptop may add with the same id, as when each imports one job file."""
START = datetime(2026, 5, 4, 8, tzinfo=UTC)


def _connection(image: bytes | None = None) -> Connection:
    connection = Connection(":memory:")
    # Laptops in memory are dropped, not closed; Python 3.13 warns of what is still open by then.
    weakref.finalize(connection, connection.raw.close)
    if image is not None:
        connection.raw.deserialize(image)
    connection.run("PRAGMA foreign_keys=ON")
    return connection


@cache
def empty_book() -> bytes:
    """The bytes of an empty book."""
    connection = _connection()
    with connection.begin():
        prepare_tables(connection)
    image = connection.raw.serialize()
    connection.close()
    return image


class Laptop:
    """One laptop: `years` is how far its clock is off."""

    def __init__(self, name: str, years: int = 0, image: bytes | None = None) -> None:
        self.name, self.years = name, years
        self.book = _connection(image or empty_book())
        self._ticks = 0

    def image(self) -> bytes:
        """The bytes of the book."""
        return self.book.raw.serialize()

    def become(self, image: bytes, *, noticed: bool) -> None:
        """Replace the book by a copy or a backup; with `noticed` it starts a new origin."""
        self.book.close()
        self.book = _connection(image)
        if noticed:
            with self.book.begin():
                start_origin(self.book)

    def act(self, job_id: str, changes: Sequence[Change]) -> None:
        """Commit changes as one act."""
        act = Act(job_id, self.name, "something", at=self._now())
        with self.book.begin():
            commit(self.book, act, changes)

    def add_job(self, job_id: str) -> None:
        """Add a property unless it is here."""
        if not self.row("job", job_id):
            self.act(job_id, [Add("job", job_id, {"address": f"{job_id} Elm Street"})])

    def undo(self, job_id: str) -> None:
        """Undo the last act, unless the book refuses."""
        with self.book.begin():
            target = history.undo_target(history.acts_of_job(self.book, job_id))
        if target is None:
            return
        act = Act(job_id, self.name, target.what, "undo", target.group_id, at=self._now())
        try:
            with self.book.begin():
                changes = undo.reversing_changes(self.book, act, target.group_id)
                commit(self.book, act, changes)
        except BookError:
            return

    def receive(self, entries: Iterable[Entry]) -> None:
        """Receive entries of another laptop."""
        with self.book.begin():
            receive.receive(self.book, entries, "another")

    def entries(self) -> list[Entry]:
        """Every entry, in the order in which they arrived."""
        with self.book.begin():
            rows = self.book.run(f"{SELECT_ENTRIES} ORDER BY n").all()
        return [from_row(row) for row in rows]

    def ids(self) -> set[str]:
        """The ids of the entries here."""
        return {entry.id for entry in self.entries()}

    def row(self, table: str, row_id: str) -> dict[str, Any]:
        """A row of the tables, or nothing."""
        query = f'SELECT * FROM "{table}" WHERE id = ?'
        with self.book.begin():
            return next(self.book.run(query, (row_id,)).dicts(), {})

    def tables(self) -> dict[str, list[dict[str, Any]]]:
        """Every row of the record."""
        found = {}
        with self.book.begin():
            for name in RECORDS:
                found[name] = [*self.book.run(f'SELECT * FROM "{name}" ORDER BY id').dicts()]
        return found

    def conflicts(self) -> set[tuple[str, str, str, str, str]]:
        """The stored conflicts: table, row, column, kind, and the ids of the entries as JSON."""
        query = 'SELECT "table", row_id, "column", kind, heads FROM conflict'
        with self.book.begin():
            rows = self.book.run(query).all()
        return {
            (row[0], row[1], row[2], row[3], json.dumps(sorted(json.loads(row[4])))) for row in rows
        }

    def check_latest_versions(self) -> None:
        """Assert that the stored latest versions are those that the merge finds."""
        with self.book.begin():
            query = 'SELECT "table", row_id, heads FROM row_heads'
            for table, row_id, _ in self.book.run(query).all():
                stored = latest_of_row(self.book, table, row_id)
                merged = state_of(self.book, table, row_id, column_accepts).latest
                for op in {*stored, *merged, "add"} - {""}:
                    assert parents_of_change(stored, op) == parents_of_change(merged, op), (
                        table,
                        row_id,
                        op,
                    )

    def _now(self) -> str:
        self._ticks += 1
        moment = START + timedelta(days=365 * self.years, seconds=self._ticks)
        return moment.isoformat(timespec="seconds")


def part_of(entries: Sequence[Entry], seed: int) -> list[Entry]:
    """Some of the entries in any order, some of them twice, as a bad connection delivers them."""
    pick = random.Random(seed)
    some = [one for one in entries if pick.random() < pick.choice((0.3, 0.7, 1.0))]
    some += pick.sample(some, k=min(2, len(some)))
    pick.shuffle(some)
    return some


def supply_of(job_id: str) -> str:
    """The row of a property's supply: the same on every laptop."""
    return natural_id(job_id, "supply")


def terminal_of(job_id: str, number: int) -> str:
    """The row of a terminal: the same on every laptop."""
    return natural_id(job_id, "terminal", str(number))
