"""The board of a book with thousands of properties: paged, found, opened, made anew meanwhile."""

from __future__ import annotations

import shutil
import sqlite3
from datetime import date
from pathlib import Path

import pytest
from big_book import DEMO, address, fill
from crew import Crew, at_the_truck

from fieldbook.actions import rows
from fieldbook.actions.board import board as board_module
from fieldbook.actions.board.board import Board
from fieldbook.actions.open_job import OpenJob
from fieldbook.screens.board import board_screen as screen_module
from fieldbook.screens.board.board_list import BoardList
from fieldbook.screens.board.board_screen import BoardScreen
from fieldbook.screens.job.job_screen import JobScreen
from fieldbook.store.book import Book

THOUSANDS = 2500
SIZES = ((80, 24), (120, 40), (60, 18))


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The book once every line is made."""
    folder = tmp_path_factory.mktemp("thousands")
    fill(folder / "book.sqlite", THOUSANDS)
    with Book(folder / "book.sqlite") as book:
        Board(book).all_rows()
    return folder


@pytest.fixture
def thousands(made: Path, book_file: Path) -> Path:
    """A copy of it."""
    shutil.copytree(made, book_file.parent)
    return book_file


@pytest.fixture
def unread(thousands: Path) -> Path:
    """A copy of which no line is made, as after a change of the book's format."""
    forget(thousands, 0)
    return thousands


def forget(path: Path, after: int) -> None:
    """Unmake the lines of the properties after one of this number, and what they are found by."""
    with sqlite3.connect(path) as raw:
        which = f"job_id > 'p{after:05}'"
        raw.execute(f"DELETE FROM words WHERE {which}")
        raw.execute(f"DELETE FROM board_line WHERE {which}")
    raw.close()


def listed(crew: Crew) -> BoardList:
    assert isinstance(crew.app.screen, BoardScreen)
    return crew.app.screen.query_one(BoardList)


def here(crew: Crew) -> str:
    """The address of the property highlighted, which is in sight."""
    line = listed(crew).line
    assert line is not None
    shown = [text[1:10] for text in crew.screen().splitlines()]
    assert line.address[:9] in shown
    return line.address


async def until_known(crew: Crew) -> None:
    """Until every line in view is made."""
    for _ in range(500):
        await crew.pilot.pause(0.01)
        if not listed(crew).unknown:
            await crew.pilot.pause()
            return
    raise AssertionError("the lines in view were not made")


@pytest.mark.parametrize("size", SIZES)
async def test_keys_go_anywhere_at_once(thousands: Path, size: tuple[int, int]) -> None:
    async with at_the_truck(thousands, size) as crew:
        assert f"{THOUSANDS} properties" in crew.screen()
        screenful = listed(crew).size.height
        assert here(crew) == address(1)
        await crew.press("end")
        assert here(crew) == DEMO
        assert address(THOUSANDS - 1)[:9] in crew.screen()
        await crew.press("up")
        assert here(crew) == address(THOUSANDS - 1)
        await crew.press("pageup", "pageup")
        assert here(crew) == address(THOUSANDS - 1 - 2 * screenful)
        await crew.press("pagedown")
        assert here(crew) == address(THOUSANDS - 1 - screenful)
        await crew.press("pagedown", "pagedown")
        assert here(crew) == DEMO
        await crew.press("down")
        assert here(crew) == address(1)
        await crew.press("up")
        assert here(crew) == DEMO
        await crew.press("home", "pagedown", "down", "down")
        assert here(crew) == address(1 + screenful + 2)
        assert len(listed(crew)._pages) < 12


async def test_a_wheel_shows_other_lines_and_a_click_opens_one(thousands: Path) -> None:
    async with at_the_truck(thousands) as crew:
        listed(crew).scroll_to(y=2000, animate=False)
        await crew.pilot.pause()
        assert address(2001)[:9] in crew.screen()
        assert listed(crew).line is not None
        await crew.pilot.hover(BoardList, offset=(9, 4))
        await crew.pilot.click(BoardList, offset=(9, 4))
        await crew.pilot.pause()
        assert crew.open_job.job.job.address == address(2005)
        await crew.press("ctrl+b")
        assert here(crew) == address(2005)


