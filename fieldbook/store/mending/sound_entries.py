"""Every entry that is still what was sealed, from a file that may be damaged anywhere.

An entry counts only when its id is the hash of its content, whatever file it comes from: a spoilt
letter in a backup never replaces what the text journal holds.
"""

from __future__ import annotations

import json
import re
import sqlite3
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing, suppress
from functools import partial
from itertools import islice
from pathlib import Path
from typing import Any

from fieldbook.store.journal.entry import FIELDS, SELECT_ENTRIES, Entry, EntryError, from_dict
from fieldbook.store.journal.text_journal import read_line, valid_entry
from fieldbook.store.lifecycle.migrate import FIRST_WITH_JOURNAL
from fieldbook.store.sqlite.book_connection import UNREADABLE

Found = tuple[str, Callable[[], Entry | None]]
"""The id that an entry claims, and a function that gives the entry if its hash is right.

So only what is lacking is read and hashed: of several sources most hold what the first one held.
The function is called before the next batch is asked for: a source that ends closes its file.
"""
_BATCH = 500
_CACHE_KIB = 32_768
_MOST_EMPTY = 20
"""So many batches in a row without a readable entry end the search: a spoilt number may be huge."""
_PARENTS = FIELDS.index("parents") + 1
_BETWEEN = "WHERE n BETWEEN ? AND ? ORDER BY n"
_IDS = f"SELECT n, journal.id FROM journal {_BETWEEN}"
_WHOLE = f"{SELECT_ENTRIES} {_BETWEEN}"
_CLAIMED = re.compile(rb'\{"n":\d{1,18},"id":"([0-9a-f]{64})",')
"""The start of a line of a text journal, with the id: most lines are of entries held already."""


def open_damaged(path: Path) -> sqlite3.Connection:
    """A book's file for reading alone. Text that is no UTF-8 is read too, and fails its hash."""
    book = sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True, timeout=5)
    try:
        # Indexes are read out of order; with less, each of their pages is read again and again.
        book.execute(f"PRAGMA cache_size=-{_CACHE_KIB}")
    except sqlite3.Error:
        book.close()
        raise
    book.text_factory = lambda raw: raw.decode("utf-8", "surrogateescape")
    return book


def entry_of(row: Sequence[Any]) -> Entry | None:
    """The entry of a row that SELECT_ENTRIES read, or None if it is not what was sealed."""
    content = dict(zip(("id", *FIELDS), row, strict=True))
    try:
        content["parents"] = json.loads(row[_PARENTS])
        return from_dict(content)
    except (EntryError, ValueError, TypeError, RecursionError):
        return None


def entries_of_book(path: Path) -> Iterator[list[Found]]:
    """Every entry of a book or a backup, in batches, in the order in which they arrived.

    Pages that can't be read are passed over. A file that is no book at all has none.
    """
    with suppress(*UNREADABLE, OSError), closing(open_damaged(path)) as book:
        if book.execute("PRAGMA user_version").fetchone()[0] < FIRST_WITH_JOURNAL:
            return
        yield from _in_batches(book)


def entries_of_text(path: Path) -> Iterator[list[Found]]:
    """Every entry of a text journal, in batches, in the order of its lines."""
    with path.open("rb") as file:
        while lines := list(islice(file, _BATCH)):
            yield [(_claimed_id(line), partial(_entry_of_line, line)) for line in lines]


def _claimed_id(line: bytes) -> str:
    """The id in a line; "" where it is not as it was written, which no entry has."""
    claimed = _CLAIMED.match(line)
    return claimed.group(1).decode("ascii") if claimed else ""


def _entry_of_line(line: bytes) -> Entry | None:
    content = read_line(line)
    return None if content is None else valid_entry(content)


def _in_batches(book: sqlite3.Connection) -> Iterator[list[Found]]:
    """Batches by number; of a batch that can't be read, each entry alone."""
    # Where even this fails the file's own list of tables is spoilt, and no entry can be read.
    book.execute("SELECT 1 FROM journal LIMIT 0")
    last, empty = _last_number(book), 0
    first = 1
    while first <= last and empty < _MOST_EMPTY:
        ids = _read(book, _IDS, first, first + _BATCH - 1)
        if ids is None:
            ids = [
                row
                for number in range(first, first + _BATCH)
                for row in _read(book, _IDS, number, number) or ()
            ]
        empty = 0 if ids else empty + 1
        yield [(str(entry_id), partial(_entry_at, book, number)) for number, entry_id in ids]
        first += _BATCH


def _entry_at(book: sqlite3.Connection, number: int) -> Entry | None:
    """The entry with a number; None where it can't be read, or is not what was sealed."""
    rows = _read(book, _WHOLE, number, number)
    return entry_of(rows[0]) if rows else None


def _read(
    book: sqlite3.Connection, query: str, first: int, last: int
) -> list[tuple[Any, ...]] | None:
    try:
        return book.execute(query, (first, last)).fetchall()
    except UNREADABLE:
        return None


def _last_number(book: sqlite3.Connection) -> int:
    """The highest number; where its page can't be read, more than any book has."""
    try:
        return int(book.execute("SELECT coalesce(max(n), 0) FROM journal").fetchone()[0])
    except (*UNREADABLE, TypeError, ValueError):
        return 1 << 40
