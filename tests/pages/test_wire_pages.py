"""Wire tests and the wire map by keys, splices between cables, and the help on ticks."""

from __future__ import annotations

from pathlib import Path

import pytest
from crew import at_a_new_property, at_the_truck
from legible import legible, painted

from fieldbook.actions.log_wires import free_at_box
from fieldbook.screens.pages.picture_page import PicturePage
from fieldbook.screens.widgets.theme import THEMES

SIZES = ((80, 24), (120, 40), (60, 18))


@pytest.mark.parametrize("size", SIZES)
async def test_the_wire_map_shows_doubts_and_pictures(size: tuple[int, int]) -> None:
    async with at_the_truck(None, size) as crew:
        await crew.open("31 Mill Street", "controller")
        await crew.press("f2")
        assert isinstance(crew.app.screen, PicturePage)
        told = await crew.read_page()
        for words in ("Wire map", "2 or 3?", "tells most", "Valve box A", "licensed electrician"):
            assert words in told, words
        await crew.press("f2")
        assert crew.place.place == "controller"


async def test_a_wire_test_takes_two_keys_a_terminal_and_settles_the_map() -> None:
    async with at_the_truck(None) as crew:
        await crew.open("31 Mill Street", "controller")
        await crew.stand_on("terminal", "colour")
        assert "2 or 3?" in crew.screen()
        await crew.stand_on("terminal", "ran")
        crew.keys = 0
        for zone in "13245":
            assert crew.at == ("terminal", "ran")
            await crew.press(zone, "down")
        assert crew.keys == 2 * 5
        ran = [one.ran_zone_id for one in crew.open_job.job.terminals if one.ran_zone_id]
        assert len(ran) == 5
        await crew.stand_on("terminal", "colour")
        assert "2 or 3?" not in crew.screen()
        await crew.press("f2")
        assert "seen to run" in await crew.read_page()


async def test_a_wire_test_takes_zones_or_none_and_refuses_other_text() -> None:
    async with at_the_truck(None) as crew:
        await crew.open("31 Mill Street", "controller")
        cell = await crew.stand_on("terminal", "ran")
        await crew.enter("1 2")
        first = crew.open_job.job.row(cell.at.row_id)
        assert [getattr(first, "ran_zone_id", None), getattr(first, "ran_also_id", None)] == [
            crew.open_job.job.zones[0].id,
            crew.open_job.job.zones[1].id,
        ]
        await crew.stand_on("terminal", "ran")
        await crew.press("enter", "ctrl+u")
        await crew.enter("0")
        assert getattr(crew.open_job.job.row(cell.at.row_id), "ran_nothing", None) is True
        assert "nothing ran" in crew.flags
        await crew.stand_on("terminal", "ran")
        await crew.press("enter", "ctrl+u")
        await crew.enter("77")
        assert "No zone has the number" in crew.said
        await crew.press("escape", "ctrl+z")
        assert "nothing ran" not in crew.flags


async def test_splices_join_two_cables(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.go("boxes")
        for _ in range(2):
            await crew.stand_on("valve_box", "add box")
            await crew.enter("by the gate")
        for _ in range(2):
            await crew.stand_on("cable", "add cable")
            await crew.press("enter")
            await crew.enter("white, red, blue")
        near, far = crew.open_job.job.cables
        await crew.stand_on("cable", "fed_from", far.id)
        await crew.enter("A")
        await crew.stand_on("splice", "add splice")
        await crew.press("enter")
        assert crew.at == ("splice", "colour")
        await crew.press("r")
        (splice,) = crew.open_job.job.splices
        assert (splice.cable_id, splice.colour, splice.to_cable_id) == (near.id, "red", far.id)
        await crew.stand_on("splice", "to_colour")
        await crew.press("b")
        assert crew.open_job.job.splices[0].to_colour == "blue"
        assert free_at_box(crew.open_job.job, near.id) == ["blue"]
        assert free_at_box(crew.open_job.job, far.id) == ["red"]


async def test_help_on_a_tick_says_what_good_work_is() -> None:
    async with at_the_truck(None) as crew:
        await crew.open("31 Mill Street", "boxes")
        for column, good in (("stripped", "5/8 in"), ("slack_loop", "24 to 36 in")):
            await crew.stand_on("valve", column)
            await crew.press("question_mark")
            assert good in crew.screen()
            await crew.press("escape")


async def test_the_picker_shows_key_swatch_word_and_letter_code() -> None:
    async with at_the_truck(None) as crew:
        await crew.open("31 Mill Street", "boxes")
        await crew.stand_on("valve", "colour")
        assert "red RD" in crew.screen()


@pytest.mark.parametrize("theme", [theme.name for theme in THEMES])
async def test_the_wire_map_is_legible_in_both_themes(theme: str) -> None:
    async with at_the_truck(None) as crew:
        if crew.app.theme != theme:
            await crew.press("ctrl+l")
        await crew.open("31 Mill Street", "controller")
        await crew.press("f2")
        assert all(legible(segment) for segment in painted(crew))
