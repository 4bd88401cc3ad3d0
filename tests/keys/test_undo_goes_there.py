"""Undo says which row it was and puts the cursor on the cell, at whatever place that is."""

from __future__ import annotations

from crew import at_the_truck


async def test_undo_and_redo_name_the_row_and_go_to_its_cell() -> None:
    async with at_the_truck(None) as crew:
        await crew.open("14 Alder Lane", "ground")
        await crew.stand_on("pipe_run", "length_ft")
        at = crew.cell.at
        await crew.enter("14.5")
        await crew.go("street")
        await crew.press("ctrl+z")
        assert crew.cell.at == at
        assert "Mainline: Run 1" in crew.said
        await crew.go("desk")
        await crew.press("ctrl+y")
        assert crew.cell.at == at
        assert crew.said.startswith("Put back: ")
        assert "Run 1" in crew.said


async def test_undo_of_a_row_that_was_added_still_names_it() -> None:
    async with at_the_truck(None) as crew:
        await crew.open("14 Alder Lane", "boxes")
        await crew.stand_on("valve_box", "add box")
        boxes = len(crew.open_job.job.valve_boxes)
        await crew.enter("by the gate")
        assert len(crew.open_job.job.valve_boxes) == boxes + 1
        await crew.press("ctrl+z")
        assert len(crew.open_job.job.valve_boxes) == boxes
        assert "Boxes: Box" in crew.said


async def test_one_enter_goes_past_a_cell_that_nothing_asks_for() -> None:
    async with at_the_truck(None) as crew:
        await crew.open("31 Mill Street", "boxes")
        await crew.stand_on("valve", "model")
        cells = [cell.at for cell in crew.cells]
        assert not crew.cell.text
        assert not crew.cell.asked
        here = cells.index(crew.cell.at)
        await crew.press("enter")
        assert not crew.place.sheet.typing
        assert crew.cell.at == cells[here + 1]


async def test_enter_opens_a_cell_that_is_asked_for_or_has_a_value() -> None:
    async with at_the_truck(None) as crew:
        await crew.open("31 Mill Street", "boxes")
        await crew.stand_on("valve_box", "location")
        await crew.press("enter")
        assert crew.place.sheet.typing


async def test_keys_of_the_board_say_in_a_property_where_they_work() -> None:
    async with at_the_truck(None) as crew:
        await crew.open("31 Mill Street", "boxes")
        for key in ("f7", "f8"):
            await crew.press(key)
            assert "works on the board" in crew.said
            await crew.press("left")
