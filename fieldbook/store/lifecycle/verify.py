"""Verify a book: its file, its journal's chain, its rows against the journal, text and backups."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from sqlmodel import SQLModel

from fieldbook.records.column_values import column_accepts
from fieldbook.store.journal.entry import FIELDS, SELECT_ENTRIES, Entry, from_row, make_entry
from fieldbook.store.journal.merge import merge_row
from fieldbook.store.journal.receive import table_row
from fieldbook.store.journal.text_journal import journal_path, valid_entries
from fieldbook.store.lifecycle.migrate import FIRST_MERGING
from fieldbook.store.sqlite.backup import backups
from fieldbook.store.sqlite.triggers import CAPTURED


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
    found = book.execute("PRAGMA user_version").fetchone()[0]
    if found < FIRST_MERGING:
        wrong.append(f"The book has format {found}: open it once, and it is brought up.")
        return Report(0, tuple(wrong))
    entries = [from_row(row) for row in book.execute(f"{SELECT_ENTRIES} ORDER BY origin, seq, n")]
    own = [row[0] for row in book.execute("SELECT id FROM origin ORDER BY no")]
    wrong += _chain(entries, set(own))
    wrong += _rows_differ(book, entries)
    wrong += _text(path, own[-1] if own else "", entries)
    wrong += [
        f"The backup {one.name} is damaged: it is left out of a rebuild."
        for one in backups(path)
        if not is_sound(one)
    ]
    return Report(len(entries), tuple(wrong))


def _chain(entries: list[Entry], own: set[str]) -> Iterator[str]:
    """Entries whose id is not their content's, or that do not follow the one before.

    Of another laptop's entries some may not have come yet; of this book's own none is missing.
    """
    ids: dict[tuple[str, int], set[str]] = {}
    for entry in entries:
        ids.setdefault((entry.origin, entry.seq), set()).add(entry.id)
    for entry in entries:
        before = ids.get((entry.origin, entry.seq - 1), set())
        missing = entry.seq > 1 and not before
        if make_entry({name: getattr(entry, name) for name in FIELDS}).id != entry.id:
            yield f"Entry {entry.seq} of the journal is not what was sealed."
        elif (before and entry.prev not in before) or (missing and entry.origin in own):
            yield f"Entry {entry.seq} of the journal does not follow entry {entry.seq - 1}."


def _rows_differ(book: sqlite3.Connection, entries: list[Entry]) -> Iterator[str]:
    """Rows that are not as the journal tells them."""
    waiting = book.execute("SELECT count(*) FROM outbox").fetchone()[0]
    if waiting:
        yield f"{waiting} changes are not sealed yet: open the book once."
        return
    by_row: dict[tuple[str, str], list[Entry]] = {}
    for entry in entries:
        by_row.setdefault((entry.table, entry.row_id), []).append(entry)
    told = {row: merge_row(of_row, column_accepts) for row, of_row in by_row.items()}
    jobs = {row_id for (table, row_id), one in told.items() if table == "job" and one.values}
    for name in CAPTURED:
        table = SQLModel.metadata.tables[name]
        rows = {row["id"]: dict(row) for row in book.execute(f'SELECT * FROM "{name}"')}
        wanted = {
            row_id: table_row(table, row_id, state.values)
            for (of_table, row_id), state in told.items()
            if of_table == name
            and state.values is not None
            and (name == "job" or state.values.get("job_id") in jobs)
        }
        for row_id in sorted({*rows, *wanted}):
            if rows.get(row_id) != wanted.get(row_id):
                yield f"A row of {name} ({row_id}) is not as the journal tells it."


def _text(path: Path, origin: str, entries: list[Entry]) -> Iterator[str]:
    """A text journal that lacks what is sealed."""
    file = journal_path(path, origin)
    found = {entry.id for entry in valid_entries(file)} if file.exists() else set()
    held = len(found & {entry.id for entry in entries})
    if held < len(entries):
        yield (
            f"The text journal {file.name} holds {held} sound entries of {len(entries)}: move it "
            "away and open the book once, and it is written anew."
        )


def is_sound(path: Path) -> bool:
    """Whether a copy of a book is whole."""
    try:
        copy = sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)
        try:
            return bool(copy.execute("PRAGMA integrity_check(1)").fetchone()[0] == "ok")
        finally:
            copy.close()
    except sqlite3.Error:
        return False
