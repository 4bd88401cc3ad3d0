"""Verify what lies beside a book: its backups by content, its attached files by hash."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from itertools import chain
from pathlib import Path

from fieldbook.store.attached import attached_path, hash_of, is_hash
from fieldbook.store.journal.entry import FIELDS, SELECT_ENTRIES
from fieldbook.store.journal.text_journal import readable_lines, valid_entry
from fieldbook.store.lifecycle.copies import Copy, copies
from fieldbook.store.mending.sound_entries import entry_of
from fieldbook.store.mending.verify_journal import REBUILD
from fieldbook.store.sqlite.book_connection import UNREADABLE

_SAME = " AND ".join(f'b."{name}" IS j."{name}"' for name in ("id", *FIELDS))
# The book's own entries were compared with their hashes before: what equals them is sound too. Most
# have the same number in both, and are read in that order; only others are looked up by their id.
_DIFFERING = (
    SELECT_ENTRIES.replace("journal.", "b.").replace("FROM journal", "FROM copy.journal b")
    + f" LEFT JOIN main.journal j ON j.n = b.n WHERE NOT ({_SAME})"
    + f" AND NOT EXISTS (SELECT 1 FROM main.journal j WHERE j.id = b.id AND {_SAME})"
    # A backup still has the properties that were put away since.
    + " AND b.job_id NOT IN (SELECT job_id FROM not_here)"
)
_LEFT_OUT = "what is damaged in it is left out of a rebuild"


def differing_copies(book: sqlite3.Connection, path: Path) -> Iterator[str]:
    """A sentence for each backup that is damaged, or holds entries that the book lacks."""
    for copy in copies(path):
        yield from _differing_copy(book, copy)


def _differing_copy(book: sqlite3.Connection, copy: Copy) -> Iterator[str]:
    name = copy.path.name
    if not is_readable(copy.path):
        yield f"The backup {name} is damaged: {_LEFT_OUT}."
        return
    spoilt = lacking = 0
    for entry_id in chain(_differing_entries(book, copy), _later_entries(book, copy)):
        if entry_id is None:
            spoilt += 1
        elif not _has(book, entry_id):
            lacking += 1
    if spoilt:
        yield f"{spoilt} entries in the backup {name} are not what was sealed: {_LEFT_OUT}."
    if lacking:
        yield f"The backup {name} holds {lacking} entries that the book lacks: {REBUILD}."


def _differing_entries(book: sqlite3.Connection, copy: Copy) -> Iterator[str | None]:
    """The ids of entries in a whole copy that are not as in the book; None for a spoilt one."""
    if not copy.number:
        return
    book.execute("ATTACH ? AS copy", (f"{copy.path.absolute().as_uri()}?mode=ro",))
    try:
        for row in book.execute(_DIFFERING).fetchall():
            yield row[0] if entry_of(row) is not None else None
    finally:
        book.execute("DETACH copy")


def _later_entries(book: sqlite3.Connection, copy: Copy) -> Iterator[str | None]:
    """The ids of the entries in the lines after a whole copy; None for a spoilt one."""
    far = {row[0] for row in book.execute("SELECT job_id FROM not_here")}
    if copy.later.exists():
        for line in readable_lines(copy.later):
            if "n" in line:
                entry = valid_entry(line)
                if entry is None or entry.job_id not in far:
                    yield entry.id if entry is not None else None


def _has(book: sqlite3.Connection, entry_id: str) -> bool:
    return book.execute("SELECT 1 FROM journal WHERE id = ?", (entry_id,)).fetchone() is not None


def is_readable(path: Path) -> bool:
    """Whether SQLite finds a book, or a backup of one, whole."""
    try:
        with closing(sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)) as copy:
            return bool(copy.execute("PRAGMA quick_check(1)").fetchone()[0] == "ok")
    except UNREADABLE:
        return False


def differing_files(book: sqlite3.Connection, path: Path) -> Iterator[str]:
    """A sentence for each attached file that is missing or is not what was attached."""
    query = "SELECT name, sha256 FROM attachment GROUP BY sha256 ORDER BY name"
    for name, sha256 in book.execute(query):
        if not is_hash(sha256):
            continue
        file = attached_path(path, sha256)
        shown = json.dumps(name or "without a name", ensure_ascii=False)
        try:
            if hash_of(file) != sha256:
                yield f"The attached file {shown} was altered: get it from another laptop's copy."
        except OSError:
            yield f"The attached file {shown} is not here: an exchange brings it from the others."
