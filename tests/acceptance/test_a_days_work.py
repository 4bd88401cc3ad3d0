"""A day's work at 80x24 on a real book: from first run to a check without stops, and reopened."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from crew import Crew, at_the_truck

from fieldbook.actions.signing import flushed
from fieldbook.checks.next_step import next_step
from fieldbook.checks.registry import check, counts
from fieldbook.jobfile.write import write_job
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.store.book import Book

COLOURS = ("red", "blue", "green", "orange", "black", "yellow")
ZONES = 6


@dataclass(frozen=True)
class Slips:
    """What goes wrong on the day, if anything."""

    static: str = "62"
    last_design: str = ""
    terminals: tuple[str, ...] = COLOURS


async def on(crew: Crew, table: str, column: str, *texts: str) -> None:
    """Check where the cursor stands, then enter each text; Enter moves on."""
    assert crew.at == (table, column), (crew.at, crew.said)
    for text in texts:
        await crew.enter(text)


async def ticks(crew: Crew, *presses: int) -> None:
    """Press Space so many times (1 yes, 2 no) in each cell, then Enter."""
    for count in presses:
        await crew.press(*["space"] * count, "enter")


async def street(crew: Crew, slips: Slips) -> None:
    """Pressure, meter and service line, the backflow assembly."""
    await on(crew, "supply", "static_psi", slips.static, "3/4", "copper L", "1", "40")
    await crew.press("pagedown", "pagedown")
    await on(crew, "backflow_assembly", "add backflow", "")
    await on(crew, "backflow_assembly", "kind", "PVB", "A 1207", "1.5")
    assert crew.at == ("backflow_assembly", "exposed_pvc")
    await crew.press("space", "space")


async def zones(crew: Crew, slips: Slips) -> None:
    """Six zones, then the lateral of each: a run with a head, repeated twice."""
    await crew.go("ground")
    for number in range(1, ZONES + 1):
        await on(crew, "zone", "add zone", "")
        await on(crew, "zone", "name", f"lawn {number}")
        if number == 1:
            await on(crew, "zone", "head_kind", "spray")
        assert crew.at == ("zone", "design_flow_gpm")
        # The flow of the zone is left blank: it is the sum of its nozzles.
        while crew.at != ("zone", "add zone"):
            await crew.press("down")
    for _ in range(ZONES):
        await crew.go("ground")
        await on(crew, "pipe_run", "add run", "")
        await on(crew, "pipe_run", "size", "1", "pvc sdr 21", "12")
        await on(crew, "head", "nozzle_gpm", "2", "30")
        for _ in range(2):
            await on(crew, "pipe_run", "add run", "")
            assert crew.at == ("pipe_run", "length_ft")
            await crew.press("down")
    if slips.last_design:
        await crew.stand_on("zone", "design_flow_gpm", crew.open_job.job.zones[-1].id)
        await crew.enter(slips.last_design)


async def boxes(crew: Crew) -> None:
    """One box, one cable, the colour at each valve, the splices."""
    await crew.go("boxes")
    await on(crew, "valve_box", "add box", "")
    await on(crew, "valve_box", "location", "by the drive")
    await ticks(crew, 1)
    await crew.go("boxes")
    await on(crew, "cable", "add cable", "")
    await on(crew, "cable", "conductors", "white, " + ", ".join(COLOURS) + ", brown")
    await crew.stand_on("cable", "common_waterproof")
    await crew.press("space")
    await crew.go("boxes")
    for colour in COLOURS:
        assert crew.at == ("valve", "colour")
        await crew.press(next(one.key for one in crew.cell.options if one.word == colour))
    await crew.go("boxes")
    for _ in range(ZONES):
        assert crew.at == ("valve", "splice_waterproof")
        await crew.press("space", "down")


async def ground(crew: Crew) -> None:
    """Flush every zone, then sign what is fit to bury."""
    await crew.go("ground")
    for _ in range(ZONES):
        assert crew.at[0] == "flush"
        await crew.press("home", "space")
    for _ in range(ZONES):
        await crew.go("ground")
        assert crew.at == ("backfill", "cover_in")
        await crew.enter("12")
        await ticks(crew, 1, 1, 1)
        await crew.go("ground")
        assert crew.at == ("backfill", "sign")
        await crew.press("space")


async def controller(crew: Crew, slips: Slips) -> None:
    """What is under each terminal, and the controller itself."""
    await crew.go("controller")
    for colour in ("white", *slips.terminals):
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


async def whole_day(crew: Crew, slips: Slips) -> None:
    """From first run to the controller."""
    await crew.enter("ab")
    await crew.press("n")
    await crew.enter("12 Elm Street")
    await street(crew, slips)
    await zones(crew, slips)
    await boxes(crew)
    await ground(crew)
    await controller(crew, slips)


def complete(job: LoadedJob) -> None:
    """The record of a finished property, without a stop."""
    assert counts(check(job))["stop"] == 0
    assert len(job.zones) == ZONES
    assert all(len(job.heads_of(zone.id)) == 3 for zone in job.zones)
    assert all(flushed(job, zone.id) for zone in job.zones)
    assert all(sign and sign.signed_by == "AB" for sign in map(job.backfill_of, ids(job)))
    assert [valve.colour for valve in map(job.valve_of, ids(job)) if valve] == list(COLOURS)
    assert [end.colour for end in job.terminals if end.number] == list(COLOURS)


async def desk(crew: Crew) -> None:
    """The permit and the locate ticket; the desk opens at them."""
    await crew.go("desk")
    assert crew.at == ("permit", "add permit")
    await crew.press("enter")
    await on(crew, "permit", "kind", "irrigation")
    await on(crew, "permit", "number", "26-118")
    await crew.stand_on("locate_ticket", "add ticket")
    await crew.press("enter")
    await on(crew, "locate_ticket", "number", "2604-118")
    await on(crew, "locate_ticket", "clear_on", "2026-04-20")


def ids(job: LoadedJob) -> list[str]:
    """The zones' ids in order."""
    return [zone.id for zone in job.zones]


