"""The board of a large book: it is read by pages and searched, and rows are made anew meanwhile."""

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

COUNT = 600
TENTH = COUNT // 10 - 1
"""A number whose digits are also the first ones of the last property's number."""
SIZES = ((80, 24), (120, 40), (60, 18))


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of a book of which every board row is made."""
    folder = tmp_path_factory.mktemp("large")
    fill(folder / "book.sqlite", COUNT)
    with Book(folder / "book.sqlite") as book:
        Board(book).all_rows()
    return folder


@pytest.fixture
def large(made: Path, book_file: Path) -> Path:
    """A copy of that book."""
    shutil.copytree(made, book_file.parent)
    return book_file


@pytest.fixture
def stale(large: Path) -> Path:
    """A copy in which every board row is stale, as after a change of the book's format."""
    forget(large, 0)
    return large


def forget(path: Path, after: int) -> None:
    """Drop the board rows and search words of the properties after this number."""
    with sqlite3.connect(path) as raw:
        which = f"job_id > 'p{after:05}'"
        raw.execute(f"DELETE FROM words WHERE {which}")
        raw.execute(f"DELETE FROM board_line WHERE {which}")
    raw.close()


def listed(crew: Crew) -> BoardList:
    assert isinstance(crew.app.screen, BoardScreen)
    return crew.app.screen.query_one(BoardList)


def here(crew: Crew) -> str:
    """The address of the highlighted property, which must be in sight."""
    line = listed(crew).row
    assert line is not None
    marked = [text for text in crew.screen().splitlines() if text.startswith("> ")]
    assert [text[2:11] for text in marked] == [line.address[:9]]
    return line.address


async def until_known(crew: Crew) -> None:
    """Let the app work until every row in view is made."""
    await crew.wait_until(lambda: not listed(crew).stale_in_view)


@pytest.mark.parametrize("size", SIZES)
async def test_keys_go_anywhere_at_once(large: Path, size: tuple[int, int]) -> None:
    async with at_the_truck(large, size) as crew:
        assert f"{COUNT} properties" in crew.screen()
        screenful = listed(crew).size.height
        assert here(crew) == address(1)
        await crew.press("end")
        assert here(crew) == DEMO
        assert address(COUNT - 1)[:9] in crew.screen()
        await crew.press("up")
        assert here(crew) == address(COUNT - 1)
        await crew.press("pageup", "pageup")
        assert here(crew) == address(COUNT - 1 - 2 * screenful)
        await crew.press("pagedown")
        assert here(crew) == address(COUNT - 1 - screenful)
        await crew.press("pagedown", "pagedown")
        assert here(crew) == DEMO
        # The list doesn't wrap around at its ends.
        await crew.press("down")
        assert here(crew) == DEMO
        await crew.press("home", "up")
        assert here(crew) == address(1)
        await crew.press("pagedown", "down", "down")
        assert here(crew) == address(1 + screenful + 2)
        assert len(listed(crew)._pages) < 12


async def test_a_wheel_shows_other_lines_and_a_click_opens_one(large: Path) -> None:
    async with at_the_truck(large) as crew:
        listed(crew).scroll_to(y=400, animate=False)
        await crew.pilot.pause()
        assert address(401)[:9] in crew.screen()
        assert listed(crew).row is not None
        await crew.pilot.hover(BoardList, offset=(9, 4))
        await crew.pilot.click(BoardList, offset=(9, 4))
        await crew.pilot.pause()
        assert crew.open_job.job.job.address == address(405)
        await crew.press("ctrl+b")
        assert here(crew) == address(405)


