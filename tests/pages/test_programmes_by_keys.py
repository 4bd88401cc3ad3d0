"""The programme sheet and the month, by keys alone, at three sizes."""

from __future__ import annotations

from pathlib import Path

import pytest
from crew import Crew, at_a_new_property

from fieldbook.actions import rows
from fieldbook.actions.rules import choose_rules
from fieldbook.actions.watering.place_rules import FROM_RULE_SET, chosen_rule
from fieldbook.checks.watering.controller.job_permits import law_of_job
from fieldbook.records.base import natural_id
from fieldbook.records.ids import once_id, weather_month_id, zone_watering_id
from fieldbook.store.changes import Change, Put
from fieldbook.trade.rules.keys import WATERING, to_text
from fieldbook.trade.watering.place_laws import places

SIZES = ((60, 18), (80, 24), (120, 40))


def water(crew: Crew, zones: int) -> None:
    """Zones whose need is known, on a property under the rule of Melbourne, Florida."""
    for _ in range(zones):
        rows.add_zone(crew.open_job)
    job = crew.open_job.job
    job_id = job.job.id
    changes: list[Change] = []
    for month in range(1, 13):
        row_id = weather_month_id(job_id, str(month))
        changes.append(Put("weather_month", row_id, "et_in", 4.0, {"month": month}))
    for zone in job.zones:
        row_id = zone_watering_id(zone.id)
        seed = {"zone_id": zone.id}
        changes.append(Put("zone_watering", row_id, "area_ft2", 900.0, seed))
        changes.append(Put("zone_watering", row_id, "planting", "warm-season lawn", seed))
        changes.append(Put("zone", zone.id, "soil", "loam"))
        changes.append(Put("zone", zone.id, "design_flow_gpm", 9.0))
    row_id = natural_id(job_id, "rule", WATERING)
    value = to_text(places()["Melbourne, Florida"])
    changes.append(Put("rule", row_id, "value", value, {"key": WATERING}))
    facts = once_id(job_id, "watering_facts")
    for column, known in (("house_number", 17), ("property_kind", "home"), ("water", "public")):
        changes.append(Put("watering_facts", facts, column, known))
    crew.open_job.commit(changes, "water")


@pytest.mark.parametrize("size", SIZES)
async def test_a_programme_is_typed_and_its_month_read(
    book_file: Path, size: tuple[int, int]
) -> None:
    async with at_a_new_property(book_file, size) as crew:
        water(crew, 2)
        await crew.go("controller")
        await crew.stand_on("programme", "add programme")
        await crew.enter("mon", "5am 8:30")
        (row,) = crew.open_job.job.programmes
        assert (row.name, row.days, row.starts) == ("A", "Mon", "05:00, 08:30")
        await crew.stand_on("programme_minutes", "run_min")
        await crew.enter("20")
        (minutes,) = crew.open_job.job.programme_minutes
        assert (minutes.terminal, minutes.run_min) == (1, 20.0)
        assert "watering not allowed" in crew.flags
        await crew.press("alt+m")
        told = await crew.read_page()
        assert "Mon" in told
        assert "run" in told
        await crew.press("pagedown", "right", "space", "escape")
        await crew.stand_on("programme", "days", row.id)
        await crew.enter("sunny")
        assert "Days takes days such as Mon Wed Fri" in crew.said
        assert crew.open_job.job.programmes[0].days == "Mon"


async def test_programmes_are_worked_out_as_one_act(book_file: Path) -> None:
    async with at_a_new_property(book_file, (80, 24)) as crew:
        water(crew, 3)
        await crew.go("controller")
        await crew.stand_on("programme", "work out")
        await crew.press("enter")
        found = crew.open_job.job.programmes
        assert found
        assert crew.said.startswith("Worked out")
        assert "watering not allowed" not in crew.flags
        assert sum(one.run_min or 0 for one in crew.open_job.job.programme_minutes) > 0
        await crew.press("ctrl+z")
        assert crew.open_job.job.programmes == ()
        assert crew.open_job.job.programme_minutes == ()
        await crew.press("ctrl+y")
        assert len(crew.open_job.job.programmes) == len(found)


async def test_nothing_is_worked_out_while_no_need_is_known(book_file: Path) -> None:
    async with at_a_new_property(book_file, (80, 24)) as crew:
        rows.add_zone(crew.open_job)
        await crew.go("controller")
        await crew.stand_on("programme", "work out")
        await crew.press("enter")
        assert "is left out: enter" in crew.said
        assert crew.open_job.job.programmes == ()


async def test_the_month_explains_its_signs(book_file: Path) -> None:
    async with at_a_new_property(book_file, (80, 24)) as crew:
        water(crew, 1)
        await crew.go("controller")
        await crew.stand_on("programme", "month")
        await crew.press("enter", "question_mark")
        assert "bars a run" in crew.screen()


async def test_the_published_rule_of_a_place_is_chosen_and_stays(book_file: Path) -> None:
    async with at_a_new_property(book_file, (80, 24)) as crew:
        rows.add_zone(crew.open_job)
        await crew.go("controller")
        await crew.stand_on("rule", "watering rule")
        assert crew.cell.text == FROM_RULE_SET
        await crew.press("enter")
        await crew.type("Riverside")
        await crew.press("enter")
        assert "Riverside, Illinois" in crew.said
        assert law_of_job(crew.open_job.job).days
        # Another rule set, which says nothing of watering, leaves it as it is.
        choose_rules(crew.open_job, "Texas, locating only")
        assert chosen_rule(crew.open_job.job) == "Riverside, Illinois"
        await crew.stand_on("rule", "watering rule")
        await crew.press("enter", "home", "enter")
        assert chosen_rule(crew.open_job.job) == FROM_RULE_SET
        assert "days" in law_of_job(crew.open_job.job).unread
