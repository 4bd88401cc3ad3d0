"""An attached file that goes missing is flagged by every screen and command, the board's too."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner
from crew import at_the_truck

from fieldbook.actions.board.board import Board
from fieldbook.actions.board.day_list import day_list
from fieldbook.actions.files.attach import attach
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import new_property
from fieldbook.checks.registry import counts
from fieldbook.cli.main import main
from fieldbook.store.attached import attached_path
from fieldbook.store.book import Book

ADDRESS, OTHER = "12 Elm Street", "3 Oak Court"


@pytest.fixture
def photo(book_file: Path, tmp_path: Path) -> Path:
    """The kept copy of a photo attached to one of two properties, both on the board already."""
    taken = tmp_path / "trench.jpg"
    taken.write_bytes(b"a photo")
    with Book(book_file) as book:
        book.laptop.set_initials("AB")
        new_property(book, OTHER, "AB")
        open_job = OpenJob(book, new_property(book, ADDRESS, "AB"), "AB")
        attach(open_job, "job", open_job.job_id, str(taken))
        (file,) = open_job.job.attachments
        assert open_job.findings == ()
        assert {row.flags for row in Board(book).all_rows()} == {"-"}
        return attached_path(book.path, file.sha256)


def run(book_file: Path, *words: str) -> str:
    """What a command prints."""
    told = CliRunner().invoke(main, ["--book", str(book_file), *words])
    assert told.exit_code == 0, told.output
    return told.output


def printed_flags(book_file: Path) -> str:
    printed = run(book_file, "check", ADDRESS)
    return printed if "FIX" in printed.upper().split() else "No flags."


def json_flags(book_file: Path) -> str:
    (found,) = json.loads(run(book_file, "check", "--json", ADDRESS))
    return " ".join(flag["code"] for flag in found["flags"]) or "No flags."


def job_list(book_file: Path) -> str:
    lines = run(book_file, "jobs").splitlines()
    (line,) = [one for one in lines if one.startswith(ADDRESS)]
    return line if "1 fix" in line else "No flags."


def day(book_file: Path) -> str:
    printed = run(book_file, "day")
    return printed if " fix" in printed else "No flags."


@pytest.mark.parametrize(
    ("command", "flagged"),
    [
        (printed_flags, "trench.jpg is missing"),
        (json_flags, "file missing"),
        (job_list, "1 fix"),
        (day, f"{ADDRESS}: 1 fix, 1 not checked"),
    ],
)
def test_a_command_flags_the_file_while_it_is_missing(
    book_file: Path, photo: Path, command: Callable[[Path], str], flagged: str
) -> None:
    assert "No flags." in command(book_file)
    content = photo.read_bytes()
    photo.unlink()
    assert flagged in command(book_file)
    photo.write_bytes(content)
    assert "No flags." in command(book_file)


def test_every_list_of_the_board_counts_it_without_an_entry(book_file: Path, photo: Path) -> None:
    with Book(book_file) as book:
        board = Board(book)
        listing, found = board.listing(), board.find("elm")
        photo.unlink()
        assert board.stale_count() == 0
        for rows in (listing.window(0, 9), board.all_rows()):
            assert [(row.address, row.flags) for row in rows] == [(ADDRESS, "1 fix"), (OTHER, "-")]
        (row,) = found.window(0, 9)
        assert row.flags == "1 fix"
        assert row.known
        flags = OpenJob(book, row.job_id, "AB").findings
        assert (row.stops, row.fixes, row.notes) == tuple(counts(flags).values())
        assert [due.words for due in day_list(book).flags] == [
            "1 fix, 1 not checked",
            "1 not checked",
        ]


def test_a_file_of_another_size_counts_too(book_file: Path, photo: Path) -> None:
    photo.write_bytes(b"something else")
    with Book(book_file) as book:
        assert [row.flags for row in Board(book).all_rows()] == ["1 fix", "-"]
    assert "is altered" in run(book_file, "check", ADDRESS)


async def test_the_board_and_the_job_show_it(book_file: Path, photo: Path) -> None:
    photo.unlink()
    async with at_the_truck(book_file) as crew:
        assert "1 fix" in crew.screen()
        await crew.open(ADDRESS, "desk")
        assert crew.flags == ["file missing"]
        assert "trench.jpg is missing beside" in " ".join(crew.screen().split())
