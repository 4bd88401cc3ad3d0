"""A book that is gone, empty or damaged is never opened as a new one; the app offers to mend it."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner
from crew import at_the_truck
from exported_jobs import exported

from fieldbook.cli.main import main
from fieldbook.screens.app import FieldbookApp
from fieldbook.screens.board.board_screen import BoardScreen
from fieldbook.screens.widgets.dialogs import Choose, Read
from fieldbook.store.book import Book
from fieldbook.store.errors import BookError, DamagedBookError
from fieldbook.store.lifecycle.copies import copies
from fieldbook.store.mending.in_place import rebuild_in_place
from fieldbook.store.mending.verify import verify


def spoil_header(path: Path) -> None:
    held = bytearray(path.read_bytes())
    held[70] ^= 4  # the application id, by which a book is told from other files
    path.write_bytes(held)


def from_the_future(path: Path) -> None:
    held = bytearray(path.read_bytes())
    held[60] ^= 64  # the format: a huge number, which no fieldbook has written
    path.write_bytes(held)


LOST: dict[str, Callable[[Path], object]] = {
    "gone": Path.unlink,
    "empty": lambda path: path.write_bytes(b""),
    "rubbish": lambda path: path.write_bytes(b"no longer a book" * 300),
    "cut": lambda path: path.write_bytes(path.read_bytes()[: path.stat().st_size // 2]),
    "owner": spoil_header,
    "format": from_the_future,
}


@pytest.mark.parametrize("how", LOST)
def test_a_lost_book_is_refused_untouched_and_made_anew_where_it_was(
    busy_book: Path, how: str
) -> None:
    before, sealed, kept = exported(busy_book), verify(busy_book).entries, copies(busy_book)
    LOST[how](busy_book)
    left = busy_book.read_bytes() if busy_book.exists() else None
    with pytest.raises(DamagedBookError) as why:
        Book(busy_book)
    assert "fieldbook rebuild --in-place" in str(why.value)
    assert "its text journal" in str(why.value)
    assert (busy_book.read_bytes() if busy_book.exists() else None) == left
    assert copies(busy_book) == kept
    assert verify(busy_book).wrong
    rebuilt = rebuild_in_place(busy_book)
    assert (rebuilt.entries, rebuilt.missing) == (sealed, 0)
    assert (rebuilt.kept.read_bytes() if rebuilt.kept else None) == left
    assert exported(busy_book) == before
    assert verify(busy_book).wrong == ()
    with Book(busy_book) as book:
        assert book.laptop.initials() == "AB"


def test_a_book_that_is_gone_with_its_journal_too_is_made_from_a_backup(busy_book: Path) -> None:
    before = exported(busy_book)
    for text in busy_book.with_name(f"{busy_book.name}.journal").iterdir():
        text.unlink()
    busy_book.unlink()
    with pytest.raises(DamagedBookError, match="is 1 backup"):
        Book(busy_book)
    rebuild_in_place(busy_book)
    assert exported(busy_book) == before


def test_a_book_of_which_nothing_is_left_is_a_new_one(book_file: Path) -> None:
    Book(book_file).close()
    with pytest.raises(BookError, match="nothing beside"):
        rebuild_in_place(book_file.with_name("never.sqlite"))
    assert not book_file.with_name("never.sqlite").exists()


def test_an_open_book_is_not_made_anew(busy_book: Path) -> None:
    with Book(busy_book), pytest.raises(BookError, match="already open"):
        rebuild_in_place(busy_book)


@pytest.mark.parametrize("left", ["part", "nothing", "both"])
def test_a_rebuild_that_was_interrupted_can_be_run_again(busy_book: Path, left: str) -> None:
    before = exported(busy_book)
    part = busy_book.with_name(f"{busy_book.name}.rebuilding")
    if left != "nothing":
        part.write_bytes(b"half a book")
        part.with_name(f"{part.name}.staging").write_bytes(b"half of it")
    if left != "part":
        busy_book.rename(busy_book.with_name("book.damaged-1.sqlite"))
    rebuild_in_place(busy_book)
    assert exported(busy_book) == before
    assert not list(busy_book.parent.glob("*.rebuilding*"))


def test_an_unfinished_transaction_goes_with_the_damaged_book(busy_book: Path) -> None:
    before = exported(busy_book)
    hot = busy_book.with_name(f"{busy_book.name}-journal")
    hot.write_bytes(b"\xd9\xd5\x05\xf9\x20\xa1\x63\xd7" + b"\0" * 504)
    rebuilt = rebuild_in_place(busy_book)
    assert rebuilt.kept is not None
    assert not hot.exists()
    assert exported(busy_book) == before


def test_a_rebuilt_book_finds_its_attached_files(busy_book: Path, tmp_path: Path) -> None:
    new = tmp_path / "elsewhere" / "new.sqlite"
    new.parent.mkdir()
    answer = CliRunner().invoke(main, ["--book", str(busy_book), "rebuild", str(new)])
    assert answer.exit_code == 0, answer.output
    assert verify(new).wrong == ()
    (file,) = new.with_name("new.sqlite.files").glob("??/*")
    file.write_text("Another permit", "utf-8")
    (said,) = verify(new).wrong
    assert '"permit.txt" was altered' in said
    file.unlink()
    assert '"permit.txt" is not here' in verify(new).wrong[0]


def test_the_command_wants_a_name_or_in_place(busy_book: Path) -> None:
    for words in (["rebuild"], ["rebuild", "new.sqlite", "--in-place"]):
        answer = CliRunner().invoke(main, ["--book", str(busy_book), *words])
        assert answer.exit_code == 2
        assert "--in-place" in answer.output
    answer = CliRunner().invoke(main, ["--book", str(busy_book), "rebuild", "--in-place"])
    assert "was made anew" in answer.output


def test_verify_beside_an_open_app_says_so_and_nothing_false(busy_book: Path) -> None:
    with Book(busy_book):
        found = verify(busy_book)
        answer = CliRunner().invoke(main, ["--book", str(busy_book), "verify"])
    assert found.wrong == ()
    assert found.held.startswith(f"process {os.getpid()}")
    assert answer.exit_code == 0
    assert "It is open in process" in answer.output


def shown(app: FieldbookApp) -> str:
    """The text on the screen."""
    return "\n".join(strip.text for strip in app.screen._compositor.render_strips())


async def test_the_app_offers_to_make_a_lost_book_anew(busy_book: Path) -> None:
    busy_book.unlink()
    app = FieldbookApp(busy_book)
    app.stops_on_fault = True
    async with app.run_test(size=(80, 24)) as pilot:
        while not isinstance(app.screen, Choose):
            await pilot.pause(0.02)
        await pilot.press("down", "enter")
        while not isinstance(app.screen, Read):
            await pilot.pause(0.02)
        await pilot.pause()
        assert "The book was made anew from" in shown(app)
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, BoardScreen)
        assert "12 Elm Street" in shown(app)
    assert verify(busy_book).wrong == ()


async def test_to_leave_a_lost_book_changes_nothing(busy_book: Path) -> None:
    busy_book.write_bytes(b"")
    app = FieldbookApp(busy_book)
    async with app.run_test(size=(80, 24)) as pilot:
        while not isinstance(app.screen, Choose):
            await pilot.pause(0.02)
        await pilot.press("enter")
        while app.return_code is None:
            await pilot.pause(0.02)
    assert app.return_code == 2
    assert busy_book.read_bytes() == b""


async def test_a_text_journal_that_can_not_be_written_is_told_once(
    busy_book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    async with at_the_truck(busy_book) as crew:
        await crew.press("enter")
        await crew.go("street")
        await crew.stand_on("supply", "static_psi")
        monkeypatch.setattr("fieldbook.store.journal.text_journal.append_lines", full)
        await crew.enter("61")
        await crew.wait_until(lambda: isinstance(crew.app.screen, Read))
        await crew.wait_until(lambda: "(No space left on" in crew.screen())
        await crew.press("escape")
        await crew.stand_on("supply", "static_psi")
        await crew.enter("63")
        assert not isinstance(crew.app.screen, Read)


def test_a_backup_that_can_not_be_written_is_told_after_closing(
    busy_book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("fieldbook.store.book.back_up_changes", full)
    with Book(busy_book) as book:
        job = book.jobs()[0]
        book.undo(job.id, by="AB")
    assert "could not be backed up (No space left on device)" in book.unwritten()
    assert book.unwritten() == ""


@pytest.mark.skipif(sys.platform == "win32", reason="Windows sends no such signals")
@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP])
def test_closing_the_window_backs_the_book_up(busy_book: Path, number: int) -> None:
    writing = [sys.executable, str(Path(__file__).with_name("an_app_to_end.py")), str(busy_book)]
    held = copies(busy_book)[0]
    with subprocess.Popen(writing, stdout=subprocess.PIPE, text=True) as app:
        assert app.stdout is not None
        assert app.stdout.readline() == "entered\n"
        app.send_signal(number)
        app.wait(60)
    assert held.later.exists()
    assert verify(busy_book).wrong == ()
    assert not busy_book.with_name(f"{busy_book.name}.held").exists()