async def test_a_search_lists_every_match_however_many(large: Path) -> None:
    async with at_the_truck(large) as crew:
        await crew.press("slash")
        await crew.enter("lawn")
        assert f"“lawn”: {COUNT} found, Esc shows all." in crew.screen()
        await crew.press("end", "up")
        assert here(crew) == address(COUNT - 1)
        await crew.press("slash")
        await crew.enter(f"customer {TENTH}")
        assert "found, Esc shows all" in crew.screen()
        assert here(crew) == address(COUNT - 1)
        await crew.press("home")
        assert here(crew) == address(TENTH)
        await crew.press("escape")
        assert here(crew) == address(TENTH)
        await crew.press("down")
        assert here(crew) == address(TENTH + 1)
        await crew.press("slash")
        await crew.enter("zzz nowhere")
        assert "No property matches" in crew.screen()


async def test_a_property_opened_far_down_stays_highlighted_after_an_entry(
    large: Path,
) -> None:
    async with at_the_truck(large) as crew:
        await crew.press("end", "up", "up")
        before = here(crew)
        await crew.press("enter")
        assert crew.open_job.job.job.address == before
        await crew.go("street")
        await crew.stand_on("job", "customer")
        await crew.enter("Q. Late")
        await crew.press("ctrl+b")
        assert here(crew) == before
        assert "Q. Late" in crew.screen()
        await crew.press("delete", "down", "enter")
        assert f"{COUNT - 1} properties" in crew.screen()
        assert here(crew) == address(COUNT - 1)
        await crew.press("ctrl+z")
        assert here(crew) == before


async def test_the_first_page_is_made_first_then_the_page_in_view(
    stale: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # The app never counts as quiet, so that only rows in view are made, on a slow machine too.
    monkeypatch.setattr("fieldbook.screens.app._QUIET_S", 1e9)
    async with at_the_truck(stale) as crew:
        assert "still to be read" in crew.screen()
        assert not listed(crew).stale_in_view
        await crew.press("end")
        await until_known(crew)
        assert crew.book.board.stale_count() > COUNT * 3 // 4
        assert here(crew) == DEMO
        assert "Hand over." in crew.screen()
        assert "Being read" not in crew.screen()


async def test_a_property_opens_at_its_next_step_though_its_row_is_stale(stale: Path) -> None:
    async with at_the_truck(stale) as crew:
        crew.app._catching_up = True
        listed(crew)._highlight(COUNT // 2)
        line = listed(crew).row
        assert line is not None
        wanted = crew.book.board.current(line).place
        await crew.press("enter")
        assert isinstance(crew.app.screen, JobScreen)
        assert crew.place.place == wanted


async def test_a_search_includes_rows_that_are_made_meanwhile(
    large: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("fieldbook.screens.app._QUIET_S", 1e9)
    forget(large, COUNT - 300)
    async with at_the_truck(large) as crew:
        assert 0 < crew.book.board.stale_count() <= 300
        listed(crew).screen.post_message(BoardScreen.Do("find", None))
        await crew.wait_until(
            lambda: "still to be read" in " ".join(crew.screen().replace("│", " ").split())
        )
        monkeypatch.setattr("fieldbook.screens.app._QUIET_S", 0.0)
        await crew.enter("lawn")
        await crew.wait_until(lambda: not crew.book.board.stale_count())
        await crew.wait_until(lambda: f"“lawn”: {COUNT} found" in crew.screen())
        assert "still to be read" not in crew.screen()


async def test_a_new_day_is_shown_while_the_board_is_open(
    large: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Later(date):
        @classmethod
        def today(cls) -> Later:
            return cls(2031, 3, 11)

    with Book(large) as book:
        rows.add_row(
            OpenJob(book, "p00001", "AB"), "crew_member", name="T. Gauge", expires_on="2031-03-10"
        )
    async with at_the_truck(large) as crew:
        board = crew.app.screen
        assert isinstance(board, BoardScreen)
        assert "1 fix" not in crew.screen()
        for module in (board_module, screen_module):
            monkeypatch.setattr(module, "date", Later)
        board._check_day()
        await crew.pilot.pause()
        await until_known(crew)
        assert "1 fix" in crew.screen()
