"""Sound entries on their way into a new book: each once, in a file, given out oldest first.

The numbers of a new book's journal are given in the order of arrival, which undo goes by. The
sources hold their entries in orders of their own, so all of them are put in order first; in a file,
since a firm's book has more of them than fit in memory.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator, Sequence
from itertools import islice
from pathlib import Path
from types import TracebackType

from fieldbook.store.disk import new_private
from fieldbook.store.journal.entry import FIELDS, Entry, from_row, to_row
from fieldbook.store.mending.sound_entries import Found

_BATCH = 5_000
_COLUMNS = ", ".join(f'"{name}"' for name in ("id", *FIELDS))
_HELD = "SELECT id FROM entry WHERE id IN (SELECT value FROM json_each(?))"
_INSERT = f"INSERT OR IGNORE INTO entry VALUES ({', '.join('?' * (1 + len(FIELDS)))})"
_CACHE_KIB = 32_768
"""Ids are hashes, so each is stored on another page than the one before: they stay in memory."""


class Staging:
    """Entries in a file of their own, which is removed on leaving the block."""

    def __init__(self, path: Path) -> None:
        """Make the file at `path`, in place of one that was left there."""
        self._path = path
        # SQLite would create the file readable for others.
        new_private(path).close()
        self._file = sqlite3.connect(path, isolation_level=None)
        # Nothing in it needs to survive: a rebuild that was cut off is begun anew.
        self._file.execute("PRAGMA journal_mode=OFF")
        self._file.execute("PRAGMA synchronous=OFF")
        self._file.execute(f"PRAGMA cache_size=-{_CACHE_KIB}")
        self._file.execute(f"CREATE TABLE entry ({_COLUMNS}, PRIMARY KEY (id))")
        self._file.execute("BEGIN")

    def __enter__(self) -> Staging:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._file.close()
        self._path.unlink(missing_ok=True)

    def add(self, batch: Sequence[Found]) -> None:
        """Add what is sound of the entries that are lacking; only these are read and hashed."""
        asked = json.dumps([entry_id for entry_id, _ in batch])
        held = {row[0] for row in self._file.execute(_HELD, (asked,))}
        made = (make() for entry_id, make in batch if entry_id not in held)
        sound = [to_row(entry) for entry in made if entry is not None]
        self._file.executemany(_INSERT, sound)

    def batches(self) -> Iterator[list[Entry]]:
        """Every entry, by clock and id, in batches."""
        self._file.execute("COMMIT")
        rows = self._file.execute(f"SELECT {_COLUMNS} FROM entry ORDER BY clock, id")
        while batch := list(islice(rows, _BATCH)):
            yield [from_row(row) for row in batch]
