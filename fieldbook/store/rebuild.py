"""Rebuild a damaged book from what is beside it: its text journals and its newest sound backup."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

from fieldbook.store.book import Book
from fieldbook.store.errors import BookError
from fieldbook.store.journal.entry import SELECT_ENTRIES, Entry, from_row
from fieldbook.store.journal.text_journal import journal_folder, readable_lines, valid_entries
from fieldbook.store.lifecycle.migrate import FIRST_WITH_JOURNAL, OldEntry, from_old_text
from fieldbook.store.lifecycle.verify import is_sound
from fieldbook.store.sqlite.backup import backups

_CAME_FROM = "rebuilt"
"""The place that the entries of a rebuilt book came from."""


def rebuild(path: Path, new: Path) -> int:
    """Make a new book at `new` from what is beside the book at `path`.

    Returns how many entries it holds. Nothing beside the damaged book is changed. Raises BookError.
    """
    if new.exists():
        raise BookError(f"{new} is there already: name a file that is not.")
    files = sorted(journal_folder(path).glob("*.jsonl"))
    entries = {entry.id: entry for file in files for entry in valid_entries(file)}
    entries.update((entry.id, entry) for entry in _backed_up(path))
    old = [] if entries else [entry for file in files for entry in _old_entries(file)]
    if not entries and not old:
        raise BookError(f"There is no journal at {journal_folder(path)}: nothing to rebuild from.")
    with Book(new) as book:
        if old:
            book.receive_old_log(old)
            return len(old)
        # Each file is named by the origin under which the book wrote it.
        book.adopt_origins(file.stem for file in files)
        in_order = sorted(entries.values(), key=lambda entry: entry.recency)
        return book.receive(in_order, _CAME_FROM).new


def _backed_up(path: Path) -> Iterator[Entry]:
    """The entries of the newest sound backup that has a journal of today's kind."""
    for copy in backups(path):
        if not is_sound(copy):
            continue
        with closing(sqlite3.connect(f"{copy.absolute().as_uri()}?mode=ro", uri=True)) as book:
            if book.execute("PRAGMA user_version").fetchone()[0] < FIRST_WITH_JOURNAL:
                continue
            yield from (from_row(row) for row in book.execute(f"{SELECT_ENTRIES} ORDER BY n"))
            return


def _old_entries(file: Path) -> Iterator[OldEntry]:
    """The changes in a text journal of the first kind, which had no clock."""
    for line in readable_lines(file):
        if "seq" in line and "clock" not in line:
            entry = from_old_text(line)
            if entry is not None:
                yield entry
