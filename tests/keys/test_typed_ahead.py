"""Keys that come faster than the screens they open or leave: each of those is left once."""

from __future__ import annotations

from pathlib import Path

import pytest
from crew import at_a_new_property, at_the_truck

from fieldbook.screens.board.board_screen import BoardScreen
from fieldbook.screens.job.job_screen import JobScreen


@pytest.mark.parametrize("key", ["f1", "f2", "f4", "ctrl+p", "f9"])
async def test_esc_pressed_twice_leaves_one_page(book_file: Path, key: str) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.press(key)
        assert not isinstance(crew.app.screen, JobScreen)
        crew.burst("escape", "escape", "escape")
        await crew.pilot.pause()
        assert crew.app.is_running
        assert any(isinstance(screen, JobScreen) for screen in crew.app.screen_stack)


async def test_leaving_twice_leaves_the_board_alone(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        crew.burst("ctrl+b", "ctrl+b", "ctrl+b")
        await crew.pilot.pause()
        assert isinstance(crew.app.screen, BoardScreen)


async def test_enter_pressed_twice_opens_a_property_once(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.press("ctrl+b")
        crew.burst("enter", "enter")
        await crew.wait_until(lambda: isinstance(crew.app.screen, JobScreen))
        jobs = [screen for screen in crew.app.screen_stack if isinstance(screen, JobScreen)]
        assert len(jobs) == 1


async def test_enter_pressed_twice_gives_the_initials_once(book_file: Path) -> None:
    async with at_the_truck(book_file) as crew:
        crew.burst("a", "b", "enter", "enter", "enter")
        await crew.wait_until(lambda: isinstance(crew.app.screen, BoardScreen))
        assert crew.book.by == "AB"


async def test_enter_pressed_twice_in_a_dialog_answers_it_once(book_file: Path) -> None:
    async with at_the_truck(book_file) as crew:
        await crew.enter("ab")
        await crew.press("insert")
        crew.burst(*"9Elm", "enter", "enter")
        await crew.wait_until(lambda: isinstance(crew.app.screen, JobScreen))
        assert [job.address for job in crew.book.book.jobs()] == ["9Elm"]
