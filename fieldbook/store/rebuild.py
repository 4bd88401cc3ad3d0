"""Rebuild a book from its newest sound backup and its text journals, or from these alone."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

from fieldbook.store.book import Book
from fieldbook.store.errors import BookError
from fieldbook.store.journal.entry import SELECT_ENTRIES, Entry, from_row
from fieldbook.store.journal.text_journal import journal_folder, readable_lines, valid_entries
from fieldbook.store.lifecycle.migrate import FIRST_MERGING, OldEntry, of_old_text
from fieldbook.store.lifecycle.verify import is_sound
from fieldbook.store.sqlite.backup import backups

REBUILT = "rebuilt"


def rebuild(path: Path, new: Path) -> int:
    """Make a new book at `new` from what is beside the book at `path`; the entries it holds.

    Nothing beside the damaged book is changed. Raises BookError with one sentence.
    """
    if new.exists():
        raise BookError(f"{new} is there already: name a file that is not.")
    files = sorted(journal_folder(path).glob("*.jsonl"))
    entries = {entry.id: entry for file in files for entry in valid_entries(file)}
    entries.update((entry.id, entry) for entry in _backed_up(path))
    log = [] if entries else [one for file in files for one in _old_lines(file)]
    if not entries and not log:
        raise BookError(f"There is no journal at {journal_folder(path)}: nothing to rebuild from.")
    with Book(new) as book:
        if log:
            book.receive_old_log(log)
            return len(log)
        # The files are named by the origins that the book wrote as.
        book.adopt_origins(file.stem for file in files)
        in_order = sorted(entries.values(), key=lambda one: one.recency)
        return book.receive(in_order, REBUILT).new


def _backed_up(path: Path) -> Iterator[Entry]:
    """The entries of the newest backup that is sound and has a journal of this kind."""
    for copy in backups(path):
        if not is_sound(copy):
            continue
        with closing(sqlite3.connect(f"{copy.absolute().as_uri()}?mode=ro", uri=True)) as book:
            if book.execute("PRAGMA user_version").fetchone()[0] < FIRST_MERGING:
                continue
            yield from (from_row(row) for row in book.execute(f"{SELECT_ENTRIES} ORDER BY n"))
            return


def _old_lines(file: Path) -> Iterator[OldEntry]:
    """The changes that a text journal of the first format tells."""
    for held in readable_lines(file):
        if "seq" in held and "clock" not in held:
            old = of_old_text(held)
            if old is not None:
                yield old
