"""Verify a book: its file, its journal, its rows, its text journal and its backups."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from fieldbook.records.column_values import column_accepts
from fieldbook.records.loaded_job import RECORDS
from fieldbook.store.errors import BookError
from fieldbook.store.journal.chain import is_whole, links
from fieldbook.store.journal.entry import FORMAT, SELECT_ENTRIES, Entry, from_row
from fieldbook.store.journal.merge import merge_row
from fieldbook.store.journal.receive import table_row
from fieldbook.store.journal.text_journal import journal_path, valid_entries
from fieldbook.store.lifecycle.layout import difference, refuse_newer
from fieldbook.store.sqlite.backup import backups
from fieldbook.store.sqlite.row_statements import column_list

_REBUILD = "make a new book with fieldbook rebuild NEW"


@dataclass(frozen=True)
class Report:
    """How many entries the journal holds, and a sentence for each thing that is wrong."""

    entries: int
    wrong: tuple[str, ...]


def verify(path: Path) -> Report:
    """Look a book over without changing it. That a file is no book at all is one wrong thing."""
    try:
        book = sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True, timeout=5)
    except sqlite3.Error as why:
        return Report(0, (f"The book {path} can't be read ({why}).",))
    try:
        book.row_factory = sqlite3.Row
        return _verify(book, path)
    except sqlite3.Error as why:
        # Read-only, SQLite can't roll back what a power cut interrupted.
        if path.with_name(f"{path.name}-journal").exists():
            return Report(0, ("An entry was cut off: open the book once, and it is whole.",))
        return Report(0, (f"The book {path} is damaged ({why}): {_REBUILD}.",))
    finally:
        book.close()


def _verify(book: sqlite3.Connection, path: Path) -> Report:
    wrong = [
        f"The book's file is damaged ({row[0]}): {_REBUILD}."
        for row in book.execute("PRAGMA integrity_check(3)")
        if row[0] != "ok"
    ]
    found = book.execute("PRAGMA user_version").fetchone()[0]
    if found != FORMAT:
        mend = "open it once, and it is brought up" if found < FORMAT else "update fieldbook"
        wrong.append(f"The book has format {found} and this fieldbook writes {FORMAT}: {mend}.")
        return Report(0, tuple(wrong))
    entries: list[Entry] = []
    for row in book.execute(f"{SELECT_ENTRIES} ORDER BY origin, seq, n"):
        try:
            entries.append(from_row(row))
        except ValueError:
            wrong.append(f"An entry of the journal can't be read: {_REBUILD}.")
    own = [row[0] for row in book.execute("SELECT id FROM origin ORDER BY no")]
    wrong += _broken_chain(entries, set(own))
    unready = _unready(book, path)
    # A damaged entry is reported above; what it says can't be made into a row.
    whole = [entry for entry in entries if is_whole(entry)]
    wrong += [unready] if unready else _differing_rows(book, whole)
    wrong += _missing_text(path, own[-1] if own else "", entries)
    wrong += [
        f"The backup {copy.name} is damaged: it is left out of a rebuild."
        for copy in backups(path)
        if not is_sound(copy)
    ]
    return Report(len(entries), tuple(wrong))


def _broken_chain(entries: list[Entry], own: set[str]) -> Iterator[str]:
    """A sentence for each entry that is not what was sealed, or does not follow the one before."""
    for link in links(entries, own):
        seq = link.entry.seq
        if link.fault == "altered":
            yield f"Entry {seq} of the journal is not what was sealed: {_REBUILD}."
        elif link.fault is not None:
            yield f"Entry {seq} of the journal does not follow entry {seq - 1}."


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


def _differing_rows(book: sqlite3.Connection, entries: list[Entry]) -> Iterator[str]:
    """Rows that are not what their entries make them."""
    by_row: dict[tuple[str, str], list[Entry]] = {}
    for entry in entries:
        by_row.setdefault((entry.table, entry.row_id), []).append(entry)
    states = {row: merge_row(of_row, column_accepts).values for row, of_row in by_row.items()}
    # The entries of a row wait until its property is here.
    jobs = {row_id for (table, row_id), values in states.items() if table == "job" and values}
    for name, record in RECORDS.items():
        expected = {
            row_id: table_row(name, row_id, values)
            for (of_table, row_id), values in states.items()
            if of_table == name
            and values is not None
            and (name == "job" or values.get("job_id") in jobs)
        }
        found = book.execute(f'SELECT {column_list(record)} FROM "{name}"')
        rows = {row["id"]: dict(row) for row in found}
        for row_id in sorted({*rows, *expected}):
            if rows.get(row_id) != expected.get(row_id):
                yield f"A row of {name} ({row_id}) is not what its entries make it: {_REBUILD}."


def _missing_text(path: Path, origin: str, entries: list[Entry]) -> Iterator[str]:
    """Whether the text journal of an origin lacks entries that the book holds."""
    file = journal_path(path, origin)
    written = {entry.id for entry in valid_entries(file)} if file.exists() else set()
    sound = len(written & {entry.id for entry in entries})
    if sound < len(entries):
        yield (
            f"The text journal {file.name} holds {sound} sound entries of {len(entries)}: move it "
            "away and open the book once, and it is written anew."
        )


def is_sound(path: Path) -> bool:
    """Whether SQLite finds a book, or a backup of one, whole."""
    try:
        copy = sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)
        try:
            return bool(copy.execute("PRAGMA integrity_check(1)").fetchone()[0] == "ok")
        finally:
            copy.close()
    except sqlite3.Error:
        return False
