"""What a screen does with its size: a side column with the cell, a line where it is too small."""

from __future__ import annotations

from pathlib import Path

import pytest
from crew import at_a_new_property, at_the_truck

from fieldbook.screens.widgets.too_small import TooSmall


async def test_below_the_least_size_one_line_says_what_is_needed_and_nothing_is_lost(
    book_file: Path,
) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.type("62")
        await crew.pilot.resize_terminal(59, 24)
        await crew.pilot.pause()
        shown = [line.strip() for line in crew.screen().splitlines() if line.strip()]
        assert shown == ["fieldbook needs 60x18; this is 59x24."]
        await crew.pilot.resize_terminal(60, 17)
        await crew.pilot.pause()
        assert "this is 60x17" in crew.screen()
        await crew.pilot.resize_terminal(60, 18)
        await crew.pilot.pause()
        assert "needs 60x18" not in crew.screen()
        assert crew.place.sheet.typing
        await crew.press("enter")
        assert crew.open_job.job.supply is not None
        assert crew.open_job.job.supply.static_psi == 62


async def test_a_dialog_opened_on_a_small_terminal_is_covered_too(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.pilot.resize_terminal(40, 10)
        await crew.press("ctrl+p")
        await crew.pilot.pause()
        assert len(crew.app.screen.query(TooSmall)) == 1
        await crew.pilot.resize_terminal(80, 24)
        await crew.pilot.pause()
        assert not crew.app.screen.query(TooSmall)
        await crew.press("escape")
        assert not crew.place.query(TooSmall)


@pytest.mark.parametrize("size", [(110, 30), (120, 40), (160, 50)])
async def test_beside_the_sheet_stands_what_the_cell_is(size: tuple[int, int]) -> None:
    async with at_the_truck(None, size) as crew:
        await crew.open("14 Alder Lane", "street")
        await crew.stand_on("supply", "static_psi")
        assert "static_psi" in crew.at
        assert "understood:" in crew.screen()
        await crew.stand_on("supply", "meter_size")
        assert "understood:" not in crew.screen()
        assert "One of:" in crew.screen()


async def test_the_sheet_shows_more_columns_where_there_is_more_room() -> None:
    shown = []
    for width in (60, 80, 100, 160, 200):
        async with at_the_truck(None, (width, 30)) as crew:
            await crew.open("31 Mill Street", "boxes")
            await crew.stand_on("valve", "colour")
            section = crew.place.cursor.section
            assert section is not None
            shown.append(crew.place.sheet.layout_of_section(section).shown)
    assert shown == sorted(set(shown))
