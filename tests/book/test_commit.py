"""A commit an entry: on disk when it returns, whole or not at all, with who and when."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import new_property
from fieldbook.checks.finding import CellRef
from fieldbook.records.ids import once_id
from fieldbook.store.book import Book
from fieldbook.store.changes import Add, Put
from fieldbook.store.errors import BookError

HOT_JOURNAL = bytes.fromhex("d9d505f920a163d7")
"""SQLite file format, section 3: how a journal begins that would roll the last entry back."""


@pytest.fixture
def job_id(book: Book) -> str:
    return new_property(book, "12 Elm Street", "AB")


def static(job_id: str) -> CellRef:
    """The cell of the static pressure."""
    return CellRef("supply", once_id(job_id, "supply"), "static_psi")


def put(job_id: str, value: float | None) -> list[Put]:
    """The change that enters a static pressure."""
    at = static(job_id)
    return [Put(at.table, at.row_id, at.column, value)]


def on_disk(path: Path, tmp_path: Path, query: str) -> list[tuple[object, ...]]:
    """What a copy of the file holds, as a power cut now would leave it."""
    copy = tmp_path / "copy.sqlite"
    copy.write_bytes(path.read_bytes())
    reader = sqlite3.connect(copy)
    try:
        return reader.execute(query).fetchall()
    finally:
        reader.close()


def test_an_entry_is_on_disk_when_commit_returns(
    book: Book, job_id: str, book_file: Path, tmp_path: Path
) -> None:
    assert book.commit(job_id, put(job_id, 62.0), by="AB", what="static pressure 62 psi")
    assert on_disk(book_file, tmp_path, "SELECT static_psi, entered_by FROM supply") == [
        (62.0, "AB")
    ]
    journal = book_file.with_name(book_file.name + "-journal")
    assert not journal.exists() or not journal.read_bytes().startswith(HOT_JOURNAL)


def test_the_log_has_who_when_old_and_new(book: Book, job_id: str) -> None:
    book.commit(job_id, put(job_id, 60.0), by="AB", what="static pressure 60 psi")
    book.commit(job_id, put(job_id, 62.0), by="CD", what="static pressure 62 psi")
    at = static(job_id)
    first, newest = book.past_values(job_id, at.row_id, at.column)
    assert (first.who, first.value) == ("AB", 60.0)
    assert (newest.who, newest.value) == ("CD", 62.0)
    assert newest.wall >= first.wall


def test_the_same_value_again_writes_nothing(book: Book, job_id: str, book_file: Path) -> None:
    book.commit(job_id, put(job_id, 62.0), by="AB", what="static pressure")
    before = book_file.read_bytes()
    assert not book.commit(job_id, put(job_id, 62.0), by="AB", what="static pressure")
    assert book_file.read_bytes()[100:] == before[100:]


def test_an_act_is_kept_whole_or_not_at_all(book: Book, job_id: str) -> None:
    doubled = [Add("zone", "z1", {"number": 1}), Add("zone", "z1", {"number": 2})]
    with pytest.raises(BookError, match=r"not kept.*\.$"):
        book.commit(job_id, doubled, by="AB", what="zones")
    assert book.load(job_id).zones == ()
    assert book.count_undoable(job_id) == 0
    assert book.commit(job_id, doubled[:1], by="AB", what="zone")


def test_a_property_that_is_not_there_is_one_sentence(book: Book) -> None:
    with pytest.raises(BookError, match=r"\.$"):
        book.load("no such job")


def test_work_is_checked_again_after_every_entry(book: Book, job_id: str) -> None:
    open_job = OpenJob(book, job_id, "AB")
    open_job.commit(put(job_id, 95.0), "static pressure")
    assert [flag.code for flag in open_job.findings] == ["static too high"]
    open_job.commit(put(job_id, 62.0), "static pressure")
    assert open_job.findings == ()


def test_the_colours_of_the_screen_and_the_initials_are_remembered(book_file: Path) -> None:
    with Book(book_file) as book:
        book.laptop.set_initials("AB")
        book.laptop.set_theme("glare")
        book.laptop.set_initials("CD")
    with Book(book_file) as book:
        assert (book.laptop.initials(), book.laptop.theme()) == ("CD", "glare")


def test_what_a_table_refuses_is_not_blamed_on_the_disk(book: Book, job_id: str) -> None:
    with pytest.raises(BookError, match=r"UNIQUE.*: nothing was changed\.$"):
        book.commit(job_id, [Add("zone", "a", {}), Add("zone", "a", {})], by="AB", what="zones")
    assert book.load(job_id).zones == ()
