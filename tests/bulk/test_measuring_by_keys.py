"""Measuring a zone and auditing it at the service, by keys and by a pasted table."""

from __future__ import annotations

from pathlib import Path

import pytest
from crew import Crew, at_a_new_property

from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import new_property
from fieldbook.actions.rows import add_zone, remove_row
from fieldbook.checks.finding import CellRef
from fieldbook.checks.measured.audits import audited_uniformity
from fieldbook.checks.measured.compared import measured_flow
from fieldbook.screens.pages.picture_page import PicturePage
from fieldbook.screens.sheets import BUILDERS
from fieldbook.screens.sheets.pasting import paste_table
from fieldbook.store.book import Book

CANS = "9 11 11 13 17 14 15 15 13 15 13 16 14 11 17 11 14 17 9 16"


async def with_a_zone(crew: Crew) -> str:
    """Add a zone and go to the service; return its id."""
    await crew.go("ground")
    await crew.stand_on("zone", "add zone")
    await crew.press("enter")
    await crew.enter("lawn")
    await crew.go("service")
    return crew.open_job.job.zones[0].id


async def test_a_zone_is_timed_by_the_meter(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        zone_id = await with_a_zone(crew)
        await crew.stand_on("zone_measurement", "add measured zone")
        # The static, the dial's unit, the dial twice and the seconds, each with Enter.
        await crew.enter("62", "cubic", "1204", "1206", "75")
        row = crew.open_job.job.zone_measurements[0]
        assert (row.zone_id, row.static_psi, row.dial_s) == (zone_id, 62.0, 75.0)
        found = measured_flow(crew.open_job.job, zone_id)
        assert found is not None
        # 2 ft3 are 14.96 gal; in 75 s that is 11.97 gpm.
        assert found.gpm == pytest.approx(11.97, abs=0.005)
        assert "11.97 gpm ±" in crew.screen()


async def test_cans_are_typed_one_after_another(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        zone_id = await with_a_zone(crew)
        await crew.stand_on("catch_audit", "add catch-can audit")
        await crew.enter("30", "2", "mL", "3 in")
        audit = crew.open_job.job.catch_audits[0]
        await crew.stand_on("catch_can", "add can", audit.id)
        await crew.press("enter")
        assert "Type what the can holds" in crew.said
        await crew.enter("9", "11", "11")
        assert [can.caught_ml for can in crew.open_job.job.catch_cans] == [9.0, 11.0, 11.0]
        assert crew.at == ("catch_can", "add can")
        await crew.enter(CANS[8:])
        assert [can.number for can in crew.open_job.job.catch_cans] == list(range(1, 21))
        assert audited_uniformity(crew.open_job.job, zone_id) is not None
        await crew.press("ctrl+z")
        assert len(crew.open_job.job.catch_cans) == 3
        await crew.enter("7 eight")
        assert len(crew.open_job.job.catch_cans) == 3


async def test_the_drawing_of_an_audit_opens(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await with_a_zone(crew)
        await crew.stand_on("catch_audit", "add catch-can audit")
        await crew.enter("30")
        audit = crew.open_job.job.catch_audits[0]
        await crew.stand_on("catch_can", "add can", audit.id)
        await crew.enter(CANS)
        await crew.stand_on("catch_audit", "drawing", audit.id)
        await crew.press("enter")
        assert isinstance(crew.app.screen, PicturePage)
        assert "the driest" in await crew.read_page()


def test_cans_are_pasted_with_where_they_stood(book: Book) -> None:
    open_job = OpenJob(book, new_property(book, "12 Elm Street", "AB"), "AB")
    zone_id = add_zone(open_job)
    audit_id = open_job.add("catch_audit", {"zone_id": zone_id, "caught_as": "mL"}, "audit")
    table = "\n".join(f"{caught}\t{5 * no} ft\t0" for no, caught in enumerate(CANS.split()))
    at = CellRef("catch_can", audit_id, "add can")
    pasted = paste_table(open_job, BUILDERS["service"], at, f"Caught\tAlong\tOut\n{table}")
    assert pasted.rows_added == 20
    pasted.keep()
    cans = open_job.job.catch_cans
    assert [can.caught_ml for can in cans] == [float(one) for one in CANS.split()]
    assert (cans[3].along_ft, cans[3].out_ft, cans[3].audit_id) == (15.0, 0.0, audit_id)
    remove_row(open_job, "catch_audit", audit_id)
    assert open_job.job.catch_cans == ()
    open_job.undo()
    assert open_job.undo() == "20 rows pasted"
