"""The places for what a crew had to write into notes: makes, meters, isolation valves, plants."""

from __future__ import annotations

from pathlib import Path

import pytest
from crew import at_a_new_property

SIZES = ((80, 24), (60, 18))


@pytest.mark.parametrize("size", SIZES)
async def test_an_isolation_valve_is_a_row_of_the_street(
    book_file: Path, size: tuple[int, int]
) -> None:
    async with at_a_new_property(book_file, size) as crew:
        await crew.stand_on("isolation_valve", "add isolation valve")
        await crew.enter("by the meter")
        assert crew.at == ("isolation_valve", "shuts")
        await crew.enter("the irrigation")
        await crew.stand_on("isolation_valve", "kind")
        await crew.enter("gate")
        await crew.stand_on("isolation_valve", "found")
        await crew.enter("half shut")
        (valve,) = crew.open_job.job.isolation_valves
        assert (valve.location, valve.shuts) == ("by the meter", "the irrigation")
        assert (valve.kind, valve.found) == ("gate", "half shut")
        await crew.stand_on("isolation_valve", "found")
        await crew.press("ctrl+d")
        assert crew.open_job.job.isolation_valves == ()
        await crew.press("ctrl+z")
        assert len(crew.open_job.job.isolation_valves) == 1


async def test_every_new_fact_has_its_cell_and_keeps_what_is_typed(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        for table, column, text in (
            ("job", "email", "a@example.org"),
            ("job", "billing_address", "Box 7"),
            ("supply", "meter_number", "M-55120"),
        ):
            await crew.stand_on(table, column)
            await crew.enter(text)
            await crew.stand_on(table, column)
            assert crew.cell.text == text
        await crew.go("controller")
        for column in ("make", "model", "serial"):
            await crew.stand_on("controller", column)
            await crew.enter(f"C {column}")
        await crew.go("ground")
        await crew.stand_on("zone", "add zone")
        await crew.press("enter")
        for column, text in (("soil", "clay loam"), ("slope_pct", "8"), ("sun", "full sun")):
            await crew.stand_on("zone", column)
            await crew.enter(text)
        await crew.stand_on("zone", "plants")
        await crew.enter("yarrow")
        zone = crew.open_job.job.zones[0]
        assert (zone.soil, zone.slope_pct, zone.sun) == ("clay loam", 8, "full sun")
        held = crew.open_job.job.controller
        assert held is not None
        assert (held.make, held.model, held.serial) == ("C make", "C model", "C serial")


async def test_the_printed_rating_is_asked_only_where_no_standard_has_one(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.go("ground")
        await crew.stand_on("pipe_run", "add run", "")
        await crew.press("enter")
        for pipe_class, asked in (("pvc sch 40", False), ("pe sidr", True)):
            await crew.stand_on("pipe_run", "size")
            await crew.enter("1")
            await crew.stand_on("pipe_run", "pipe_class")
            await crew.enter(pipe_class)
            assert (await crew.stand_on("pipe_run", "rating_psi")).open == asked
        await crew.enter("200")
        assert crew.open_job.job.pipe_runs[0].rating_psi == 200
        assert not (await crew.stand_on("pipe_run", "rating_psi")).open
