"""Lists stop at both ends: a key that is held down comes to rest."""

from __future__ import annotations

import pytest
from crew import Crew, at_the_truck
from textual.widgets import OptionList

from fieldbook.records.base import PLACES
from fieldbook.screens.board.board_list import BoardList
from fieldbook.screens.job.place_tabs import PlaceTabs


async def both_ends(crew: Crew, lines: OptionList, times: int) -> None:
    await crew.press(*["down"] * times)
    assert lines.highlighted == lines.option_count - 1
    await crew.press(*["up"] * times)
    assert lines.highlighted == 0


async def test_the_flags_stop_at_their_ends() -> None:
    async with at_the_truck(None) as crew:
        await crew.open("31 Mill Street", "street")
        await crew.press("ctrl+f")
        lines = crew.place.query_one("#flags", OptionList)
        assert lines.option_count > 1
        await both_ends(crew, lines, lines.option_count + 2)


async def test_a_list_of_choices_stops_at_its_ends() -> None:
    async with at_the_truck(None) as crew:
        await crew.open("31 Mill Street", "street")
        await crew.stand_on("supply", "service_size")
        await crew.press("enter")
        await both_ends(crew, crew.app.screen.query_one(OptionList), 12)


async def test_the_palette_stops_at_its_ends() -> None:
    async with at_the_truck(None) as crew:
        await crew.press("ctrl+p")
        await crew.type("property")
        await crew.app.workers.wait_for_complete()
        await crew.pilot.pause()
        lines = crew.app.screen.query_one(OptionList)
        assert lines.option_count > 1
        await both_ends(crew, lines, lines.option_count + 3)


async def test_the_board_stops_at_its_ends() -> None:
    async with at_the_truck(None) as crew:
        board = crew.app.screen.query_one(BoardList)
        count = len(crew.lines)
        await crew.press(*["down"] * (count + 3))
        assert board.row is not None
        assert board.row.job_id == crew.lines[-1].job_id
        await crew.press(*["up"] * (count + 3))
        assert board.row is not None
        assert board.row.job_id == crew.lines[0].job_id


@pytest.mark.parametrize(("key", "place"), [("right", PLACES[-1]), ("left", PLACES[0])])
async def test_the_places_stop_at_their_ends(key: str, place: str) -> None:
    async with at_the_truck(None) as crew:
        await crew.open("31 Mill Street", "boxes")
        await crew.press("escape")
        assert isinstance(crew.app.screen.focused, PlaceTabs)
        await crew.press(*[key] * 7, "enter")
        assert crew.place.place == place
