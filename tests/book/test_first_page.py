"""The first page of the board, read before the record is imported and the book is open."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from crew import at_the_truck
from textual.app import App

from fieldbook.actions.board.board import Board
from fieldbook.actions.board.board_row import FirstPage
from fieldbook.actions.properties import fill_demo
from fieldbook.screens.app import FieldbookApp
from fieldbook.screens.board.board_list import BoardList
from fieldbook.screens.board.board_screen import BoardScreen
from fieldbook.store.book import Book


@pytest.fixture
def full(book_file: Path) -> Path:
    """A book with the demo properties, its board rows made."""
    with Book(book_file) as book:
        book.laptop.set_initials("AB")
        fill_demo(book)
        Board(book).all_rows()
    return book_file


def test_it_lists_what_the_open_board_lists(full: Path) -> None:
    page = FirstPage(full)
    with Book(full) as book:
        rows = Board(book).all_rows()
    assert list(page.window(0, 60)) == rows
    assert [page.index_of(row.job_id) for row in rows] == list(range(len(rows)))
    assert list(page.window(1, 2)) == rows[1:3]
    assert page.index_of("nobody") is None


@pytest.mark.parametrize(
    "content", [None, b"", b"no book at all", b"SQLite format 3\x00" + b"x" * 99]
)
def test_what_cannot_be_read_is_an_empty_page_and_stays_as_it_was(
    tmp_path: Path, content: bytes | None
) -> None:
    path = tmp_path / "a #? book.sqlite"
    if content is not None:
        path.write_bytes(content)
    assert len(FirstPage(path)) == 0
    assert (path.read_bytes() if path.exists() else None) == content
    assert [*tmp_path.iterdir()] == ([path] if content is not None else [])


def test_it_is_read_without_the_record_and_without_sqlalchemy(full: Path) -> None:
    program = (
        "import sys; from pathlib import Path; import fieldbook.screens.app;"
        "from fieldbook.actions.board.board_row import FirstPage;"
        f"assert len(FirstPage(Path({str(full)!r}))) == 6;"
        "print([name for name in sys.modules"
        " if name.split('.')[0] in ('sqlalchemy', 'sqlmodel', 'pydantic')"
        " or name.startswith('fieldbook.records')])"
    )
    ran = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True
    )
    assert ran.stdout.strip() == "[]"


async def test_rows_are_there_and_keys_move_and_open_before_the_book_is_open(
    full: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    waiting: list[bool] = []

    def later(_app: App[None], *, demo: bool) -> None:
        waiting.append(demo)

    opening = FieldbookApp.open_book
    monkeypatch.setattr(FieldbookApp, "open_book", later)
    app = FieldbookApp(full)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert waiting == [False]
        assert isinstance(app.screen, BoardScreen)
        board = app.screen.query_one(BoardList)
        assert board.row is not None
        assert board.row.address == "14 Alder Lane"
        await pilot.press("down", "enter")
        await pilot.pause()
        assert isinstance(app.screen, BoardScreen)
        opening(app, demo=False)
        while app._book is None:
            await pilot.pause(0.01)
        await pilot.pause()
        (job,) = [screen for screen in app.screen_stack if hasattr(screen, "open_job")]
        assert job.open_job.job.job.address == "208 Quarry Road"


async def test_the_whole_board_takes_the_place_of_the_first_page(full: Path) -> None:
    async with at_the_truck(full) as crew:
        assert "6 properties" in crew.screen()
        await crew.press("down", "down", "down", "enter")
        assert crew.open_job.job.job.address == "31 Mill Street"
