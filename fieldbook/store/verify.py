"""Verify a book: its file, its journal's chain, its rows against the journal, text and backups.

And rebuild one: from the newest sound backup and the text journal, or from the text journal alone.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from fieldbook.store.backup import backups
from fieldbook.store.book import Book
from fieldbook.store.capture import CAPTURED
from fieldbook.store.errors import BookError
from fieldbook.store.replay import Rows, replay
from fieldbook.store.seal import entry_id
from fieldbook.store.text_journal import journal_path, sound_entries


@dataclass(frozen=True)
class Report:
    """What was found: how many entries are sealed, and a sentence for each thing that is wrong."""

    sealed: int
    wrong: tuple[str, ...]


def verify(path: Path) -> Report:
    """Look a book over without changing it. A file that is no book is one wrong thing."""
    try:
        book = sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True, timeout=0)
    except sqlite3.Error as why:
        return Report(0, (f"The book {path} can't be read ({why}).",))
    try:
        book.row_factory = sqlite3.Row
        return _verify(book, path)
    except sqlite3.Error as why:
        if path.with_name(f"{path.name}-journal").exists():
            return Report(0, ("An entry was cut off: open the book once, and it is whole.",))
        mend = "rebuild it: fieldbook rebuild NEW"
        return Report(0, (f"The book {path} is damaged ({why}): {mend}.",))
    finally:
        book.close()


def _verify(book: sqlite3.Connection, path: Path) -> Report:
    wrong = [
        f"The book's file is damaged: {row[0]}."
        for row in book.execute("PRAGMA integrity_check(3)")
        if row[0] != "ok"
    ]
    entries = [dict(row) for row in book.execute("SELECT * FROM journal ORDER BY origin, seq")]
    wrong += _chain(entries)
    wrong += _rows_differ(book, replay(entries))
    wrong += _text(path, entries)
    wrong += [
        f"The backup {one.name} is damaged: it is left out of a rebuild."
        for one in backups(path)
        if not _sound(one)
    ]
    return Report(len(entries), tuple(wrong))


def _chain(entries: list[dict[str, Any]]) -> Iterator[str]:
    """Entries whose id is not their content's, or that do not follow the one before."""
    last: dict[str, tuple[int, str]] = {}
    for entry in entries:
        seq, prev = last.get(entry["origin"], (0, ""))
        if entry_id(entry) != entry["id"]:
            yield f"Entry {entry['seq']} of the journal is not what was sealed."
        elif (entry["seq"], entry["prev"]) != (seq + 1, prev):
            yield f"Entry {entry['seq']} of the journal does not follow entry {seq}."
        last[entry["origin"]] = entry["seq"], entry["id"]


def _rows_differ(book: sqlite3.Connection, told: Rows) -> Iterator[str]:
    """Rows that are not as the journal tells them."""
    waiting = book.execute("SELECT count(*) FROM outbox").fetchone()[0]
    if waiting:
        yield f"{waiting} changes are not sealed yet: open the book once."
        return
    for table in CAPTURED:
        rows = {
            row["id"]: {key: row[key] for key in row.keys() if row[key] is not None}  # noqa: SIM118
            for row in book.execute(f'SELECT * FROM "{table}"')
        }
        for row_id in sorted({*rows, *told[table]}):
            if rows.get(row_id) != told[table].get(row_id):
                yield f"A row of {table} ({row_id}) is not as the journal tells it."


def _text(path: Path, entries: list[dict[str, Any]]) -> Iterator[str]:
    """A text journal that lacks or tells otherwise what is sealed."""
    by_origin: dict[str, list[str]] = {}
    for entry in entries:
        by_origin.setdefault(entry["origin"], []).append(entry["id"])
    for origin, ids in by_origin.items():
        file = journal_path(path, origin)
        found = [entry["id"] for entry in sound_entries(file)] if file.exists() else []
        if found != ids:
            yield (
                f"The text journal {file.name} holds {len(found)} sound entries of {len(ids)}: "
                "open the book once, and it is written up."
            )


def _sound(path: Path) -> bool:
    try:
        copy = sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)
        try:
            return bool(copy.execute("PRAGMA integrity_check(1)").fetchone()[0] == "ok")
        finally:
            copy.close()
    except sqlite3.Error:
        return False


def rebuild(path: Path, new: Path) -> int:
    """Make a new book at `new` from the text journals beside the book at `path`; entries used.

    Neither the damaged book nor its journal is changed. Raises BookError with one sentence.
    """
    if new.exists():
        raise BookError(f"{new} is there already: name a file that is not.")
    folder = path.with_name(f"{path.name}.journal")
    files = sorted(folder.glob("*.jsonl"))
    entries = [entry for file in files for entry in sound_entries(file)]
    if not entries:
        raise BookError(f"There is no journal at {folder}: nothing to rebuild from.")
    rows = replay(entries)
    with Book(new) as book:
        book.take_rows(rows, "rebuilt")
    return len(entries)
