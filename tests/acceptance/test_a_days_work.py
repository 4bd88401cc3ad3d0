"""A day's work at 80x24 on a real book: from first run to a check without stops, and reopened."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from crew import Crew, at_the_truck
from examples import few_or_many

from fieldbook.actions.signing import flushed
from fieldbook.checks.next_step import next_step
from fieldbook.checks.registry import check, counts
from fieldbook.jobfile.write import write_job
from fieldbook.records.ids import backfill_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.screens.widgets.dialogs import Choose
from fieldbook.store.book import Book

COLOURS = ("red", "blue", "green", "orange", "black", "yellow")


@dataclass(frozen=True)
class Day:
    """What is laid on the day, and the mistakes that are made."""

    zones: int
    static: str = "62"
    last_design: str = ""
    swapped: bool = False

    @property
    def colours(self) -> tuple[str, ...]:
        """The wire of each zone's valve."""
        return COLOURS[: self.zones]

    @property
    def terminals(self) -> tuple[str, ...]:
        """The wire under each zone's terminal."""
        *most, one, other = self.colours
        return (*most, other, one) if self.swapped else self.colours


async def on(crew: Crew, table: str, column: str, *texts: str) -> None:
    """Check where the cursor stands, then fill in each text and what is open after it."""
    assert crew.at == (table, column), (crew.at, crew.said)
    await crew.fill(*texts)


async def add(crew: Crew, table: str, column: str) -> None:
    """Check where the cursor stands, then add a row there."""
    await on(crew, table, column)
    await crew.press("enter")


async def ticks(crew: Crew, *presses: int) -> None:
    """Press Space so many times (1 yes, 2 no) in each cell, then go to the next open one."""
    for count in presses:
        await crew.press(*["space"] * count, "ctrl+n")


async def street(crew: Crew, day: Day) -> None:
    """The customer, pressure, meter and service line, the backflow assembly."""
    await on(crew, "job", "customer", "A. Customer")
    await crew.stand_on("supply", "static_psi")
    await on(crew, "supply", "static_psi", day.static)
    await ticks(crew, 2)
    await on(crew, "supply", "meter_size", "3/4", "copper L", "1", "40")
    # No hazard: one key on the first line of the hazards answers all of them.
    assert crew.at == ("supply", "chemicals")
    await crew.press("up", "space")
    await crew.stand_on("backflow_assembly", "add backflow")
    await crew.press("enter")
    await crew.fill("PVB", "A 1207", "2026-04-21", "1.5")
    assert crew.at == ("backflow_assembly", "exposed_pvc"), crew.at
    await crew.press("space", "space")


async def zones(crew: Crew, day: Day) -> None:
    """All zones, then the lateral of each: a run with a head, repeated twice."""
    await crew.go("ground")
    for number in range(1, day.zones + 1):
        await add(crew, "zone", "add zone")
        await on(crew, "zone", "name", f"lawn {number}")
        if number == 1:
            await on(crew, "zone", "head_kind", "spray")
        assert crew.at == ("zone", "design_flow_gpm")
        # The flow of the zone is left blank: it is the sum of its nozzles.
        while crew.at != ("zone", "add zone"):
            await crew.press("down")
    for zone in crew.open_job.job.zones:
        await crew.go("ground")
        await add(crew, "pipe_run", "add run")
        await on(crew, "pipe_run", "size", "1", "pvc sdr 21", "12")
        await on(crew, "head", "nozzle_gpm", "2")
        await crew.enter("30")
        for _ in range(2):
            await crew.stand_on("pipe_run", "add run", zone.id)
            await crew.press("enter")
            assert crew.at == ("pipe_run", "length_ft")
    if day.last_design:
        await crew.stand_on("zone", "design_flow_gpm", crew.open_job.job.zones[-1].id)
        await crew.enter(day.last_design)


async def boxes(crew: Crew, day: Day) -> None:
    """One box, one cable, the colour at each valve, the splices."""
    await crew.go("boxes")
    await add(crew, "valve_box", "add box")
    await on(crew, "valve_box", "location", "by the drive")
    await ticks(crew, 1)
    await crew.go("boxes")
    await add(crew, "cable", "add cable")
    await on(crew, "cable", "conductors", "white, " + ", ".join(COLOURS) + ", brown")
    await crew.stand_on("cable", "common_waterproof")
    await crew.press("space")
    await crew.go("boxes")
    for colour in day.colours:
        assert crew.at == ("valve", "colour")
        await crew.press(next(one.key for one in crew.cell.options if one.word == colour))
    await crew.go("boxes")
    for _ in range(day.zones):
        assert crew.at == ("valve", "splice_waterproof")
        await crew.press("space", "down")


async def ground(crew: Crew, day: Day) -> None:
    """Flush every zone, then sign what is fit to bury."""
    await crew.go("ground")
    await crew.stand_on("flush", "flush")
    for _ in range(day.zones):
        assert crew.at[0] == "flush"
        await crew.press("home", "space")
    job = crew.open_job.job
    for zone in job.zones:
        await crew.stand_on("backfill", "cover_in", backfill_id(job.job.id, zone.id))
        await crew.enter("12")
        await crew.stand_on("backfill", "usual", backfill_id(job.job.id, zone.id))
        await crew.press("space")
        await crew.go("ground")
        await crew.stand_on("backfill", "sign", backfill_id(job.job.id, zone.id))
        await crew.sign()
        if isinstance(crew.app.screen, Choose):
            # The signature was refused, so that its keys went on to the cell below.
            await crew.press("escape")