async def test_finding_lists_all_that_match_however_many(thousands: Path) -> None:
    async with at_the_truck(thousands) as crew:
        await crew.press("slash")
        await crew.enter("lawn")
        assert f"“lawn”: {THOUSANDS} found, Esc shows all." in crew.screen()
        await crew.press("end", "up")
        assert here(crew) == address(THOUSANDS - 1)
        await crew.press("slash")
        await crew.enter("customer 249")
        assert "found, Esc shows all" in crew.screen()
        assert here(crew) == address(THOUSANDS - 1)
        await crew.press("home")
        assert here(crew) == address(249)
        await crew.press("escape")
        assert here(crew) == address(249)
        await crew.press("down")
        assert here(crew) == address(250)
        await crew.press("slash")
        await crew.enter("nothing of it")
        assert "No property matches" in crew.screen()


async def test_one_opened_far_down_is_there_again_with_what_was_entered(thousands: Path) -> None:
    async with at_the_truck(thousands) as crew:
        await crew.press("end", "up", "up")
        before = here(crew)
        await crew.press("enter")
        assert crew.open_job.job.job.address == before
        await crew.go("desk")
        await crew.stand_on("job", "customer")
        await crew.enter("Q. Late")
        await crew.press("ctrl+b")
        assert here(crew) == before
        assert "Q. Late" in crew.screen()
        await crew.press("delete", "down", "enter")
        assert f"{THOUSANDS - 1} properties" in crew.screen()
        assert here(crew) == address(THOUSANDS - 1)
        await crew.press("u")
        assert here(crew) == before


async def test_the_first_page_is_read_first_then_where_the_crew_looks(
    unread: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # Never quiet: what is made is made for where the crew looks, however slow the machine is.
    monkeypatch.setattr("fieldbook.screens.app._QUIET_S", 1e9)
    async with at_the_truck(unread) as crew:
        assert "still to be read" in crew.screen()
        assert not listed(crew).unknown
        await crew.press("end")
        await until_known(crew)
        assert crew.book.board.stale_count() > THOUSANDS * 3 // 4
        assert here(crew) == DEMO
        assert "Hand over." in crew.screen()
        assert "Being read" not in crew.screen()


async def test_a_property_opens_at_its_next_step_though_its_line_is_unread(unread: Path) -> None:
    async with at_the_truck(unread) as crew:
        crew.app._catching_up = True
        listed(crew)._go(THOUSANDS // 2)
        line = listed(crew).line
        assert line is not None
        wanted = crew.book.board.current(line).place
        await crew.press("enter")
        assert isinstance(crew.app.screen, JobScreen)
        assert crew.place.place == wanted


async def test_what_is_read_meanwhile_is_found_and_told(
    thousands: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("fieldbook.screens.app._QUIET_S", 1e9)
    forget(thousands, THOUSANDS - 500)
    async with at_the_truck(thousands) as crew:
        await crew.pilot.pause(0.05)
        assert 0 < crew.book.board.stale_count() < 500
        listed(crew).screen.post_message(BoardScreen.Do("find", None))
        await crew.pilot.pause(0.05)
        assert "still to be read" in " ".join(crew.screen().replace("│", " ").split())
        monkeypatch.setattr("fieldbook.screens.app._QUIET_S", 0.0)
        await crew.enter("lawn")
        while crew.book.board.stale_count():
            await crew.pilot.pause(0.05)
        await crew.pilot.pause(0.05)
        assert "still to be read" not in crew.screen()
        assert f"“lawn”: {THOUSANDS} found" in crew.screen()


async def test_a_new_day_is_shown_while_the_board_is_open(
    thousands: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Later(date):
        @classmethod
        def today(cls) -> Later:
            return cls(2031, 3, 11)

    with Book(thousands) as book:
        rows.add_row(
            OpenJob(book, "p00001", "AB"), "crew_member", name="T. Gauge", expires_on="2031-03-10"
        )
    async with at_the_truck(thousands) as crew:
        board = crew.app.screen
        assert isinstance(board, BoardScreen)
        assert "1 fix" not in crew.screen()
        for module in (board_module, screen_module):
            monkeypatch.setattr(module, "date", Later)
        board._look_at_day()
        await crew.pilot.pause()
        await until_known(crew)
        assert "1 fix" in crew.screen()
