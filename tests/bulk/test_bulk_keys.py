"""Paste, fill down, copy a zone and go from photo to photo, by keys on the real app."""

from __future__ import annotations

from pathlib import Path

import pytest
from crew import Crew, at_a_new_property
from PIL import Image
from textual import events

from fieldbook.actions import rows
from fieldbook.actions.cells import enter_text
from fieldbook.actions.keymap import Where, offered
from fieldbook.checks.finding import CellRef
from fieldbook.screens.job.job_screen import JobScreen
from fieldbook.screens.pages.paste_page import PastePage

ZONES = "No.\tName\tHeads\n1\tfront lawn\tspray\n2\tback [/] lawn\trotor\n3\tbeds\tdrip\n"


def in_the_book(crew: Crew) -> int:
    """How many zones the book holds while a page is open over the property."""
    (job,) = crew.book.book.jobs()
    return len(crew.book.book.load(job.id).zones)


async def paste(crew: Crew, text: str) -> None:
    """Paste as a terminal with bracketed paste does: one event with all of the text."""
    crew.app.post_message(events.Paste(text))
    await crew.pilot.pause()
    await crew.pilot.pause()


@pytest.mark.parametrize("size", [(80, 24), (60, 18), (120, 40)])
async def test_a_pasted_table_is_shown_before_it_is_kept(
    book_file: Path, size: tuple[int, int]
) -> None:
    async with at_a_new_property(book_file, size) as crew:
        await crew.go("ground")
        await crew.stand_on("zone", "add zone")
        await paste(crew, ZONES)
        assert isinstance(crew.app.screen, PastePage)
        seen = crew.screen()
        assert "Paste: 0 rows changed, 3 new" in seen
        assert "Name back [/] lawn" in seen
        assert not in_the_book(crew)
        await crew.press("escape")
        assert not crew.open_job.job.zones
        await paste(crew, ZONES)
        await crew.press("enter")
        assert [zone.name for zone in crew.open_job.job.zones] == [
            "front lawn",
            "back [/] lawn",
            "beds",
        ]
        assert crew.said.startswith("Pasted: 3 rows. Ctrl+Z")
        await crew.press("ctrl+z")
        assert not crew.open_job.job.zones


