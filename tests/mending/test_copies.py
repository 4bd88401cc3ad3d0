"""Backups: what closing writes, what stays, which one counts as the fullest."""

from __future__ import annotations

import os
from pathlib import Path

from exported_jobs import exported

from fieldbook.actions import cells as entering
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import new_property
from fieldbook.checks.finding import CellRef
from fieldbook.store.book import Book
from fieldbook.store.lifecycle.copies import KEPT, backed_up_today, copies
from fieldbook.store.mending.in_place import rebuild_in_place
from fieldbook.store.mending.verify import verify
from fieldbook.store.sqlite.backup import backup_files, backup_folder


def enter(path: Path, *customers: str) -> None:
    """Open the book, enter each of these in one cell, and close it."""
    with Book(path) as book:
        open_job = OpenJob(book, book.jobs()[0].id, "AB")
        for customer in customers:
            entering.enter_text(open_job, CellRef("job", open_job.job_id, "customer"), customer)


def test_closing_writes_only_what_no_backup_holds_yet(busy_book: Path) -> None:
    (whole,) = copies(busy_book)
    size = whole.path.stat().st_size
    Book(busy_book).close()
    assert not whole.later.exists()
    enter(busy_book, "C 1")
    first = whole.later.read_bytes()
    enter(busy_book, "C 2")
    assert whole.later.read_bytes().startswith(first)
    assert len(whole.later.read_bytes()) < 3 * len(first)
    assert backup_files(busy_book) == [whole.path]
    assert whole.path.stat().st_size == size
    assert whole.later.stat().st_mode & 0o777 == 0o600
    for text in busy_book.with_name(f"{busy_book.name}.journal").iterdir():
        text.unlink()
    before = exported(busy_book)
    busy_book.unlink()
    for text in busy_book.with_name(f"{busy_book.name}.journal").iterdir():
        text.unlink()
    rebuild_in_place(busy_book)
    assert exported(busy_book) == before


def test_a_whole_copy_is_made_again_once_as_much_came_after_the_last(busy_book: Path) -> None:
    sealed = verify(busy_book).entries
    enter(busy_book, *(f"C {number}" for number in range(sealed + 1)))
    assert len(backup_files(busy_book)) == 2
    for _ in range(KEPT + 1):
        sealed = verify(busy_book).entries
        enter(busy_book, *(f"C {number}" for number in range(sealed + 1)))
    assert len(backup_files(busy_book)) == KEPT
    assert copies(busy_book)[0].number == verify(busy_book).entries


def test_a_clock_that_was_wrong_makes_no_backup_look_old(busy_book: Path) -> None:
    (whole,) = copies(busy_book)
    early = whole.path.with_name("19990101-000000-000000-closed.sqlite")
    whole.path.rename(early)
    os.utime(early, (0, 0))
    small = busy_book.with_name("small.sqlite")
    Book(small).close()
    late = early.with_name("20990101-000000-000000-closed.sqlite")
    late.write_bytes(small.read_bytes())
    assert copies(busy_book)[0].path == early
    assert backed_up_today(busy_book)
    os.utime(late, (4e9, 4e9))
    assert not backed_up_today(busy_book)
    enter(busy_book, "C 1")
    assert copies(busy_book)[0].later.exists()


def test_a_copy_of_another_book_is_never_added_to(busy_book: Path) -> None:
    other = busy_book.with_name("other.sqlite")
    with Book(other) as book:
        for number in range(9):
            new_property(book, f"{number} Oak Street", "CD")
    (own,), (alien,) = copies(busy_book), copies(other)
    own.path.unlink()
    alien.path.rename(own.path)
    enter(busy_book, "C 1")
    assert not own.later.exists()
    assert len(backup_files(busy_book)) == 2
    assert any(copy.number == verify(busy_book).entries for copy in copies(busy_book))


def test_what_a_killed_program_left_half_written_is_cleared(busy_book: Path) -> None:
    left = backup_folder(busy_book) / "20260101-000000-000000.part"
    left.write_bytes(b"half")
    for path in backup_files(busy_book):
        path.unlink()
    enter(busy_book, "C 1")
    assert not left.exists()
