"""Sound entries on their way into a new book: each once, in a file, given out oldest first.

The numbers of a new book's journal are given in the order of arrival, which undo goes by. The
sources hold their entries in orders of their own, so all of them are put in order first; in a file,
since a firm's book has more of them than fit in memory.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from itertools import islice
from pathlib import Path
from types import TracebackType

from fieldbook.store.disk import new_private
from fieldbook.store.journal.entry import Entry, as_dict
from fieldbook.store.journal.text_journal import line_of

_BATCH = 5_000


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
        self._file.execute("CREATE TABLE entry (id TEXT PRIMARY KEY, clock INTEGER, line TEXT)")
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

    def lacks(self, entry_id: str) -> bool:
        """Whether no entry with this id has been added."""
        query = "SELECT 1 FROM entry WHERE id = ?"
        return self._file.execute(query, (entry_id,)).fetchone() is None

    def add(self, entry: Entry) -> None:
        """Add an entry that is lacking."""
        values = (entry.id, entry.clock, line_of(as_dict(entry)))
        self._file.execute("INSERT INTO entry VALUES (?, ?, ?)", values)

    def batches(self) -> Iterator[list[Entry]]:
        """Every entry, by clock and id, in batches."""
        self._file.execute("COMMIT")
        rows = self._file.execute("SELECT line FROM entry ORDER BY clock, id")
        while batch := list(islice(rows, _BATCH)):
            yield [_entry(line) for (line,) in batch]


def _entry(line: str) -> Entry:
    """The entry of a line that was written here: its hash was compared before."""
    content = json.loads(line)
    content["parents"] = tuple(content["parents"])
    return Entry(**content)