async def controller(crew: Crew, day: Day) -> None:
    """What is under each terminal, and the controller itself."""
    await crew.go("controller")
    for colour in ("white", *day.terminals):
        assert crew.at == ("terminal", "colour")
        option = next((one for one in crew.cell.options if one.word == colour), None)
        if option is None:
            await crew.enter(colour)
            continue
        await crew.press(option.key)
    await crew.go("controller")
    await crew.stand_on("controller", "location")
    await crew.enter("garage wall", "6")
    await ticks(crew, 2, 1, 1, 1)


async def whole_day(crew: Crew, day: Day) -> None:
    """From first run to the controller."""
    await crew.enter("ab")
    await crew.press("insert")
    await crew.enter("12 Elm Street")
    await street(crew, day)
    await zones(crew, day)
    await before_digging(crew)
    await boxes(crew, day)
    await ground(crew, day)
    await controller(crew, day)


def assert_complete(job: LoadedJob, day: Day) -> None:
    """The record is that of a finished property, without a stop."""
    assert counts(check(job))["stop"] == 0
    assert len(job.zones) == day.zones
    assert all(len(job.heads_of(zone.id)) == 3 for zone in job.zones)
    assert all(flushed(job, zone.id) for zone in job.zones)
    assert all(sign and sign.signed_by == "AB" for sign in map(job.backfill_of, ids(job)))
    assert [valve.colour for valve in map(job.valve_of, ids(job)) if valve] == list(day.colours)
    assert [end.colour for end in job.terminals if end.number] == list(day.colours)


async def before_digging(crew: Crew) -> None:
    """The permit and the locate ticket; the ground opens at them."""
    await crew.go("ground")
    assert crew.at == ("permit", "add permit")
    await crew.press("enter")
    await crew.fill("irrigation")
    await on(crew, "permit", "number")
    await crew.enter("26-118")
    await crew.stand_on("locate_ticket", "add ticket")
    await crew.press("enter")
    await crew.enter("2604-118")
    await crew.stand_on("locate_ticket", "clear_on")
    await crew.enter("2026-04-20")
    await crew.stand_on("locate_ticket", "private_lines")
    await crew.press("space")
    await crew.stand_on("utility_answer", "add utility answer")
    await crew.press("enter")
    for answer in crew.open_job.job.utility_answers:
        await crew.stand_on("utility_answer", "answer", answer.id)
        await crew.enter("clear")


def ids(job: LoadedJob) -> list[str]:
    """The zones' ids in order."""
    return [zone.id for zone in job.zones]


@few_or_many("zones", 2, 6)
async def test_a_days_work_from_first_run_to_a_sound_check(book_file: Path, zones: int) -> None:
    day = Day(zones)
    async with at_the_truck(book_file) as crew:
        await whole_day(crew, day)
        assert crew.flags == [], crew.open_job.findings
        assert_complete(crew.open_job.job, day)
        # Nothing is wrong, and much is not checked: nothing was tested.
        assert crew.open_job.verdicts.open_count > 0
        assert "No flags" not in crew.screen()
        step = next_step(crew.open_job.job, crew.open_job.verdicts)
        assert step.sentence == "Test the flow, with its residual pressure."
        job_id, written = crew.open_job.job_id, write_job(crew.open_job.job)
        await crew.press("ctrl+q")
    with Book(book_file) as book:
        assert write_job(book.load(job_id)) == written
    async with at_the_truck(book_file) as crew:
        assert "12 Elm Street" in crew.screen()
        assert "Begun: street, boxes, ground" in crew.screen()
        await crew.press("enter")
        assert write_job(crew.open_job.job) == written
        assert_complete(crew.open_job.job, day)


@few_or_many("zones", 2, 6)
async def test_a_day_with_three_mistakes_is_mended_by_following_the_flags(
    book_file: Path, zones: int
) -> None:
    day = Day(zones, static="92", last_design="24", swapped=True)
    async with at_the_truck(book_file) as crew:
        await whole_day(crew, day)
        places = {flag.code: flag.place for flag in crew.open_job.findings}
        assert places == {
            "flow over supply": "ground",
            "wires crossed": "controller",
            "static too high": "street",
        }
        over = crew.open_job.job.backfill_of(ids(crew.open_job.job)[-1])
        assert over is not None
        assert not over.signed_by  # A stop stands on what it covers.
        await mend(crew, "flow over supply", "6")
        await mend(crew, "static too high", "62")
        await mend(crew, "wires crossed", day.colours[-2])
        (doubled,) = crew.open_job.findings
        assert doubled.place == "controller"
        await mend(crew, doubled.code, day.colours[-1])
        assert crew.flags == []
        # One letter of the colour was enough; the rest began an entry in the next cell.
        await crew.press("escape")
        await crew.go("ground")
        await crew.stand_on("backfill", "sign", over.id)
        await crew.sign()
        assert_complete(crew.open_job.job, day)


async def mend(crew: Crew, code: str, text: str) -> None:
    """Follow a flag to its cell and enter what is right there."""
    flag = next(flag for flag in crew.open_job.findings if flag.code == code)
    await crew.press("ctrl+f", "home", *["down"] * crew.open_job.findings.index(flag), "enter")
    assert crew.place.place == flag.place
    assert crew.cell.at == flag.at
    await crew.enter(text)