async def test_a_refused_table_says_where_and_keeps_nothing(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.go("ground")
        await crew.stand_on("zone", "add zone")
        await paste(crew, ZONES.replace("drip", "hose"))
        assert crew.said.startswith("Line 4, Head type: Head type takes one of spray,")
        assert not crew.open_job.job.zones


async def test_one_value_is_pasted_into_the_field_as_before(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.stand_on("job", "access")
        await paste(crew, "gate code 4\n")
        await crew.press("enter")
        assert crew.open_job.job.job.access == "gate code 4"
        await crew.stand_on("job", "phone")
        await crew.type("tel")
        await paste(crew, " 555\t0100\n")
        await crew.press("enter")
        assert crew.open_job.job.job.phone == "tel 555 0100"


def cells_of(crew: Crew, table: str, column: str) -> list[str]:
    """The ids of the rows that have this cell, in the order of the sheet."""
    return [
        cell.at.row_id for cell in crew.cells if (cell.at.table, cell.at.column) == (table, column)
    ]


async def zones(crew: Crew, count: int) -> None:
    for _ in range(count):
        rows.add_zone(crew.open_job)
    crew.place.redraw()
    await crew.go("ground")


async def test_one_key_fills_in_from_above_and_goes_down(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await zones(crew, 4)
        await crew.stand_on("zone", "waters")
        await crew.press("ctrl+g")
        assert crew.said == "There is no cell of this column above: nothing to fill in from."
        await crew.enter("lawn")
        await crew.stand_on("zone", "waters", crew.open_job.job.zones[1].id)
        crew.keys = 0
        await crew.press("ctrl+g", "ctrl+g", "ctrl+g")
        assert crew.keys == 3
        assert [zone.waters for zone in crew.open_job.job.zones] == ["lawn"] * 4
        await crew.press("ctrl+z")
        assert [zone.waters for zone in crew.open_job.job.zones] == ["lawn"] * 3 + [""]


async def test_a_value_is_filled_down_to_the_last_row_or_so_many(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await zones(crew, 5)
        await crew.stand_on("backfill", "cover_in")
        await crew.enter("12")
        at = await crew.stand_on("backfill", "cover_in")
        await crew.press("alt+g")
        await crew.enter("9")
        await crew.press("escape")
        assert crew.cell.at == at.at
        await crew.press("alt+g")
        await crew.enter("2")
        assert crew.said == "Cover: 12 in in 2 rows below. Ctrl+Z takes it back."
        assert [stretch.cover_in for stretch in crew.open_job.job.backfills] == [12, 12, 12]
        await crew.press("alt+g", "enter")
        assert [stretch.cover_in for stretch in crew.open_job.job.backfills] == [12] * 5


async def test_a_signature_and_a_colour_are_not_filled_down(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await zones(crew, 2)
        await crew.stand_on("backfill", "sign")
        await crew.press("alt+g")
        assert crew.said.startswith("Move to a cell with a value first")
        await crew.go("boxes")
        await crew.stand_on("valve", "colour", cells_of(crew, "valve", "colour")[1])
        await crew.press("ctrl+g")
        assert "is seen or read at each one" in crew.said


async def test_a_zone_is_copied_from_any_of_its_rows(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await zones(crew, 1)
        (zone,) = crew.open_job.job.zones
        run_id = rows.repeat_run(crew.open_job, zone.id)
        enter_text(crew.open_job, CellRef("pipe_run", run_id, "length_ft"), "12")
        crew.place.redraw()
        await crew.stand_on("head", "nozzle_gpm")
        crew.keys = 0
        await crew.press("ctrl+r")
        await crew.enter("2")
        assert crew.at == ("zone", "name")
        assert crew.keys == 3
        assert [zone.number for zone in crew.open_job.job.zones] == [1, 2, 3]
        lengths = [run.length_ft for run in crew.open_job.job.pipe_runs]
        assert lengths == [12, 12, 12]
        for place, table, column in (
            ("ground", "pipe_run", "add run"),
            ("ground", "flush", "flush"),
            ("boxes", "valve", "colour"),
        ):
            await crew.go(place)
            count = len(crew.open_job.job.zones)
            await crew.stand_on(table, column, cells_of(crew, table, column)[-1])
            await crew.press("ctrl+r", "enter")
            assert len(crew.open_job.job.zones) == count + 1
        await crew.go("street")
        await crew.press("ctrl+r")
        assert crew.said.startswith("Move to a zone first")


async def test_the_round_of_photos_names_each_by_what_it_shows(
    book_file: Path, tmp_path: Path
) -> None:
    async with at_a_new_property(book_file) as crew:
        rows.add_box(crew.open_job)
        await zones(crew, 1)
        camera = tmp_path / "c"
        camera.mkdir()
        for name in ("1.jpg", "2.jpg"):
            Image.new("RGB", (4, 4)).save(camera / name)
        await crew.press("ctrl+t")
        assert crew.at == ("valve_box", "location")
        assert crew.said == "Photo of valve box A, lid off (2 photos missing). Ctrl+A attaches it."
        await crew.press("ctrl+a")
        await crew.enter(str(camera / "1.jpg"))
        crew.keys = 0
        await crew.press("ctrl+t", "ctrl+a", "enter")
        assert crew.keys == 3
        assert crew.at == ("backfill", "cover_in")
        notes = [(file.name, file.note) for file in crew.open_job.job.attachments]
        assert notes == [
            ("1.jpg", "valve box A, lid off"),
            ("2.jpg", "trench of zone 1, open"),
        ]
        await crew.press("ctrl+t")
        assert crew.said.startswith("Each box, tee, crossing, trench, assembly and controller")
        assert isinstance(crew.app.screen, JobScreen)


@pytest.mark.parametrize("where", ["board", "place"])
def test_no_key_asks_for_two_actions(where: Where) -> None:
    keys = [key for action in offered(where) for key in action.keys]
    assert sorted(keys) == sorted(set(keys))


async def test_a_nozzle_typed_by_its_name_says_what_it_entered_and_waits_for_the_flow(
    book_file: Path,
) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.go("ground")
        await crew.enter("Front lawn")
        await crew.stand_on("pipe_run", "add run", crew.open_job.job.zones[0].id)
        await crew.press("enter")
        await crew.stand_on("head", "nozzle_gpm")
        await crew.enter("15h")
        assert crew.at == ("head", "nozzle_gpm")
        assert "Radius 15 ft, arc 180 deg is entered" in crew.said
        await crew.enter("1.85")
        assert crew.at == ("head", "rated_psi")
        head = crew.open_job.job.heads[0]
        assert (head.nozzle_gpm, head.radius_ft, head.arc_deg) == (1.85, 15, 180)


async def test_what_adds_a_row_is_whole_beside_a_row_that_is_scrolled(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.go("ground")
        await crew.enter("Front lawn")
        await crew.press("tab", "tab", "tab", "tab", "tab", "tab")
        assert "< " in crew.screen()
        assert "+ a zone" in crew.screen()
