"""A disk that is full or read-only, on a real small file system: one sentence, nothing lost."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

import pytest
from click.testing import CliRunner
from crew import at_the_truck

from fieldbook.actions import cells as entering
from fieldbook.actions import rows
from fieldbook.actions.board.board import Board
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import new_property
from fieldbook.checks.finding import CellRef
from fieldbook.cli.main import main
from fieldbook.store.book import Book
from fieldbook.store.errors import BookError
from fieldbook.store.journal.text_journal import (
    append_lines,
    journal_path,
    last_complete,
    valid_entries,
)
from fieldbook.store.mending.verify import verify

_KIB = 1024


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A file system of 3 MiB; skips where one can't be mounted."""
    disk = tmp_path / "disk"
    disk.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "size=3m,mode=0700", "tmpfs", str(disk)]
    if not sys.platform.startswith("linux") or _run(mount):
        pytest.skip("no right to mount a small file system here")
    try:
        yield disk
    finally:
        assert not _run(["umount", "-l", str(disk)])


def _run(command: list[str]) -> int:
    try:
        return subprocess.run(command, capture_output=True, check=False).returncode
    except OSError:
        return 1


def fill(disk: Path, leave: int = 0) -> Path:
    """Fill the disk except for so many bytes; return the file that does it."""
    filler = disk / "filler"
    with filler.open("wb", buffering=0) as file:
        with suppress(OSError):
            while True:
                file.write(b"x" * _KIB)
        size = filler.stat().st_size
    with filler.open("r+b") as file:
        file.truncate(max(size - leave, 0))
    return filler


def begun(book: Book) -> OpenJob:
    book.laptop.set_initials("AB")
    return OpenJob(book, new_property(book, "12 Elm Street", "AB"), "AB")


@pytest.mark.parametrize("room_kib", [0, 16, 64, 160])
def test_a_full_disk_refuses_an_entry_and_keeps_every_one_before(
    small_disk: Path, room_kib: int
) -> None:
    path = small_disk / "book.sqlite"
    with Book(path) as book:
        open_job = begun(book)
        at = CellRef("note", rows.add_row(open_job, "note"), "text")
        entering.enter_text(open_job, at, "before")
        filler = fill(small_disk, room_kib * _KIB)
        kept, refused = "before", ""
        for number in range(400):
            text = f"{number} " + "long " * 70
            try:
                entering.enter_text(open_job, at, text)
            except BookError as why:
                refused = str(why)
                break
            kept = text.strip()
        assert refused.startswith("The entry was not kept")
        assert "check the disk" in refused
        assert "\n" not in refused
        assert open_job.job.notes[0].text == kept
        assert book.load(open_job.job_id).notes[0].text == kept
        filler.unlink()
        entering.enter_text(open_job, at, "after")
        assert open_job.undo()
        told = journal_path(path, book.origin)
        assert last_complete(told) == len(list(valid_entries(told)))
    assert verify(path).wrong == ()
    with Book(path) as book:
        assert book.load(open_job.job_id).notes[0].text == kept


def test_the_text_journal_takes_all_entries_of_a_commit_or_none(small_disk: Path) -> None:
    path = small_disk / "book.sqlite"
    with Book(path) as book:
        begun(book)
        text = journal_path(path, book.origin)
    entries = list(valid_entries(text))
    for room_kib in (4, 12, 40):
        filler = fill(small_disk, room_kib * _KIB)
        before = text.read_bytes()
        with pytest.raises(OSError, match="space"):
            append_lines(text, enumerate(entries * 2000, 1))
        assert text.read_bytes() == before
        filler.unlink()


def test_a_book_can_be_closed_and_opened_on_a_full_disk(small_disk: Path) -> None:
    path = small_disk / "book.sqlite"
    with Book(path) as book:
        job_id = begun(book).job_id
        filler = fill(small_disk)
    with Book(path) as book:
        assert book.load(job_id).job.address == "12 Elm Street"
    filler.unlink()
    with Book(path) as book:
        assert book.load(job_id).job.address == "12 Elm Street"


def test_the_board_shows_rows_that_a_full_disk_can_not_store(small_disk: Path) -> None:
    path = small_disk / "book.sqlite"
    with Book(path) as book:
        begun(book)
        for number in range(150):
            new_property(book, f"{number} Long Street " + "by the mill " * 20, "AB")
        filler = fill(small_disk)
        board = Board(book)
        lines = board.all_rows()
        assert len(lines) == len(book.jobs())
        assert all(line.known and "customer" in line.next for line in lines)
        assert len(book.board.stale_jobs("2000-01-01", 999)) == len(lines)
        assert len(board.listing().window(0, 5)) == 5
        while board.stale_count():
            assert board.catch_up(())
        assert board.listing().window(0, 999) != lines
        filler.unlink()
        assert board.all_rows() == lines
        assert book.board.stale_jobs("2000-01-01", 999) == []


def test_a_new_book_on_a_full_disk_is_one_sentence(small_disk: Path) -> None:
    filler = fill(small_disk)
    path = small_disk / "book.sqlite"
    answer = CliRunner().invoke(main, ["--book", str(path), "jobs"])
    assert answer.exit_code != 0
    assert "Traceback" not in answer.output
    assert len(answer.output.strip().splitlines()) <= 2
    assert "disk is full" in answer.output
    filler.unlink()
    assert CliRunner().invoke(main, ["--book", str(path), "jobs"]).exit_code == 0


def test_a_read_only_disk_is_one_sentence(small_disk: Path) -> None:
    path = small_disk / "book.sqlite"
    with Book(path) as book:
        begun(book)
    before = path.read_bytes()
    assert not _run(["mount", "-o", "remount,ro", str(small_disk)])
    assert CliRunner().invoke(main, ["--book", str(path), "jobs"]).exit_code == 0
    answer = CliRunner().invoke(main, ["--book", str(path), "exchange", str(small_disk)])
    assert answer.exit_code != 0
    assert "Traceback" not in answer.output
    assert len(answer.output.strip().splitlines()) <= 2
    assert path.read_bytes() == before


async def test_the_screen_reports_a_full_disk_and_keeps_the_old_value(small_disk: Path) -> None:
    path = small_disk / "book.sqlite"
    with Book(path) as book:
        begun(book)
    async with at_the_truck(path) as crew:
        await crew.press("enter")
        await crew.stand_on("supply", "static_psi")
        await crew.enter("62")
        filler = fill(small_disk)
        kept = 62
        for value in range(40, 100):
            await crew.stand_on("supply", "static_psi")
            await crew.enter(str(value))
            if "The entry was not kept" in crew.screen():
                break
            kept = value
        assert "The entry was not kept" in crew.screen()
        assert crew.open_job.job.supply is not None
        assert crew.open_job.job.supply.static_psi == kept
        filler.unlink()
        await crew.press("escape")
        await crew.stand_on("supply", "static_psi")
        await crew.enter("71")
        assert crew.open_job.job.supply is not None
        assert crew.open_job.job.supply.static_psi == 71
