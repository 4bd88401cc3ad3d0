"""Enter and Space on every kind of cell: each does one thing, and none ends the app."""

from __future__ import annotations

import pytest
from crew import Crew, at_the_truck

from fieldbook.records.base import PLACES, Place
from fieldbook.screens.job.job_screen import JobScreen
from fieldbook.screens.sheets.presses import TypedPress
from fieldbook.screens.sheets.sheet import Cell


def kind_of(cell: Cell) -> tuple[str, str]:
    """What decides how a cell answers to keys."""
    return cell.fact.kind, type(cell.press).__name__


def field_is_open(crew: Crew) -> bool:
    return "leave as it was" in crew.screen()


async def close(crew: Crew) -> None:
    """Close whatever a key opened."""
    if crew.app.screen is not crew.app.screen_stack[1] or field_is_open(crew):
        await crew.press("escape")
    assert isinstance(crew.app.screen, JobScreen)


@pytest.mark.parametrize("key", ["space", "enter"])
@pytest.mark.parametrize("place", PLACES)
async def test_a_key_works_on_every_kind_of_cell(place: Place, key: str) -> None:
    async with at_the_truck(None) as crew:
        await crew.open("31 Mill Street", place)
        kinds = {kind_of(cell): cell.at for cell in crew.cells}
        for kind, at in kinds.items():
            await crew.stand_on(at.table, at.column, at.row_id)
            assert kind_of(crew.cell) == kind
            await crew.press(key)
            await close(crew)
        assert crew.place.place == place


@pytest.mark.parametrize(
    ("place", "table", "column"),
    [("boxes", "cable", "conductors"), ("controller", "terminal", "ran")],
)
async def test_space_opens_the_field_of_a_cell_typed_into(
    place: str, table: str, column: str
) -> None:
    async with at_the_truck(None) as crew:
        await crew.open("31 Mill Street", place)
        entries = crew.book.book.count_undoable(crew.open_job.job_id)
        cell = await crew.stand_on(table, column)
        assert isinstance(cell.press, TypedPress)
        await crew.press("space")
        assert field_is_open(crew)
        await crew.press("escape")
        assert not field_is_open(crew)
        assert crew.cell == cell
        assert crew.book.book.count_undoable(crew.open_job.job_id) == entries


async def test_enter_on_a_tick_moves_on_and_changes_nothing() -> None:
    async with at_the_truck(None) as crew:
        await crew.open("31 Mill Street", "controller")
        entries = crew.book.book.count_undoable(crew.open_job.job_id)
        cell = await crew.stand_on("controller", "rain_sensor")
        await crew.press("enter")
        assert crew.cell.at != cell.at
        assert crew.book.book.count_undoable(crew.open_job.job_id) == entries
