"""Once nothing is left to fill in, Ctrl+N and a place lead to what can be signed; none signs."""

from __future__ import annotations

from pathlib import Path

from crew import Crew, at_a_new_property, at_the_truck

from fieldbook.records.base import PLACES
from fieldbook.screens.job.to_sign import NOTHING_WANTED, to_sign
from fieldbook.screens.sheets import COUNTS

DONE = "14 Alder Lane"


def signed(crew: Crew) -> int:
    return len(crew.open_job.job.sign_offs)


async def test_ctrl_n_goes_to_a_sign_off_and_enter_signs_nothing() -> None:
    async with at_the_truck(None) as crew:
        await crew.open(DONE, "street")
        assert not any(count(crew.open_job.job).open for count in COUNTS.values())
        before, waiting = signed(crew), list(to_sign(crew.place, PLACES))
        assert waiting
        await crew.press("ctrl+n")
        assert (crew.place.place, crew.cell.at) in waiting
        await crew.press("enter")
        assert signed(crew) == before


async def test_every_sign_off_is_reached_until_none_is_left() -> None:
    async with at_the_truck(None) as crew:
        await crew.open(DONE, "desk")
        for _ in range(20):
            await crew.press("ctrl+n")
            if crew.said == NOTHING_WANTED:
                break
            before = signed(crew)
            await crew.press("space", "down", "enter")
            assert signed(crew) == before + 1
        assert crew.said == NOTHING_WANTED
        assert not list(to_sign(crew.place, PLACES))


async def test_a_cell_that_wants_a_value_comes_first(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.go("desk")
        await crew.press("ctrl+n")
        assert crew.cell.open
        assert crew.place.place == "street"
