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


@pytest.mark.parametrize("size", [(60, 18), (80, 24), (120, 40)])
async def test_choosing_a_place_or_a_flag_names_its_keys_at_the_foot(
    book_file: Path, size: tuple[int, int]
) -> None:
    async with at_a_new_property(book_file, size=size) as crew:
        await crew.press("escape")
        foot = crew.screen().splitlines()[-1]
        assert "1 to 5 go there" in foot
        assert "Esc board" in foot
        await crew.press("enter")
        assert "Esc places" in crew.screen().splitlines()[-1]
        await crew.press("ctrl+f")
        foot = crew.screen().splitlines()[-1]
        assert "Enter go to its cell" in foot
        assert "Esc back" in foot
        await crew.press("escape")
        assert "Esc places" in crew.screen().splitlines()[-1]


async def test_the_row_that_the_next_key_leads_to_is_in_sight(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        sheet, moves = crew.place.sheet, 0
        for key, step in (("down", 1), ("up", -1)):
            while True:
                before, lines = crew.place.cursor.y, sheet.cursor.lines
                await crew.press(key)
                after = crew.place.cursor.y
                if after == before:
                    break
                moves += 1
                row = lines[after + step].row if 0 <= after + step < len(lines) else None
                if row is not None and row.cells:
                    assert 0 <= after + step - sheet.scroll_offset.y < sheet.size.height
        assert moves > 2 * sheet.size.height


async def test_a_long_row_is_scrolled_to_the_beginning_of_a_cell(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.go("ground")
        await crew.enter("Front lawn")
        sheet = crew.place.sheet
        for _ in range(7):
            await crew.press("tab")
            held = sheet.cursor.lefts()[0]
            assert held + sheet.scroll_offset.x in sheet.cursor.lefts()
        assert sheet.scroll_offset.x > 0


async def test_a_hint_that_is_cut_names_the_key_that_shows_it_whole(book_file: Path) -> None:
    async with at_a_new_property(book_file, size=(60, 18)) as crew:
        await crew.stand_on("supply", "elevation_ft")
        assert "(?: more)" in crew.said
        await crew.press("question_mark")
        assert "left blank" in " ".join(crew.screen().replace("│", " ").split())
