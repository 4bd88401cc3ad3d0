"""Make a book anew from every sound entry beside it: text journals, backups, the book itself."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterable, Iterator
from contextlib import closing, suppress
from pathlib import Path

from fieldbook.store.attached import attached_folder, hash_of, is_hash, path_in
from fieldbook.store.book import Book
from fieldbook.store.errors import BookError
from fieldbook.store.journal.text_journal import journal_folder, readable_lines
from fieldbook.store.lifecycle.copies import copies
from fieldbook.store.lifecycle.migrate import OldEntry, from_old_text
from fieldbook.store.mending.chosen_part import read_holding
from fieldbook.store.mending.sound_entries import (
    Found,
    entries_of_book,
    entries_of_text,
    open_damaged,
)
from fieldbook.store.mending.staging import Staging
from fieldbook.store.seals.sealing import REBUILT
from fieldbook.store.sqlite.backup import backup_folder
from fieldbook.store.sqlite.book_connection import UNREADABLE


def rebuild(path: Path, new: Path) -> int:
    """Make a new book at `new` from what is beside the book at `path`, and from the book itself.

    Returns how many entries it holds. Nothing beside the damaged book is changed. Attached files
    whose hash is right are copied. Raises BookError.
    """
    if new.exists():
        raise BookError(f"{new} is there already: name a file that is not.")
    with Book(new) as book:
        entries = fill_from(book, path, put_away_too=True)
    if not entries:
        remove_book(new)
        raise BookError(f"There is no journal at {journal_folder(path)}: nothing to rebuild from.")
    _copy_files(attached_folder(path), attached_folder(new))
    return entries


def fill_from(book: Book, path: Path, *, put_away_too: bool = False) -> int:
    """Put every sound entry of the book at `path` in a new book; returns how many there are.

    Properties that were put away stay so, unless `put_away_too`: then what backups still have of
    them comes too.
    """
    files = _texts(path)
    # Each file is named by the origin under which the book wrote it.
    book.adopt_origins(file.stem for file in files)
    carried, part = read_holding([path, *(copy.path for copy in copies(path))])
    entries = 0
    with Staging(book.path.with_name(f"{book.path.name}.staging")) as staging:
        for found in _all_found(path, files):
            staging.add(found)
        for batch in staging.batches():
            here = [one for one in batch if put_away_too or not part.leaves_out(one)]
            entries += book.receive(here, REBUILT).new
    if not entries:
        old = [entry for file in files for entry in _old_entries(file)]
        if old:
            book.receive_old_log(old)
        entries = len(old)
    book.keeping.carry(carried)
    _carry_settings(path, book)
    _carry_seals(path, book)
    return entries


def count_lost(path: Path, book: Book) -> int:
    """How many entries the book at `path`, or a backup, had written after the last that is here.

    The table of origins says how far each had come, and with which entry. It counts only where both
    say so: a spoilt number alone does not.
    """
    found: dict[str, int] = {}
    reached = book.last_seqs()
    for source in [path, *(copy.path for copy in copies(path))]:
        with suppress(*UNREADABLE, OSError), closing(open_damaged(source)) as old:
            for origin, seq, last in old.execute("SELECT id, seq, last FROM origin"):
                beyond = int(seq) - reached.get(str(origin), 0)
                if beyond > 0 and not book.shared.entries_with_ids([str(last)]):
                    found[str(origin)] = max(found.get(str(origin), 0), beyond)
    return sum(found.values())


def remove_book(path: Path) -> None:
    """Remove a book that was being made, with what is beside it."""
    for ending in ("", "-journal", ".lock", ".held"):
        path.with_name(f"{path.name}{ending}").unlink(missing_ok=True)
    for folder in (journal_folder(path), backup_folder(path)):
        shutil.rmtree(folder, ignore_errors=True)


def _texts(path: Path) -> list[Path]:
    """The text journals of a book, the largest first: a newer origin's file holds all entries."""
    sizes = {file: file.stat().st_size for file in journal_folder(path).glob("*.jsonl")}
    return sorted(sizes, key=lambda file: (-sizes[file], file.name))


def _all_found(path: Path, files: Iterable[Path]) -> Iterator[list[Found]]:
    """What every source holds. Most is in the first; a later one only adds what that lacks."""
    for file in files:
        yield from entries_of_text(file)
    for copy in copies(path):
        yield from entries_of_book(copy.path)
    # Of a whole copy that was lost the lines after it are still there.
    for later in sorted(backup_folder(path).glob("*.later.jsonl")):
        yield from entries_of_text(later)
    if path.is_file():
        yield from entries_of_book(path)


def _old_entries(file: Path) -> Iterator[OldEntry]:
    """The changes in a text journal of the first kind, which had no clock."""
    for line in readable_lines(file):
        if "seq" in line and "clock" not in line:
            entry = from_old_text(line)
            if entry is not None:
                yield entry


def _carry_seals(path: Path, book: Book) -> None:
    """Take over what proves who made the entries, from the old book and its copies."""
    for source in [path, *(copy.path for copy in copies(path))]:
        with suppress(*UNREADABLE, OSError), closing(open_damaged(source)) as old:
            book.laptops.carry_from(old)


def _carry_settings(path: Path, book: Book) -> None:
    """Take over initials and theme from the old book, or a copy; they are no part of the record."""
    for source in [path, *(copy.path for copy in copies(path))]:
        with suppress(*UNREADABLE, OSError), closing(open_damaged(source)) as old:
            query = "SELECT initials FROM person ORDER BY id"
            people = [str(row[0]) for row in old.execute(query) if row[0]]
            for initials in people:
                book.laptop.set_initials(initials)
            look = old.execute("SELECT look FROM laptop").fetchone()
            if people and look and look[0]:
                book.laptop.set_theme(str(look[0]))
            if people:
                return


def _copy_files(there: Path, here: Path) -> None:
    """Copy the attached files that are what their names, their hashes, say."""
    for file in there.glob("??/*"):
        copy = path_in(here, file.name)
        with suppress(OSError):
            if not is_hash(file.name) or copy.exists() or hash_of(file) != file.name:
                continue
            copy.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
            try:
                os.link(file, copy)
            except OSError:
                shutil.copyfile(file, copy)
                copy.chmod(0o600)
