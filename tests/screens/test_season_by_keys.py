"""Closing with air at the service, and what the owner signs at the desk, by the keys."""

from __future__ import annotations

from pathlib import Path

import pytest
from crew import Crew, at_a_new_property

from fieldbook.checks.desk.owner_shown import WALK_THROUGH
from fieldbook.records.days import day_of

SIZES = ((80, 24), (120, 40), (60, 18))


async def lay_a_run(crew: Crew) -> None:
    await crew.go("ground")
    await crew.stand_on("pipe_run", "add run", "")
    await crew.press("enter")
    for column, text in (("size", "1"), ("pipe_class", "pvc sch 40"), ("length_ft", "200")):
        await crew.stand_on("pipe_run", column)
        await crew.enter(text)


@pytest.mark.parametrize("size", SIZES)
async def test_a_closing_with_air_shows_its_cautions_its_time_and_its_stop(
    book_file: Path, size: tuple[int, int]
) -> None:
    async with at_a_new_property(book_file, size) as crew:
        await lay_a_run(crew)
        job = crew.open_job
        visit_id = job.add("visit", {"reason": "winterising", "held_on": "2026-05-02"}, "visit")
        await crew.go("street")
        await crew.go("service")
        for column, text in (("way", "blown"), ("compressor_cfm", "10")):
            await crew.stand_on("season_plan", column)
            await crew.enter(text)
        await crew.stand_on("season_work", "regulator_psi")
        assert "Air: 50 psi at most on plastic" in crew.screen() or size[1] == 18
        await crew.enter("60")
        (work,) = job.job.season_works
        assert (work.visit_id, work.regulator_psi) == (visit_id, 60.0)
        assert "air over the limit" in [flag.code for flag in job.findings]
        await crew.stand_on("season_work", "regulator_psi")
        await crew.enter("45")
        assert "air over the limit" not in [flag.code for flag in job.findings]
        await crew.stand_on("season_zone", "emptied")
        await crew.press("y")
        (main,) = job.job.season_zones
        assert (main.emptied, main.zone_id or None) == (True, None)
        # 200 ft of 1 in Schedule 40 at 50 psi: 1.2 ft3, 5.28 ft3 of free air, 32 s at 10 cfm.
        await crew.stand_on("season_zone", "emptied")
        assert "Mainline 32 s" in crew.screen()


async def test_a_refusal_with_its_hour_is_signed_and_a_change_order_is_numbered(
    book_file: Path,
) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.go("desk")
        await crew.stand_on("change_order", "add change order")
        await crew.enter("a drip zone along the fence")
        (order,) = crew.open_job.job.change_orders
        assert (order.number, order.changed) == (1, "a drip zone along the fence")
        assert day_of(order.asked_on) is not None
        await crew.stand_on("change_order", "price")
        await crew.enter("-125.50")
        assert crew.open_job.job.change_orders[0].price == -125.5
        await crew.stand_on("walk_through", "manual")
        await crew.press("n")
        await crew.stand_on("walk_through", "all handed over")
        await crew.press("space")
        held = crew.open_job.job.walk_through
        assert held is not None
        assert (held.checklist, held.manual, held.season_taught) == (True, False, True)
        await crew.stand_on("walk_through", "all handed over")
        await crew.press("space")
        assert "answered already" in crew.said
        await crew.stand_on("walk_through", "refused")
        await crew.press("y")
        await crew.stand_on("sign_off", "sign off", WALK_THROUGH)
        await crew.press("space")
        assert crew.open_job.job.signed(WALK_THROUGH) is None
        assert "the day and hour at which the owner refused" in crew.said
        await crew.stand_on("walk_through", "refused_at")
        await crew.enter("2026-05-01 16:40")
        await crew.stand_on("sign_off", "sign off", WALK_THROUGH)
        await crew.sign()
        assert crew.open_job.job.signed(WALK_THROUGH) is not None