async def test_a_days_work_from_first_run_to_a_sound_check(book_file: Path) -> None:
    async with at_the_truck(book_file) as crew:
        await whole_day(crew, Slips())
        assert crew.flags == [], crew.open_job.findings
        complete(crew.open_job.job)
        await desk(crew)
        await crew.stand_on("job", "customer")
        await crew.enter("A. Customer")
        assert next_step(crew.open_job.job, crew.open_job.findings).sentence == "Hand over."
        job_id, written = crew.open_job.job_id, write_job(crew.open_job.job)
        await crew.press("ctrl+q")
    with Book(book_file) as book:
        assert write_job(book.load(job_id)) == written
    async with at_the_truck(book_file) as crew:
        assert "12 Elm Street" in crew.screen()
        assert "6 of 6" in crew.screen()
        await crew.press("enter")
        assert write_job(crew.open_job.job) == written
        complete(crew.open_job.job)


async def test_the_same_day_with_three_mistakes_mended_by_following_the_flags(
    book_file: Path,
) -> None:
    swapped = ("red", "blue", "orange", "green", "black", "yellow")
    slips = Slips(static="92", last_design="16", terminals=swapped)
    async with at_the_truck(book_file) as crew:
        await whole_day(crew, slips)
        places = {flag.code: flag.place for flag in crew.open_job.findings}
        assert places == {
            "flow over supply": "ground",
            "wires crossed": "controller",
            "static too high": "street",
        }
        await mend(crew, "flow over supply", "6")
        await mend(crew, "static too high", "62")
        await mend(crew, "wires crossed", "green")
        (doubled,) = crew.open_job.findings
        assert doubled.place == "controller"
        await mend(crew, doubled.code, "orange")
        assert crew.flags == []
        complete(crew.open_job.job)


async def mend(crew: Crew, code: str, text: str) -> None:
    """Follow a flag to its cell and enter what is right there."""
    flag = next(flag for flag in crew.open_job.findings if flag.code == code)
    await crew.press("ctrl+f", "home", *["down"] * crew.open_job.findings.index(flag), "enter")
    assert crew.place.place == flag.place
    assert crew.cell.at == flag.at
    await crew.enter(text)
