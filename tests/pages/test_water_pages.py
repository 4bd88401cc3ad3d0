"""The desk's hydraulic check and the ground's pressures, by keys, at three sizes."""

from __future__ import annotations

import pytest
from crew import at_the_truck
from legible import legible, painted

from fieldbook.checks.water.zone_status import zone_statuses
from fieldbook.screens.pages.zone_page import ZonePage
from fieldbook.screens.widgets.theme import THEMES

SIZES = ((80, 24), (120, 40), (60, 18))


@pytest.mark.parametrize("size", SIZES)
async def test_a_zone_over_its_supply_shows_what_mends_it(size: tuple[int, int]) -> None:
    async with at_the_truck(None, size) as crew:
        await crew.open("208 Quarry Road", "desk")
        zone = next(one.id for one in crew.open_job.job.zones if one.number == 2)
        await crew.stand_on("zone", "water", zone)
        assert "over supply" in crew.screen()
        await crew.press("enter")
        assert isinstance(crew.app.screen, ZonePage)
        told = await crew.read_page()
        for words in (
            "Zone 2 (orchard)",
            "✗ wrong: over supply",
            "Governs: draw",
            "Lay the service line in 1-1/2 in",
            "It works down to",
            "Split it in 3",
            "◆ zone 2 works at 17 gpm, 63.6 psi",
            "static pressure 74.0",
            "left at the head",
        ):
            assert words in told, words
        await crew.press("escape")
        assert crew.at == ("zone", "water")


async def test_a_zone_that_can_not_be_solved_says_what_is_missing() -> None:
    async with at_the_truck(None) as crew:
        await crew.open("208 Quarry Road", "ground")
        job = crew.open_job.job
        zone = next(one.id for one in job.zones if one.number == 3)
        await crew.stand_on("pipe_run", "length_ft", job.runs_of(zone)[0].id)
        await crew.press("delete")
        await crew.go("desk")
        await crew.stand_on("zone", "water", zone)
        assert "open" in crew.cell.text
        await crew.press("space")
        page = await crew.read_page()
        assert "Not worked out yet: the length of run 1 of zone 3" in page
        assert "All that is asked of it is met" not in page


async def test_the_ground_has_a_word_for_each_head_s_pressure() -> None:
    async with at_the_truck(None) as crew:
        await crew.open("14 Alder Lane", "ground")
        first = crew.open_job.job.runs_of(crew.open_job.job.zones[0].id)[0]
        await crew.stand_on("pipe_run", "rise_ft", first.id)
        assert "psi good" in crew.screen()
        await crew.enter("60")
        assert "psi low" in crew.screen()
        assert [flag.code for flag in crew.open_job.findings if flag.place == "ground"]


async def test_a_wrong_pipe_size_is_flagged_by_the_key_that_enters_it() -> None:
    async with at_the_truck(None) as crew:
        await crew.open("14 Alder Lane", "ground")
        main = crew.open_job.job.runs_of(None)[0]
        await crew.stand_on("pipe_run", "size", main.id)
        assert "water too fast" not in crew.flags
        await crew.type("3/4")
        await crew.pilot.press("enter")
        assert "water too fast" in crew.flags
        await crew.pilot.pause()
        assert "ft/s" in crew.screen()
        await crew.press("ctrl+z")
        assert "water too fast" not in crew.flags


async def test_friction_law_and_water_temperature_are_chosen_at_the_desk() -> None:
    async with at_the_truck(None) as crew:
        await crew.open("14 Alder Lane", "desk")
        await crew.stand_on("supply", "friction_law")
        await crew.enter("darcy")
        await crew.stand_on("supply", "water_deg_f")
        await crew.enter("45")
        supply = crew.open_job.job.supply
        assert supply is not None
        assert (supply.friction_law, supply.water_deg_f) == ("darcy-weisbach", 45)
        await crew.stand_on("zone", "water")
        await crew.press("enter")
        assert "Darcy-Weisbach" in await crew.read_page()


@pytest.mark.parametrize("theme", [theme.name for theme in THEMES])
async def test_the_page_is_legible_in_both_themes(theme: str) -> None:
    async with at_the_truck(None) as crew:
        if crew.app.theme != theme:
            await crew.press("ctrl+l")
        await crew.open("208 Quarry Road", "desk")
        zone = next(one.id for one in crew.open_job.job.zones if one.number == 2)
        await crew.stand_on("zone", "water", zone)
        assert all(legible(segment) for segment in painted(crew))
        await crew.press("enter")
        await crew.read_page()
        assert all(legible(segment) for segment in painted(crew))


async def test_one_key_sizes_the_laterals_and_shows_it_before_it_is_kept() -> None:
    async with at_the_truck(None) as crew:
        await crew.open("208 Quarry Road", "desk")
        zone = next(one.id for one in crew.open_job.job.zones if one.number == 3)
        held = crew.open_job
        before = [run.size for run in held.job.runs_of(zone)]
        await crew.stand_on("zone", "water", zone)
        await crew.press("enter")
        await crew.press("s")
        shown = crew.screen()
        assert "Sizes for the laterals of zone 3" in shown
        assert "becomes" in shown
        assert [run.size for run in held.job.runs_of(zone)] == before
        await crew.press("escape")
        assert [run.size for run in held.job.runs_of(zone)] == before
        await crew.press("s")
        await crew.press("enter")
        after = [run.size for run in held.job.runs_of(zone)]
        assert after != before
        status = next(one for one in zone_statuses(held.job) if one.zone.id == zone)
        assert status.word in ("good", "tight")
        await crew.press("ctrl+z")
        assert [run.size for run in held.job.runs_of(zone)] == before


async def test_laterals_that_are_signed_as_buried_are_not_sized() -> None:
    async with at_the_truck(None) as crew:
        await crew.open("14 Alder Lane", "desk")
        await crew.stand_on("zone", "water")
        await crew.press("enter")
        await crew.press("s")
        assert "signed as buried: its sizes stay as they are" in crew.screen()
