"""Two properties with one address: from the flag or the palette to one property, by keys."""

from __future__ import annotations

from pathlib import Path

import pytest
from crew import Crew, at_the_truck
from two_books import ADDRESS, TwoBooks, two_books

from fieldbook.actions import rows
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import new_property
from fieldbook.screens.board.board_screen import BoardScreen
from fieldbook.screens.pages.conflict_page import ConflictPage

SIZES = ((80, 24), (60, 18))


def added_there(pair: TwoBooks) -> None:
    """CD adds the property that AB has."""
    book = pair.there.book
    job_id = new_property(book, ADDRESS.lower().replace("street", "st."), "CD")
    rows.add_zone(OpenJob(book, job_id, "CD"))


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A closed book with both properties; the one of CD is the first on the board."""
    here = tmp_path / "here.sqlite"
    with two_books(here, tmp_path / "there.sqlite") as pair:
        added_there(pair)
        pair.exchange()
    return here


def words(crew: Crew) -> str:
    return " ".join(crew.screen().replace("│", " ").split())


@pytest.mark.parametrize("size", SIZES)
async def test_the_later_one_is_joined_with_the_first_and_left(
    book: Path, size: tuple[int, int]
) -> None:
    async with at_the_truck(book, size) as crew:
        assert "2 properties" in words(crew)
        await crew.press("enter")
        assert "address twice" in crew.flags
        await crew.press("f6")
        assert isinstance(crew.app.screen, ConflictPage)
        assert "bring this one over to" in words(crew)
        await crew.press("1")
        assert isinstance(crew.app.screen, BoardScreen)
        assert "1 property" in words(crew)


async def test_the_palette_leads_there_and_undo_parts_them(book: Path) -> None:
    async with at_the_truck(book) as crew:
        await crew.press("down", "enter", "ctrl+p")
        await crew.enter("join")
        assert isinstance(crew.app.screen, ConflictPage)
        assert "over to this one" in words(crew)
        await crew.press("1", "escape")
        assert len(crew.open_job.job.zones) == 4
        await crew.press("ctrl+z")
        assert len(crew.open_job.job.zones) == 3
        assert len(crew.open_job.book.jobs()) == 2


async def test_another_address_is_typed(book: Path) -> None:
    async with at_the_truck(book) as crew:
        await crew.press("enter", "f6", "t")
        await crew.press("ctrl+u")
        await crew.enter("14 Elm Street")
        assert crew.open_job.job.job.address == "14 Elm Street"
        assert "address twice" not in crew.flags
