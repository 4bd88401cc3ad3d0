"""Holds, overrides, rule sets, files, ties and the day, by keys."""

from __future__ import annotations

from pathlib import Path

import pytest
from crew import Crew, at_a_new_property, at_the_truck
from legible import legible, painted
from PIL import Image

from fieldbook.actions.rules import FOLDER
from fieldbook.checks.progress.holds import BACKFILL
from fieldbook.screens.pages.page import Page
from fieldbook.screens.pages.photo_page import PhotoPage
from fieldbook.screens.pages.picture_page import PicturePage
from fieldbook.screens.widgets.theme import THEMES

SIZES = ((80, 24), (120, 40), (60, 18))


async def with_a_zone(crew: Crew) -> str:
    """Add a zone with a run and a head; return its id."""
    await crew.go("ground")
    await crew.stand_on("zone", "add zone")
    await crew.press("enter")
    await crew.enter("lawn")
    await crew.stand_on("pipe_run", "add run", crew.open_job.job.zones[0].id)
    await crew.press("enter")
    return crew.open_job.job.zones[0].id


async def test_a_hold_says_what_is_missing_and_ctrl_o_overrides_it(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        zone_id = await with_a_zone(crew)
        await crew.stand_on("backfill", "sign")
        await crew.press("space")
        assert crew.said.startswith("Hold 7, no nozzle and no backfill before the lateral")
        assert crew.open_job.job.signed(BACKFILL, zone_id) is None
        await crew.press("ctrl+o")
        await crew.enter("A. Foreman")
        await crew.enter("sod was on the truck")
        signed = crew.open_job.job.signed(BACKFILL, zone_id)
        assert signed is not None
        assert signed.override_by == "A. Foreman"
        assert "override" in crew.screen()
        assert "hold overridden" in crew.flags
        await crew.press("ctrl+z", "enter")
        assert crew.open_job.job.signed(BACKFILL, zone_id) is not None
        await crew.press("ctrl+z", "down", "enter")
        assert crew.open_job.job.signed(BACKFILL, zone_id) is None


async def test_an_override_that_is_abandoned_signs_nothing(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await with_a_zone(crew)
        await crew.press("ctrl+o")
        assert "Move to a sign-off first" in crew.said
        await crew.stand_on("backfill", "sign")
        await crew.press("ctrl+o", "enter")
        await crew.enter("A. Foreman")
        await crew.press("escape")
        assert crew.open_job.job.sign_offs == ()


async def test_digging_is_signed_at_the_ground_and_says_what_it_waits_for(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.go("ground")
        await crew.stand_on("sign_off", "sign off", "dig")
        assert "waits for 1 hold" in crew.screen()
        await crew.press("space")
        assert "the permit's number" in crew.said
        await crew.stand_on("permit", "add permit")
        await crew.press("enter")
        await crew.enter("irrigation", "26-118")
        await crew.stand_on("locate_ticket", "add ticket")
        await crew.press("enter")
        await crew.enter("2604")
        assert len(crew.open_job.job.locate_tickets) == 1
        await crew.stand_on("locate_ticket", "clear_on")
        await crew.enter("yesterday")
        await crew.stand_on("locate_ticket", "private_lines")
        await crew.press("space")
        await crew.stand_on("sign_off", "sign off", "dig")
        await crew.press("space")
        assert "each utility's answer" in " ".join(crew.said.split())
        await crew.stand_on("utility_answer", "add utility answer")
        await crew.press("enter")
        for answer in ("clear", "marked", "clear", "clear", "clear"):
            assert crew.at == ("utility_answer", "answer")
            await crew.enter(answer)
            await crew.press("left", "down")
        await crew.stand_on("sign_off", "sign off", "dig")
        await crew.press("space", "space", "enter")
        assert crew.open_job.job.signed("dig") is None
        await crew.sign()
        assert crew.open_job.job.signed("dig") is not None


async def test_days_and_times_can_be_typed_in_short(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await with_a_zone(crew)
        await crew.stand_on("pressure_test", "cemented_at")
        await crew.enter("2026-05-01 14:30")
        assert crew.open_job.job.pressure_tests[0].cemented_at == "2026-05-01T14:30"
        await crew.stand_on("pressure_test", "began_at")
        await crew.enter("now")
        assert "cured" in crew.screen() or "2026" in crew.screen()
        await crew.stand_on("pressure_test", "ended_at")
        await crew.enter("soon")
        assert "a time such as 14:30" in crew.said


async def test_a_rule_set_can_be_compared_and_chosen(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        folder = book_file.parent / FOLDER
        folder.mkdir()
        (folder / "town.toml").write_text(
            'name = "Springfield"\neffective = 2026-01-01\n[rules."static_psi"]\nvalue = 60\n'
            'source = "City code 7"\n'
        )
        await crew.enter("72")
        await crew.press("f3", "down", "enter")
        assert isinstance(crew.app.screen, Page)
        assert "Static pressure without a regulator: 80 psi here, 60 psi there." in crew.screen()
        assert "Static pressure is 72 psi" in crew.screen()
        await crew.press("escape")
        await crew.go("desk")
        await crew.stand_on("local_rules", "rule set")
        await crew.press("enter", "down", "enter")
        assert "static too high" in crew.flags
        assert "Springfield" in crew.screen()


async def test_a_photo_is_attached_listed_and_shown(book_file: Path, tmp_path: Path) -> None:
    Image.new("RGB", (40, 30), (10, 120, 30)).save(tmp_path / "trench.png")
    async with at_a_new_property(book_file) as crew:
        await with_a_zone(crew)
        await crew.stand_on("zone", "name")
        await crew.press("ctrl+a")
        await crew.enter(str(tmp_path / "none.png"))
        assert "There is no file" in crew.said
        await crew.press("ctrl+a")
        await crew.enter(str(tmp_path / "trench.png"))
        assert "Attached trench.png to the zone" in crew.said
        await crew.go("desk")
        await crew.stand_on("attachment", "file")
        assert "zone 1" in crew.screen()
        await crew.press("enter")
        assert isinstance(crew.app.screen, PhotoPage)
        assert "▀" in crew.screen()
        await crew.press("escape")


@pytest.mark.parametrize("size", SIZES)
async def test_ties_locate_a_box_and_f4_draws_it(book_file: Path, size: tuple[int, int]) -> None:
    async with at_a_new_property(book_file, size) as crew:
        await crew.go("boxes")
        await crew.stand_on("valve_box", "add box")
        await crew.enter("by the gate")
        for name, along in (("garage", "0"), ("porch", "40")):
            await crew.stand_on("fixed_point", "add fixed point")
            await crew.press("enter")
            await crew.enter(name)
            point = next(one for one in crew.open_job.job.fixed_points if one.name == name)
            if along != "0":
                await crew.stand_on("fixed_point", "along_ft", point.id)
                await crew.enter(along)
        await crew.stand_on("tie", "add tie")
        await crew.press("enter")
        tie = crew.open_job.job.ties[0]
        assert (tie.thing, tie.name) == ("valve box", "A")
        await crew.stand_on("tie", "tape_1_ft")
        await crew.enter("31.5")
        await crew.stand_on("tie", "tape_2_ft")
        await crew.enter("24")
        assert "tie has two sides" in crew.flags
        await crew.stand_on("tie", "side")
        await crew.enter("left")
        assert "tie has two sides" not in crew.flags
        await crew.press("f4")
        assert isinstance(crew.app.screen, PicturePage)
        assert "As-built plan" in crew.screen()
        await crew.press("escape")


@pytest.mark.parametrize("theme", [theme.name for theme in THEMES])
async def test_the_day_and_the_plan_are_legible(theme: str) -> None:
    async with at_the_truck(None) as crew:
        if crew.app.theme != theme:
            await crew.press("ctrl+l")
        await crew.press("f7")
        assert isinstance(crew.app.screen, Page)
        assert "Can be done now" in crew.screen()
        assert all(legible(segment) for segment in painted(crew))
        await crew.press("escape", "enter", "f4")
        assert "garage, left front corner" in crew.screen() or "As-built" in crew.screen()
        assert all(legible(segment) for segment in painted(crew))
