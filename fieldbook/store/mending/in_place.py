"""Put a rebuilt book where the damaged one was; the damaged one is kept beside it.

The new book is made whole under another name first, and takes its place last. Killed at any moment
before that, it is begun anew by the next call; killed between the two renames it leaves no book,
which opening refuses and the next call mends.
"""

from __future__ import annotations

import shutil
from dataclasses import dataclass
from pathlib import Path

from fieldbook.store.book import Book
from fieldbook.store.disk import replace, sync_folder
from fieldbook.store.errors import BookError
from fieldbook.store.journal.text_journal import journal_folder
from fieldbook.store.mending.rebuild import count_lost, fill_from, remove_book
from fieldbook.store.sqlite.lock import WriterLock


@dataclass(frozen=True)
class Rebuilt:
    """How many entries the new book holds, how many numbers of its own journal are missing.

    `kept` is where the damaged book is now; None where there was none.
    """

    entries: int
    missing: int
    kept: Path | None

    @property
    def sentence(self) -> str:
        """What was done, as a person reads it."""
        said = f"The book was made anew from {self.entries} entries."
        if self.missing:
            said += f" {self.missing} of its entries are in no copy: ask the other laptops."
        return said + (f" The damaged one is kept as {self.kept.name}." if self.kept else "")


def rebuild_in_place(path: Path) -> Rebuilt:
    """Make the book at `path` anew from what is sound beside it and in it.

    Raises BookHeldError where a program has it open, BookError where there is nothing to make it
    from; the old book then stays where it is.
    """
    lock = WriterLock(path)
    try:
        return _rebuild(path)
    except OSError as why:
        raise BookError(
            f"The book {path} could not be made anew ({why.strerror or why}): look at the disk."
        ) from why
    finally:
        lock.release()


def _rebuild(path: Path) -> Rebuilt:
    part = path.with_name(f"{path.name}.rebuilding")
    remove_book(part)
    try:
        with Book(part, scratch=True) as book:
            entries = fill_from(book, _with_cut_entry(path, part))
            missing = book.count_missing() + count_lost(path, book)
        if not entries:
            raise BookError(f"There is nothing beside {path} to make the book anew from.")
        journal_folder(path).mkdir(parents=True, exist_ok=True, mode=0o700)
        for text in journal_folder(part).glob("*.jsonl"):
            replace(text, journal_folder(path) / text.name)
        kept = _put_aside(path)
        replace(part, path)
    finally:
        remove_book(part)
        shutil.rmtree(_scratch(part), ignore_errors=True)
    sync_folder(path.parent)
    return Rebuilt(entries, missing, kept)


def _scratch(part: Path) -> Path:
    return part.with_name(f"{part.name}.source")


def _with_cut_entry(path: Path, part: Path) -> Path:
    """The book to read: `path`, or a copy of it on which SQLite may take back a cut-off entry.

    The copy sees the same journals and backups through links.
    """
    hot = path.with_name(f"{path.name}-journal")
    if not (path.is_file() and hot.exists()):
        return path
    folder = _scratch(part)
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(mode=0o700)
    copied = folder / path.name
    for file in (path, hot):
        shutil.copyfile(file, folder / file.name)
    for ending in (".journal", ".backups"):
        beside = path.with_name(f"{path.name}{ending}")
        if beside.is_dir():
            shutil.copytree(beside, folder / beside.name)
    return copied


def _put_aside(path: Path) -> Path | None:
    """Rename the old book, with what SQLite keeps beside it; returns its new path."""
    if not path.exists():
        return None
    number = 1
    while (kept := path.with_name(f"{path.stem}.damaged-{number}{path.suffix}")).exists():
        number += 1
    # First the unfinished transaction: SQLite would undo it in the new book otherwise.
    hot = path.with_name(f"{path.name}-journal")
    if hot.exists():
        replace(hot, kept.with_name(f"{kept.name}-journal"))
    replace(path, kept)
    return kept
