"""The board, first run, and the colours of the screen."""

from __future__ import annotations

from pathlib import Path

import pytest
from crew import at_a_new_property, at_the_truck
from textual import events
from textual.widgets import Input, OptionList

from fieldbook.screens.board.board_screen import BoardScreen
from fieldbook.screens.first_run import FirstRun
from fieldbook.screens.job.job_screen import JobScreen
from fieldbook.screens.widgets.dialogs import AskLine, Choose
from fieldbook.store.book import Book

SIZES = ((80, 24), (120, 40), (60, 18))


@pytest.mark.parametrize("size", SIZES)
async def test_first_run_asks_for_initials_and_offers_the_demo(
    book_file: Path, size: tuple[int, int]
) -> None:
    async with at_the_truck(book_file, size) as crew:
        assert isinstance(crew.app.screen, FirstRun)
        shown = crew.screen()
        assert "Your initials" in shown
        assert "F2" in shown
        assert "certifies nothing" in " ".join(shown.split())
        await crew.press("enter")
        assert isinstance(crew.app.screen, FirstRun)
        assert "1 to 8 letters" in " ".join(crew.screen().split())
        await crew.enter("ab")
        assert isinstance(crew.app.screen, BoardScreen)
        assert "Ins  adds one" in crew.screen()
    async with at_the_truck(book_file) as crew:
        assert isinstance(crew.app.screen, BoardScreen)
        assert crew.book.by == "AB"


async def test_the_demo_is_a_scratch_copy_and_leaves_the_own_book_alone(book_file: Path) -> None:
    async with at_the_truck(book_file) as crew:
        own = crew.book
        await crew.press("f2")
        await crew.wait_until(
            lambda: crew.book is not own and isinstance(crew.app.screen, BoardScreen)
        )
        assert crew.book.scratch
        assert "nothing here is kept" in crew.screen()
        assert "31 Mill Street" in crew.screen()
        scratch = crew.book.book.path
        assert scratch != book_file
    assert not scratch.exists()
    with Book(book_file) as book:
        assert book.jobs() == []


async def test_a_property_is_added_found_removed_and_brought_back(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        assert isinstance(crew.app.screen, JobScreen)
        await crew.press("ctrl+b", "insert")
        await crew.enter("")
        assert isinstance(crew.app.screen, AskLine)
        assert "needs an address" in crew.screen()
        await crew.enter("3 Oak Court")
        await crew.press("ctrl+b")
        assert "2 properties" in crew.screen()
        await crew.press("slash")
        await crew.enter("pine")
        assert "No property matches" in crew.screen()
        await crew.press("escape", "slash")
        await crew.enter("oak")
        assert "3 Oak Court" in crew.screen()
        assert "12 Elm Street" not in crew.screen()
        await crew.press("delete")
        assert isinstance(crew.app.screen, Choose)
        await crew.press("enter")
        assert len(crew.book.book.jobs()) == 2
        await crew.press("delete", "down", "enter")
        assert [job.address for job in crew.book.book.jobs()] == ["12 Elm Street"]
        await crew.press("ctrl+z")
        assert len(crew.book.book.jobs()) == 2
        await crew.press("ctrl+z")
        assert "No removed property" in crew.screen()


async def test_the_board_shows_the_next_step(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.press("ctrl+b")
        assert "Read the static" in crew.screen()
        await crew.press("enter")
        await crew.enter("62")
        await crew.press("ctrl+b")
        assert "See whether the gauge" in crew.screen()


async def test_keys_typed_ahead_land_in_the_dialog_they_open(book_file: Path) -> None:
    async with at_the_truck(book_file) as crew:
        await crew.enter("ab")
        await crew.pilot.press("insert", *"9Elm", "enter")
        await crew.pilot.pause()
        assert [job.address for job in crew.book.book.jobs()] == ["9Elm"]


async def test_letters_in_one_burst_on_the_board_are_searched_for_once(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.press("ctrl+b")
        for letter in "Oak":
            crew.app.post_message(events.Key(letter, letter))
        await crew.wait_until(lambda: isinstance(crew.app.screen, AskLine))
        line = crew.app.screen.query_one("#answer", Input)
        await crew.wait_until(lambda: len(line.value) >= len("Oak"))
        assert line.value == "Oak"


async def test_the_colours_chosen_are_remembered(book_file: Path) -> None:
    async with at_the_truck(book_file) as crew:
        await crew.enter("ab")
        first = crew.app.theme
        await crew.press("ctrl+l")
        chosen = crew.app.theme
        assert chosen != first
    async with at_the_truck(book_file) as crew:
        assert crew.app.theme == chosen


async def test_a_book_that_is_open_elsewhere_ends_the_app_with_one_sentence(
    book_file: Path,
) -> None:
    from fieldbook.screens.app import FieldbookApp

    with Book(book_file):
        app = FieldbookApp(book_file)
        async with app.run_test() as pilot:
            for _ in range(500):
                await pilot.pause(0.01)
                if app.return_code is not None:
                    break
    assert app.return_code == 2


async def test_the_palette_offers_the_actions_of_the_keymap(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.press("ctrl+p")
        await crew.type("go to the controller")
        palette = crew.app.screen.query_one(OptionList)
        await crew.wait_until(lambda: palette.option_count == 1)
        await crew.press("enter")
        await crew.wait_until(lambda: isinstance(crew.app.screen, JobScreen))
        assert crew.place.place == "controller"
