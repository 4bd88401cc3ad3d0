"""Nothing that matters is cut: whole columns, how many more there are, every field of a row."""

from __future__ import annotations

import re

import pytest
from crew import Crew, at_the_truck

from fieldbook.records.base import PLACES
from fieldbook.screens.job.hint import HintLine
from fieldbook.screens.pages.row_page import RowPage
from fieldbook.screens.sheets.explain import explain_columns
from fieldbook.screens.sheets.table_layout import words

SIZES = ((60, 18), (80, 24), (120, 40))


def title_line(crew: Crew, title: str) -> str:
    """The painted line of a section's title."""
    return next(line for line in crew.screen().splitlines() if line.strip().startswith(title))


async def at_the_valves(crew: Crew) -> None:
    await crew.open("31 Mill Street", "boxes")
    await crew.stand_on("valve", "colour")


@pytest.mark.parametrize("size", SIZES)
async def test_the_header_counts_the_columns_beside_the_screen(size: tuple[int, int]) -> None:
    async with at_the_truck(None, size) as crew:
        await at_the_valves(crew)
        columns = len(crew.place.cursor.row.cells) if crew.place.cursor.row else 0
        seen = set()
        for step in range(columns):
            line = title_line(crew, "Wire at each valve")
            left = re.search(r"< (\d+)", line)
            right = re.search(r"(\d+) more columns? >", line)
            before, after = (int(found[1]) if found else 0 for found in (left, right))
            section = crew.place.cursor.section
            assert section is not None
            layout = crew.place.sheet.layout_of_section(section)
            assert before + layout.shown + after == columns
            assert before <= step < columns - after
            seen.add((before, after))
            await crew.press("right")
        assert min(seen)[0] == 0
        assert max(after for _, after in seen) > 0
        assert len(seen) > 3


@pytest.mark.parametrize("size", SIZES)
async def test_a_value_in_a_table_is_shown_whole_or_not_at_all(size: tuple[int, int]) -> None:
    async with at_the_truck(None, size) as crew:
        await crew.open("31 Mill Street", "boxes")
        for place in PLACES:
            await crew.go(place)
            sheet = crew.place.sheet
            for line in sheet.cursor.lines:
                if line.row is None or not line.section.heads:
                    continue
                layout = sheet.layout_of_section(line.section)
                for no, cell in enumerate(line.row.cells):
                    span = layout.span(line.row, no)
                    if span is not None and layout.is_in_columns(line.row):
                        assert span[0] + span[1] <= size[0]
                        first_alone = layout.shown == 1
                        assert len(words(cell)) <= span[1] or first_alone, cell


async def test_the_head_stays_over_the_rows_of_a_long_table() -> None:
    async with at_the_truck(None, (60, 18)) as crew:
        await at_the_valves(crew)
        await crew.press(*["down"] * 4)
        shown = crew.screen()
        assert "Wire at each valve" in shown
        assert "Waterproof" in shown
        assert "> 5 herb beds" in shown


@pytest.mark.parametrize("size", SIZES)
async def test_enter_on_the_name_of_a_row_opens_every_field_of_it(size: tuple[int, int]) -> None:
    async with at_the_truck(None, size) as crew:
        await at_the_valves(crew)
        row = crew.place.cursor.row
        assert row is not None
        await crew.press("left")
        assert crew.place.cursor.on_name
        assert "Enter shows every field" in str(crew.place.query_one(HintLine).render())
        await crew.press("enter")
        page = crew.app.screen
        assert isinstance(page, RowPage)
        seen = ""
        for cell in row.cells:
            lines = (part.strip(" │>") for part in crew.screen().splitlines())
            line = next(part for part in lines if part.startswith(f"{cell.fact.label}  "))
            assert cell.text in line
            seen += line
            await crew.press("down")
        assert "27.8 ohm" in seen
        await crew.press("escape")
        assert crew.place.cursor.on_name


async def test_enter_on_a_field_of_the_row_goes_to_its_cell() -> None:
    async with at_the_truck(None, (60, 18)) as crew:
        await at_the_valves(crew)
        await crew.press("f10", *["down"] * 19, "enter")
        assert crew.at == ("valve", "model")
        assert "< " in title_line(crew, "Wire at each valve")
        await crew.type("X1")
        await crew.press("enter")
        assert "X1" in {valve.model for valve in crew.open_job.job.valves}


async def test_a_cable_and_its_colours_are_one_row_to_read() -> None:
    async with at_the_truck(None) as crew:
        await crew.open("31 Mill Street", "boxes")
        await crew.stand_on("cable", "conductors")
        await crew.press("alt+r")
        shown = crew.screen()
        assert "white, red, blue" in shown
        assert "AWG" in shown or "Gauge" in shown


async def test_a_field_covers_no_cell_beside_it() -> None:
    async with at_the_truck(None) as crew:
        await crew.open("31 Mill Street", "ground")
        await crew.stand_on("pipe_run", "length_ft")
        before = crew.screen().splitlines()
        y = next(no for no, line in enumerate(before) if line.startswith("> Run"))
        await crew.type("12 ft and more")
        line = crew.screen().splitlines()[y]
        assert "12 ft and more" in line
        beside = [word for word in before[y].split("  ") if word.strip()]
        assert len(beside) > 4
        for word in beside:
            assert word.strip() == "60 ft" or word.strip() in line
        await crew.press("escape")
        assert crew.screen().splitlines()[y] == before[y]


async def test_moving_up_and_down_on_names_stays_on_names_and_right_goes_to_the_cells() -> None:
    async with at_the_truck(None) as crew:
        await at_the_valves(crew)
        await crew.press("left", "left", "down")
        cursor = crew.place.cursor
        assert cursor.on_name
        assert cursor.cell is None
        await crew.type("x")
        assert not crew.place.sheet.typing
        await crew.press("delete")
        assert "no single value" in crew.said
        await crew.press("right")
        assert crew.at == ("valve", "colour")


@pytest.mark.parametrize("place", PLACES)
async def test_no_head_of_a_column_is_a_lone_letter_and_each_is_explained(place: str) -> None:
    async with at_the_truck(None) as crew:
        await crew.open("14 Alder Lane", place)
        for line in crew.place.cursor.lines:
            heads = line.section.heads if line.heads else ()
            for head in heads:
                assert len(head) > 1
            rows = [row for row in line.section.rows if len(row.cells) > 1]
            if rows and heads:
                told = explain_columns(line.section)
                assert all(f"\n{head}" in told for head in heads[: len(rows[0].cells)])


async def test_the_question_mark_on_the_name_of_a_row_explains_every_column() -> None:
    async with at_the_truck(None, (80, 60)) as crew:
        await at_the_valves(crew)
        await crew.press("left", "question_mark")
        shown = crew.screen()
        assert "The columns" in shown
        for word in ("Slack loop", "Regulator", "Filter curve"):
            assert word in shown
