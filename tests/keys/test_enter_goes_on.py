"""Enter keeps and goes on: it skips nothing, signs nothing and leaves no row half made."""

from __future__ import annotations

from pathlib import Path

import pytest
from crew import Crew, at_a_new_property, at_the_truck

from fieldbook.records.base import PLACES, Place
from fieldbook.screens.sheets.presses import AddRow, Signature
from fieldbook.screens.widgets.dialogs import Choose
from fieldbook.screens.widgets.line_list import LineList, fitting_lines


async def test_a_form_is_filled_cell_after_cell(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.stand_on("job", "customer")
        after = [cell.at for cell in crew.cells]
        begun = after.index(crew.cell.at)
        for typed in ("B. Customer", "555 0100"):
            assert crew.cell.at == after[begun]
            await crew.enter(typed)
            begun += 1
        job = crew.open_job.job
        assert (job.job.customer, job.job.phone) == ("B. Customer", "555 0100")
        assert job.permits == ()


@pytest.mark.parametrize("place", PLACES)
async def test_reading_on_meets_every_cell_once_and_back_again(place: Place) -> None:
    async with at_the_truck(None) as crew:
        await crew.open("31 Mill Street", place)
        cells = [cell.at for cell in crew.cells]
        cursor = crew.place.cursor
        assert cursor.go_to(cells[0])
        seen = [cells[0]]
        for _ in cells[1:]:
            cursor.read(1)
            assert cursor.cell is not None
            seen.append(cursor.cell.at)
        assert seen == cells
        cursor.read(1)
        assert crew.cell.at == cells[-1]
        for at in reversed(cells[:-1]):
            cursor.read(-1)
            assert cursor.cell is not None
            assert cursor.cell.at == at


async def test_tab_keeps_and_goes_right_and_shift_tab_left(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        cells = [cell.at for cell in crew.cells]
        here = cells.index(crew.cell.at)
        await crew.type("62")
        await crew.press("tab")
        assert crew.cell.at == cells[here + 1]
        await crew.press("tab")
        assert crew.cell.at == cells[here + 2]
        await crew.press("shift+tab", "shift+tab")
        assert crew.cell.at == cells[here]
        await crew.type("63")
        await crew.press("shift+tab")
        assert crew.cell.at == cells[here - 1]
        assert crew.open_job.job.supply is not None
        assert crew.open_job.job.supply.static_psi == 63


async def test_a_row_is_filled_before_its_section_is_left(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        for place in PLACES:
            await crew.go(place)
            cursor = crew.place.cursor
            ends = {
                line.section.rows[-1].cells[-1].at: line.section.rows[-1]
                for line in cursor.lines
                if line.row is not None and line.section.rows[-1].cells
            }
            for at, row in ends.items():
                assert cursor.go_to(at)
                wanting = next((cell.at for cell in row.cells if cell.open), None)
                cursor.go_on()
                assert wanting is None or (cursor.cell is not None and cursor.cell.at == wanting)


async def test_enter_signs_nothing_and_ticks_nothing() -> None:
    async with at_the_truck(None) as crew:
        for place in PLACES:
            if place == PLACES[0]:
                await crew.open("31 Mill Street", place)
            await crew.go(place)
            job = crew.open_job.job
            for cell in crew.cells:
                if isinstance(cell.press, Signature) or cell.fact.kind == "tick":
                    await crew.stand_on(cell.at.table, cell.at.column, cell.at.row_id)
                    await crew.press("enter")
                    assert not isinstance(crew.app.screen, Choose)
            assert crew.open_job.job == job


def notes(crew: Crew) -> list[str]:
    return [note.text for note in crew.open_job.job.notes]


async def test_typing_on_a_plus_row_adds_it_with_its_first_value(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.go("desk")
        acts = crew.book.book.count_undoable(crew.open_job.job_id)
        await crew.stand_on("note", "add note")
        await crew.press("space")
        await crew.type("call first")
        assert notes(crew) == []
        await crew.press("escape")
        assert notes(crew) == []
        await crew.press("enter", "enter")
        assert notes(crew) == []
        await crew.stand_on("note", "add note")
        await crew.type("call first")
        await crew.press("enter")
        assert notes(crew) == ["call first"]
        assert crew.book.book.count_undoable(crew.open_job.job_id) == acts + 1
        assert crew.at == ("note", "add note")
        await crew.enter("gate code 4")
        assert notes(crew) == ["call first", "gate code 4"]
        await crew.press("ctrl+z")
        await crew.press("ctrl+z")
        assert notes(crew) == []


async def test_a_plus_row_refuses_a_wrong_value_and_makes_no_row(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        job = crew.open_job.job
        await crew.stand_on("flow_test_point", "add flow test")
        await crew.enter("about 50")
        assert "is not a pressure" in crew.said
        assert "about 50" in crew.screen()
        await crew.press("escape")
        assert crew.open_job.job == job


async def test_a_new_row_can_begin_with_a_choice(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.stand_on("backflow_assembly", "add backflow")
        await crew.press("enter", "escape")
        before = crew.open_job.job
        assert len(before.backflow_assemblies) == 0
        await crew.enter("pv")
        (assembly,) = crew.open_job.job.backflow_assemblies
        assert assembly.kind == "PVB"
        assert crew.at == ("backflow_assembly", "name")


@pytest.mark.parametrize("place", PLACES)
async def test_every_plus_row_takes_a_key_and_escape_leaves_none(place: Place) -> None:
    async with at_the_truck(None) as crew:
        await crew.open("31 Mill Street", place)
        job = crew.open_job.job
        adds = [cell for cell in crew.cells if isinstance(cell.press, AddRow)]
        for cell in adds:
            assert isinstance(cell.press, AddRow)
            for key in ("x", "space", "enter"):
                await crew.stand_on(cell.at.table, cell.at.column)
                if key != "enter" or cell.press.empty:
                    await crew.press(key)
                    await crew.press(*["escape"] * (key != "space"))
            assert crew.open_job.job == job, cell


async def test_a_list_narrows_as_one_types_and_stops_at_its_ends(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.stand_on("supply", "service_size")
        await crew.type("1 1/4")
        assert isinstance(crew.app.screen, Choose)
        await crew.press("enter")
        assert crew.open_job.job.supply is not None
        assert crew.open_job.job.supply.service_size == "1-1/4"
        await crew.stand_on("supply", "service_size")
        await crew.press("enter", *["down"] * 30)
        lines = crew.app.screen.query_one(LineList)
        assert lines.highlighted == lines.option_count - 1
        await crew.press(*["up"] * 40)
        assert lines.highlighted == 0
        await crew.type("zz")
        assert "Nothing in this list fits “zz”" in crew.screen()
        await crew.press("enter")
        assert isinstance(crew.app.screen, Choose)
        await crew.press("escape")
        assert crew.open_job.job.supply.service_size == "1-1/4"


@pytest.mark.parametrize(
    ("typed", "first"),
    [("1", "1"), ("1 1", "1 1/4"), ("pv", "PVB"), ("d", "DC"), ("lawn", "back lawn"), ("3", "3/4")],
)
def test_the_likeliest_line_comes_first(typed: str, first: str) -> None:
    words = ("3/4", "1 1/4", "1", "RP", "DC", "PVB", "SVB", "back lawn")
    assert words[fitting_lines(words, typed)[0]] == first


def test_a_meant_word_comes_before_one_that_only_begins_alike() -> None:
    words = ("1 1/2 long", "1-1/2")
    assert fitting_lines(words, "1 1/2", lambda _typed: "1-1/2") == [1, 0]
    assert fitting_lines(words, "x") == []
