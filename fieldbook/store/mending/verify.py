"""Verify a book: its file, its journal, its rows, its text journal, its backups, attached files."""

from __future__ import annotations

import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from itertools import islice
from pathlib import Path

from fieldbook.store.errors import BookError
from fieldbook.store.journal.entry import FORMAT
from fieldbook.store.lifecycle.known_layout import APPLICATION_ID
from fieldbook.store.lifecycle.layout import difference, refuse_newer
from fieldbook.store.lifecycle.lost import what_is_beside
from fieldbook.store.mending.chosen_part import (
    not_come_back,
    stand_in_for_missing_tables,
    what_is_held,
)
from fieldbook.store.mending.sound_entries import open_damaged
from fieldbook.store.mending.verify_copies import differing_copies, differing_files
from fieldbook.store.mending.verify_journal import REBUILD, JournalRead
from fieldbook.store.mending.verify_rows import differing_rows
from fieldbook.store.mending.verify_seals import SealsRead
from fieldbook.store.sqlite.book_connection import UNREADABLE
from fieldbook.store.sqlite.lock import holder, is_held_beside

_MOST = 30
"""So many sentences are enough: a book with more wrong than that is made anew anyway."""


@dataclass(frozen=True)
class Report:
    """How many entries the journal holds, and a sentence for each thing that is wrong.

    `held` says which program has the book open; the book was then read as it was at one moment.
    `part` says which properties were verified, where the book does not hold all of them. `signed`
    says how many entries are signed by the laptop that made them.
    """

    entries: int
    wrong: tuple[str, ...]
    held: str = ""
    part: str = ""
    signed: str = ""


def verify(path: Path) -> Report:
    """Look a book over without changing it. That a file is no book at all is one wrong thing."""
    if not path.is_file():
        there = what_is_beside(path)
        mend = f", but beside it {there}: {REBUILD}" if there else ": name another with --book"
        return Report(0, (f"There is no book {path}{mend}.",))
    held = holder(path) if is_held_beside(path) else ""
    try:
        if not held:
            return _verify_file(path, path, held)
        # The app waits while a book is read; a copy is read without holding it up.
        with tempfile.TemporaryDirectory(prefix="fieldbook-verify-") as folder:
            copied = Path(folder) / "copy.sqlite"
            with closing(open_damaged(path)) as book, closing(sqlite3.connect(copied)) as copy:
                book.backup(copy)
            return _verify_file(copied, path, held)
    except UNREADABLE as why:
        # Read-only, SQLite can't roll back what a power cut interrupted.
        if path.with_name(f"{path.name}-journal").exists() and not held:
            return Report(0, ("An entry was cut off: open the book once, and it is whole.",))
        return Report(0, (f"The book {path} is damaged ({why}): {REBUILD}.",), held)


def _verify_file(file: Path, path: Path, held: str) -> Report:
    """Verify the book at `path` as it is in `file`, which may be a copy."""
    with closing(open_damaged(file)) as book:
        # So it is read much faster. Where a text is no UTF-8 all is read again, with what it holds.
        book.text_factory = str
        try:
            return _verify(book, path, held)
        except sqlite3.OperationalError as why:
            if not _is_no_text(why):
                raise
    with closing(open_damaged(file)) as book:
        return _verify(book, path, held)


def _is_no_text(why: Exception) -> bool:
    """Whether Python could not read a text of the file, which SQLite does not look at."""
    return "Could not decode to UTF-8" in str(why)


def _verify(book: sqlite3.Connection, path: Path, held: str) -> Report:
    found = book.execute("PRAGMA user_version").fetchone()[0]
    damage = [
        f"The book's file is damaged ({row[0]}): {REBUILD}."
        for row in book.execute("PRAGMA integrity_check(3)")
        if row[0] != "ok"
    ]
    if book.execute("PRAGMA application_id").fetchone()[0] != APPLICATION_ID:
        damage.append(f"The book's first page is spoilt: {REBUILD}.")
    if found != FORMAT:
        mend = "open it once, and it is brought up" if found < FORMAT else "update fieldbook"
        damage.append(f"The book has format {found} and this fieldbook writes {FORMAT}: {mend}.")
        return Report(0, tuple(damage), held)
    origin = book.execute("SELECT id FROM origin ORDER BY no DESC LIMIT 1").fetchone()
    stand_in_for_missing_tables(book)
    journal = JournalRead(book, path, origin[0] if origin else "")
    wrong = [*damage, *_guarded(journal.faults())]
    unready = _unready(book, path)
    wrong += [unready] if unready else _guarded(differing_rows(book, journal.unsealed))
    wrong += _guarded(not_come_back(book))
    wrong += _guarded(differing_copies(book, path))
    wrong += _guarded(differing_files(book, path))
    seals = SealsRead(book)
    wrong += _guarded(seals.faults())
    signed = seals.sentence(journal.entries)
    return Report(journal.entries, tuple(wrong), held, what_is_held(book), signed)


def _guarded(sentences: Iterator[str]) -> list[str]:
    """The first sentences; a page that can't be read ends them with one of its own."""
    found: list[str] = []
    try:
        found.extend(islice(sentences, _MOST))
    except UNREADABLE as why:
        if _is_no_text(why):
            raise
        found.append(f"A part of the book's file can't be read ({why}): {REBUILD}.")
    return found


def _unready(book: sqlite3.Connection, path: Path) -> str:
    """Why the rows can't be compared with the journal yet, or nothing."""
    differs = difference(book)
    try:
        refuse_newer(book, differs, path)
    except BookError as why:
        return str(why)
    if differs.missing:
        first = min(differs.missing)
        return f"The book lacks {first.table}.{first.name}: open it once, and it is brought up."
    waiting = book.execute("SELECT count(*) FROM outbox").fetchone()[0]
    return f"{waiting} changes are not sealed yet: open the book once." if waiting else ""
