"""Every screen, whatever was entered: text stays text, is legible, and is cut at no size."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

import pytest
from crew import Crew, at_the_truck
from examples import few_or_many
from hostile import HOSTILE, fill_hostile
from legible import contrast, legible, painted

from fieldbook.checks.desk.open_conflicts import has_conflicts
from fieldbook.records.base import PLACES
from fieldbook.screens.widgets.theme import THEMES

SIZES = ((80, 24), (120, 40), (60, 18))


@pytest.fixture
def hostile_book(book_file: Path) -> Path:
    fill_hostile(book_file)
    return book_file


@asynccontextmanager
async def demo(size: tuple[int, int]) -> AsyncIterator[Crew]:
    """The demo board."""
    async with at_the_truck(None, size) as crew:
        yield crew


async def every_screen(crew: Crew, apart: int) -> AsyncIterator[str]:
    """Visit every screen and dialog of the property under the cursor, yielding the name of each.

    On a sheet the cursor visits rows `apart` rows from each other.
    """
    yield "board"
    await crew.press("question_mark")
    yield "keys of the board"
    await crew.press("escape", "slash")
    yield "find"
    await crew.press("escape", "ctrl+n")
    yield "new"
    await crew.press("escape", "delete")
    yield "remove"
    await crew.press("escape", "enter")
    for place in PLACES:
        await crew.go(place)
        yield place
        async for column in down_the_sheet(crew, apart):
            yield f"{place}, {column}"
        await crew.press("question_mark")
        yield f"help at {place}"
        await crew.press("escape", "ctrl+f")
        yield f"flags at {place}"
        await crew.press(*["escape"] if crew.open_job.findings else [])
        await crew.press("escape")
        yield f"strip at {place}"
        await crew.press("down")
    if has_conflicts(crew.open_job.job):
        await crew.press("f6")
        yield "what differs"
        await crew.press("t")
        yield "another value"
        await crew.press("escape", "f6")
    await crew.press("ctrl+p")
    yield "palette"
    await crew.press("escape")


async def down_the_sheet(crew: Crew, apart: int) -> AsyncIterator[str]:
    """Put the cursor on rows of the place, as the down key does, yielding the column of each."""
    cursor = crew.place.cursor
    cursor.move(-1000, 0)
    for _ in range(0, sum(line.row is not None for line in cursor.lines), apart):
        crew.place.show_cursor()
        await crew.pilot.pause()
        yield crew.cell.at.column
        cursor.move(apart, 0)


@few_or_many("apart", 3, 1)
@pytest.mark.parametrize("size", SIZES)
async def test_hostile_texts_show_as_they_are_and_break_nothing(
    hostile_book: Path, size: tuple[int, int], apart: int
) -> None:
    async with at_the_truck(hostile_book, size) as crew:
        seen = ""
        async for _name in every_screen(crew, apart):
            seen += crew.screen()
        for hostile in HOSTILE[:-1]:
            assert hostile in seen, hostile


async def test_every_text_cell_keeps_what_is_typed(hostile_book: Path) -> None:
    async with at_the_truck(hostile_book) as crew:
        await crew.press("enter")
        for place in PLACES:
            await crew.go(place)
            texts = [cell for cell in crew.cells if cell.fact.kind == "text" and not cell.press]
            for cell in texts:
                await crew.stand_on(cell.at.table, cell.at.column, cell.at.row_id)
                crew.burst("[", "/", "]", "enter")
                await crew.pilot.pause()
                row = crew.open_job.job.row(cell.at.row_id) or crew.open_job.job.job
                assert getattr(row, cell.at.column) == "[/]", cell.at


@few_or_many("apart", 5, 1)
@pytest.mark.parametrize("size", SIZES)
async def test_nothing_is_cut_at_the_edges(size: tuple[int, int], apart: int) -> None:
    async with demo(size) as crew:
        async for name in every_screen(crew, apart):
            lines = crew.screen().splitlines()
            assert len(lines) == size[1], name
            foot = lines[-1]
            assert len(foot.rstrip()) < size[0], (name, foot)


@few_or_many("apart", 3, 1)
@pytest.mark.parametrize("size", SIZES)
async def test_flags_and_the_cell_are_always_in_sight(size: tuple[int, int], apart: int) -> None:
    async with demo(size) as crew:
        mill = [line.address for line in crew.lines].index("31 Mill Street")
        await crew.press(*["down"] * mill, "enter")
        for place in PLACES:
            await crew.go(place)
            shown = crew.screen()
            # On a wide screen the flags are beside the sheet, on lines of fewer words.
            assert "Yellow in cable" in " ".join(shown.split()), place
            view = crew.place.sheet
            async for _column in down_the_sheet(crew, apart):
                down = view.cursor.y - int(view.scroll_offset.y)
                assert 0 <= down < view.scrollable_content_region.height


def test_contrast_is_as_published_at_its_extremes() -> None:
    # WCAG 2.2: black on white is 21:1, a colour on itself 1:1.
    assert contrast((0, 0, 0), (255, 255, 255)) == pytest.approx(21)
    assert contrast((1, 2, 3), (1, 2, 3)) == pytest.approx(1)


@few_or_many("apart", 5, 1)
@pytest.mark.parametrize("theme", [theme.name for theme in THEMES])
async def test_every_word_has_a_contrast_of_four_and_a_half(theme: str, apart: int) -> None:
    async with demo((80, 24)) as crew:
        mill = [line.address for line in crew.lines].index("31 Mill Street")
        if crew.app.theme != theme:
            await crew.press("ctrl+l")
        assert crew.app.theme == theme
        await crew.press(*["down"] * mill)
        async for name in every_screen(crew, apart):
            for segment in painted(crew):
                assert legible(segment), (name, segment)


async def test_a_field_and_a_refusal_are_legible_in_both_themes(book_file: Path) -> None:
    async with at_the_truck(book_file) as crew:
        await crew.enter("ab")
        await crew.press("insert")
        await crew.enter("12 Elm Street")
        await crew.stand_on("supply", "static_psi")
        for _theme in THEMES:
            await crew.press("ctrl+l")
            await crew.enter("1-5")
            assert "pressure" in crew.said
            assert all(legible(segment) for segment in painted(crew))
            await crew.press("escape")


async def test_swatches_carry_their_word(book_file: Path) -> None:
    async with demo((80, 24)) as crew:
        await crew.press("enter")
        await crew.go("boxes")
        shown = crew.screen()
        colours = {valve.colour for valve in crew.open_job.job.valves if valve.colour}
        assert colours
        await crew.stand_on("valve", "colour")
        shown += crew.screen()
        assert all(colour in shown for colour in colours)
