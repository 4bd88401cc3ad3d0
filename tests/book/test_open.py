"""Opening a book: safe settings, a private file, one holder, and refusals that touch nothing."""

from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

from fieldbook.actions.properties import new_property
from fieldbook.store.book import Book
from fieldbook.store.errors import BookError, BookHeldError
from fieldbook.store.journal.entry import FORMAT
from fieldbook.store.paths import BOOK_NAME, book_path


def setting(book: Book, name: str) -> object:
    """The value of a PRAGMA on the book's own connection."""
    return book._connection.run(f"PRAGMA {name}").value()


def test_a_new_book_is_made_private_with_its_folder(book: Book, book_file: Path) -> None:
    assert book_file.stat().st_mode & 0o777 == 0o600
    assert book_file.parent.stat().st_mode & 0o077 == 0
    assert book.jobs() == []


def test_a_book_that_others_could_read_is_made_private(book_file: Path) -> None:
    Book(book_file).close()
    book_file.chmod(0o644)
    Book(book_file).close()
    assert book_file.stat().st_mode & 0o777 == 0o600


def test_the_settings_that_survive_a_power_cut_are_in_force(book: Book) -> None:
    # SQLite documentation, PRAGMA synchronous: EXTRA (3) also syncs the folder of the journal.
    assert setting(book, "journal_mode") == "delete"
    assert setting(book, "synchronous") == 3
    # SQLite's own locks last for a transaction; the book's lock file keeps other writers out.
    assert setting(book, "locking_mode") == "normal"
    assert setting(book, "foreign_keys") == 1
    assert setting(book, "user_version") == FORMAT


def test_a_second_process_is_told_at_once_who_holds_the_book(book: Book, book_file: Path) -> None:
    assert book.jobs() == []
    told = subprocess.run(
        [sys.executable, "-m", "fieldbook", "--book", str(book_file), "exchange", "."],
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert told.returncode == 2
    assert "already open (process " in told.stderr
    assert "close fieldbook there first" in told.stderr
    assert "Traceback" not in told.stderr


def test_a_second_opening_is_refused_and_the_first_goes_on(book: Book, book_file: Path) -> None:
    with pytest.raises(BookHeldError, match="already open"):
        Book(book_file)
    new_property(book, "12 Elm Street", "AB")
    assert [job.address for job in book.jobs()] == ["12 Elm Street"]


def test_a_closed_book_can_be_opened_again(book_file: Path) -> None:
    with Book(book_file) as first:
        first.laptop.set_initials("AB")
        new_property(first, "12 Elm Street", "AB")
    assert not book_file.with_name(book_file.name + ".held").exists()
    with Book(book_file) as again:
        assert [job.address for job in again.jobs()] == ["12 Elm Street"]
        assert again.laptop.initials() == "AB"


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (
            lambda path: path.write_bytes(b"My notes on the Elm Street job\n" * 40),
            "not a fieldbook",
        ),
        (
            lambda path: sqlite3.connect(path).execute("CREATE TABLE t (a)").connection.close(),
            "other",
        ),
        (lambda path: path.mkdir(), "is no file"),
        (lambda path: os.mkfifo(path, 0o644), "is no file"),
        (lambda path: path.symlink_to("/dev/null"), "is no file"),
    ],
)
def test_a_file_that_is_no_book_is_refused_and_left_alone(
    tmp_path: Path, make: object, said: str
) -> None:
    path = tmp_path / "thing"
    assert callable(make)
    make(path)
    before = path.read_bytes() if path.is_file() else b""
    with pytest.raises(BookError, match=said) as why:
        Book(path)
    assert str(why.value).endswith(".")
    assert (path.read_bytes() if path.is_file() else b"") == before


def test_a_newer_book_is_refused_untouched(book_file: Path) -> None:
    Book(book_file).close()
    newer = sqlite3.connect(book_file)
    newer.execute(f"PRAGMA user_version={FORMAT + 1}")
    newer.close()
    before = book_file.read_bytes()
    with pytest.raises(BookError, match="update fieldbook"):
        Book(book_file)
    assert book_file.read_bytes() == before


def test_a_folder_that_cannot_be_made_is_one_sentence(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(BookError, match=r"can't be opened .*--book\.$"):
        Book(tmp_path / "file" / "book.sqlite")


def test_the_option_then_the_variable_then_the_data_folder_names_the_book(tmp_path: Path) -> None:
    told = {"FIELDBOOK_BOOK": str(tmp_path / "b")}
    assert book_path(None, {}).name == BOOK_NAME
    assert book_path(None, told) == tmp_path / "b"
    assert book_path(str(tmp_path / "a"), told) == tmp_path / "a"
