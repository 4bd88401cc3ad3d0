"""The tabs of the places are never cut, however much is still open in a place."""

from __future__ import annotations

from pathlib import Path

import pytest
from crew import at_a_new_property

from fieldbook.records.base import PLACES
from fieldbook.screens.job.place_tabs import PlaceTabs

COUNTS = ((0, 0, 0, 6, 0), (4, 0, 12, 6, 3), (14, 12, 27, 19, 11), (140, 120, 270, 190, 110))


@pytest.mark.parametrize("size", [(60, 18), (80, 24), (120, 40)])
async def test_every_tab_is_whole_at_every_width(book_file: Path, size: tuple[int, int]) -> None:
    async with at_a_new_property(book_file, size=size) as crew:
        strip = crew.app.screen.query_one(PlaceTabs)
        for counts in COUNTS:
            for number, place in enumerate(PLACES, 1):
                strip.show(place, dict(zip(PLACES, counts, strict=True)))
                await crew.pilot.pause()
                line = crew.screen().splitlines()[1]
                assert f"[{number} " in line
                assert line.rstrip().endswith(("]", ")", "Desk", "5"))
                for count in filter(None, counts):
                    assert f"({count})" in line
