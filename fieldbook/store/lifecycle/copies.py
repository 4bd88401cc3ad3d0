"""The backups of a book: whole copies, and beside each one the entries that came after it.

A whole copy of a large book takes long, so closing writes only what no backup holds yet: the new
entries are appended, as lines of a text journal, to a file beside the newest whole copy. Once these
are as many as the copy holds itself, the next backup is a whole copy again. So all copying together
is in proportion to what was entered.

Backups are ordered by how much of the journal they hold, never by their names or times: a clock
that was wrong once makes no backup look old.
"""

from __future__ import annotations

import sqlite3
import time
from collections.abc import Iterator
from contextlib import closing, suppress
from dataclasses import dataclass
from pathlib import Path

from fieldbook.store.journal.append import batch_after
from fieldbook.store.journal.entry import Entry
from fieldbook.store.journal.text_journal import append_lines, last_complete
from fieldbook.store.sqlite.backup import back_up, backup_files, backup_folder
from fieldbook.store.sqlite.book_connection import UNREADABLE, Connection

KEPT = 3
"""How many whole copies stay, each with the entries after it."""
_DAY_S = 24 * 3600


@dataclass(frozen=True, order=True)
class Copy:
    """A whole copy with its last entry (`number`, `entry_id`), and the file of those after it.

    `number` is 0 for a copy that can't be read, and for one of an older kind.
    """

    number: int
    path: Path
    entry_id: str = ""

    @property
    def later(self) -> Path:
        """The text file of the entries after it; it may not exist."""
        return self.path.with_suffix(".later.jsonl")


def copies(book: Path) -> list[Copy]:
    """The backups of a book, the one that holds most of the journal first."""
    return sorted((_read_copy(path) for path in backup_files(book)), reverse=True)


def newest_change(book: Path) -> float:
    """When the newest backup was written, in seconds since 1970; 0 where there is none."""
    times = [0.0]
    for path in backup_folder(book).glob("*"):
        with suppress(OSError):
            times.append(path.stat().st_mtime)
    return max(times)


def backed_up_today(book: Path) -> bool:
    """Whether a backup was written within a day; a time in the future says nothing."""
    return 0 <= time.time() - newest_change(book) < _DAY_S


def back_up_changes(connection: Connection, book: Path, why: str) -> None:
    """Write what no backup holds yet, a whole copy where that is due.

    `why` becomes part of the name of a whole copy. Raises OSError or sqlite3.Error; what is there
    already stays.
    """
    newest = _newest_of(connection, book)
    with connection.begin():
        last = int(connection.run("SELECT coalesce(max(n), 0) FROM journal").value())
    if newest is None or last > 2 * newest.number:
        kept = copies(book)
        whole = back_up(connection.raw, book, why)
        _delete_oldest(kept, whole)
        return
    for batch in _batches_after(connection, newest):
        append_lines(newest.later, batch)


def _newest_of(connection: Connection, book: Path) -> Copy | None:
    """The fullest copy of this very book, as its size says: to open each takes far longer.

    Where another one holds more, more is written than need be, and nothing else is worse.
    """
    sizes = {path: path.stat().st_size for path in backup_files(book)}
    found = map(_read_copy, sorted(sizes, key=lambda path: sizes[path], reverse=True))
    return next((copy for copy in found if _is_of(connection, copy)), None)


def _batches_after(connection: Connection, copy: Copy) -> Iterator[list[tuple[int, Entry]]]:
    """The entries after a copy that its text file lacks."""
    number = max(copy.number, last_complete(copy.later))
    while True:
        with connection.begin():
            batch = batch_after(connection, number, [])
        if not batch:
            return
        yield batch
        number = batch[-1][0]


def _is_of(connection: Connection, copy: Copy) -> bool:
    """Whether a copy numbers its entries as this book does, to its last one."""
    if not copy.number:
        return False
    query = "SELECT id FROM journal WHERE n = ?"
    with connection.begin():
        return bool(connection.run(query, (copy.number,)).value() == copy.entry_id)


def _read_copy(path: Path) -> Copy:
    uri = f"{path.absolute().as_uri()}?mode=ro"
    with suppress(*UNREADABLE, TypeError), closing(sqlite3.connect(uri, uri=True)) as copy:
        row = copy.execute("SELECT n, id FROM journal ORDER BY n DESC LIMIT 1").fetchone()
        if row is not None:
            return Copy(int(row[0]), path, str(row[1]))
    return Copy(0, path)


def _delete_oldest(kept: list[Copy], new: Path) -> None:
    """Delete all but the fullest copies. The new one stays even where others hold more."""
    for copy in [copy for copy in kept if copy.path != new][KEPT - 1 :]:
        copy.path.unlink(missing_ok=True)
        copy.later.unlink(missing_ok=True)
