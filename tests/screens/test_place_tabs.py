"""The tabs of the places are never cut, however much is still open in a place."""

from __future__ import annotations

from pathlib import Path

import pytest
from crew import at_a_new_property

from fieldbook.records.base import PLACES
from fieldbook.screens.job.place_tabs import PlaceTabs
from fieldbook.screens.sheets import COUNTS as COUNTS_OF
from fieldbook.screens.sheets.sheet import Count

COUNTS = (
    [Count(), Count(), Count(), Count(6, 7), Count(), Count()],
    [Count(4, 19), Count(0, 25), Count(12, 169), Count(6, 12), Count(3, 3), Count(2, 2)],
    [
        Count(140, 190),
        Count(120, 250),
        Count(1270, 1690),
        Count(190, 200),
        Count(110, 120),
        Count(60, 99),
    ],
)
SIZES = ((60, 18), (80, 24), (120, 40))


@pytest.mark.parametrize("size", SIZES)
async def test_every_tab_is_whole_at_every_width(book_file: Path, size: tuple[int, int]) -> None:
    async with at_a_new_property(book_file, size=size) as crew:
        strip = crew.app.screen.query_one(PlaceTabs)
        for counts in COUNTS:
            for number, place in enumerate(PLACES, 1):
                strip.show(place, dict(zip(PLACES, counts, strict=True)))
                await crew.pilot.pause()
                names, filled = crew.screen().splitlines()[1:3]
                assert f"[{number} " in names
                assert names.rstrip(" ]").endswith(("6 Serv.", "6 Service"))
                assert "…" not in names + filled
                for count in counts:
                    assert count.words in filled or f"{count.open} open" in filled


async def test_the_tabs_keep_their_places_whatever_place_is_shown(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        seen = set()
        for place in PLACES:
            await crew.go(place)
            names = crew.screen().splitlines()[1]
            seen.add(tuple(names.index(str(number)) for number in range(1, 7)))
        assert len(seen) == 1


async def test_a_tab_says_how_many_of_its_cells_are_entered(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        count = COUNTS_OF["street"](crew.open_job.job)
        assert 0 < count.open < count.asked
        assert f"{count.asked - count.open} of {count.asked}" in crew.screen().splitlines()[2]
        await crew.enter("62")
        after = COUNTS_OF["street"](crew.open_job.job)
        assert after.open == count.open - 1
        assert f"{after.asked - after.open} of {after.asked}" in crew.screen().splitlines()[2]


@pytest.mark.parametrize("size", [(60, 18), (80, 24), (120, 40)])
async def test_choosing_a_place_or_a_flag_names_its_keys_at_the_foot(
    book_file: Path, size: tuple[int, int]
) -> None:
    async with at_a_new_property(book_file, size=size) as crew:
        await crew.press("escape")
        foot = crew.screen().splitlines()[-1]
        assert "1 to 6 go there" in foot
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


async def test_a_hint_that_is_cut_names_the_key_that_shows_it_whole(book_file: Path) -> None:
    async with at_a_new_property(book_file, size=(60, 18)) as crew:
        await crew.stand_on("supply", "elevation_ft")
        assert "(?: more)" in crew.said
        await crew.press("question_mark")
        assert "left blank" in " ".join(crew.screen().replace("│", " ").split())
