"""The everyday entries take few keys: they are counted from the open place."""

from __future__ import annotations

from pathlib import Path

from crew import Crew, at_a_new_property, at_the_truck

from fieldbook.actions import log_wires, rows
from fieldbook.actions.signing import flushed
from fieldbook.records.ids import head_id
from fieldbook.store.changes import Put

SIX = ("red", "blue", "green", "orange", "black", "yellow")


async def with_zones(crew: Crew, count: int = 6) -> None:
    """Add zones, a box and a cable, as a crew does before it logs wires."""
    open_job = crew.open_job
    for number in range(1, count + 1):
        rows.add_zone(open_job)
        zone = open_job.job.zones[-1]
        crew.book.book.commit(
            open_job.job_id,
            [Put("zone", zone.id, "name", f"lawn {number}")],
            by="AB",
            what="name",
        )
    rows.add_box(open_job)
    log_wires.set_conductors(
        open_job, rows.add_cable(open_job), "white, " + ", ".join(SIX) + ", brown"
    )
    crew.place.redraw()
    await crew.pilot.pause()


async def test_a_wire_colour_is_one_key_a_valve(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await with_zones(crew)
        await crew.go("boxes")
        await crew.stand_on("valve", "colour")
        crew.keys = 0
        for colour in SIX:
            option = next(one for one in crew.cell.options if one.word == colour)
            await crew.press(option.key)
        assert crew.keys <= 2 * len(SIX)
        assert crew.keys == len(SIX)
        job = crew.open_job.job
        seen = [valve.colour for zone in job.zones if (valve := job.valve_of(zone.id))]
        assert seen == list(SIX)


async def test_the_picker_offers_only_free_conductors(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await with_zones(crew)
        await crew.go("boxes")
        await crew.stand_on("valve", "colour")
        free = ["red", "blue", "green", "orange", "black", "yellow", "brown"]
        while free and crew.at == ("valve", "colour"):
            assert [one.word for one in crew.cell.options] == free
            await crew.press(crew.cell.options[0].key)
            del free[0]
        assert free == ["brown"]


async def test_a_flush_is_one_key_a_zone(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await with_zones(crew)
        await crew.go("ground")
        await crew.stand_on("flush", "flush")
        crew.keys = 0
        for _ in range(6):
            await crew.press("space")
        assert crew.keys <= 2 * 6
        assert all(flushed(crew.open_job.job, zone.id) for zone in crew.open_job.job.zones)


async def test_a_backfill_as_usual_is_one_key_a_zone_and_a_second_cell_where_it_is_not(
    book_file: Path,
) -> None:
    async with at_a_new_property(book_file) as crew:
        await with_zones(crew)
        await crew.go("ground")
        await crew.stand_on("backfill", "usual")
        crew.keys = 0
        for _ in range(6):
            await crew.press("space")
        assert crew.keys == 6
        for zone in crew.open_job.job.zones:
            held = crew.open_job.job.backfill_of(zone.id)
            assert held is not None
            assert (held.rock_free, held.heads_plumb, held.heads_at_grade) == (True, True, True)
            assert (held.cover_in, held.signed_by) == (None, "")
        await crew.stand_on("backfill", "heads_plumb")
        await crew.press("n")
        await crew.stand_on("backfill", "usual")
        assert crew.cell.text == "-"
        await crew.press("space")
        zone_id = crew.open_job.job.zones[0].id
        held = crew.open_job.job.backfill_of(zone_id)
        assert held is not None
        assert held.heads_plumb is False
        await crew.press("ctrl+z", "ctrl+z")
        held = crew.open_job.job.backfill_of(crew.open_job.job.zones[-1].id)
        assert held is None or held.rock_free is None


async def test_a_nozzle_like_the_last_one_is_one_key(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await with_zones(crew, 2)
        await crew.go("ground")
        first, second = crew.open_job.job.zones
        for zone in (first, first, first, second):
            await crew.stand_on("pipe_run", "add run", zone.id)
            await crew.press("enter")
        runs = [run for zone in (first, second) for run in crew.open_job.job.runs_of(zone.id)]
        await crew.stand_on("head", "nozzle_gpm")
        await crew.press("insert")
        assert "There is no nozzle before this one" in " ".join(crew.said.split())
        await crew.enter("2")
        await crew.stand_on("head", "rated_psi")
        await crew.enter("30")
        await crew.stand_on("head", "nozzle_gpm", head_id(runs[1].id))
        crew.keys = 0
        await crew.press("insert", "insert")
        assert crew.keys == 2
        await crew.stand_on("pipe_run", "size", runs[3].id)
        await crew.press("insert")
        heads = [crew.open_job.job.head_at(run.id) for run in runs]
        assert [(one.nozzle_gpm, one.rated_psi) for one in heads if one] == [(2, 30)] * 4
        await crew.stand_on("head", "nozzle_gpm", head_id(runs[1].id))
        await crew.press("insert")
        assert "has a nozzle already" in crew.said
        await crew.press("ctrl+z")
        assert crew.open_job.job.head_at(runs[3].id) is None


async def test_a_terminal_is_one_key(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await with_zones(crew)
        await crew.go("controller")
        crew.keys = 0
        for colour in ("white", *SIX):
            assert crew.at == ("terminal", "colour")
            await crew.press(next(one.key for one in crew.cell.options if one.word == colour))
        assert crew.keys <= 2 * 7
        ends = {end.number or 0: end.colour for end in crew.open_job.job.terminals}
        assert ends == dict(enumerate(("white", *SIX)))


async def test_a_new_property_has_its_first_zone_within_200_keys(book_file: Path) -> None:
    # 200 characters a minute is 40 words, a slow typist (common practice, no source).
    async with at_the_truck(book_file) as crew:
        await crew.enter("ab")
        crew.keys = 0
        await crew.press("insert")
        await crew.enter("12 Elm Street")
        assert crew.at == ("job", "customer")
        await crew.enter("A. Customer")
        await crew.stand_on("supply", "static_psi")
        await crew.fill("62")
        await crew.press("space", "ctrl+n")
        await crew.fill("3/4", "copper L", "1", "40")
        assert crew.open_job.job.supply is not None
        assert crew.open_job.job.supply.service_length_ft == 40
        await crew.go("ground")
        assert crew.at == ("zone", "add zone")
        await crew.enter("", "front lawn", "spray", "9")
        (zone,) = crew.open_job.job.zones
        assert (zone.number, zone.name, zone.head_kind) == (1, "front lawn", "spray")
        assert zone.design_flow_gpm == 9
        assert crew.keys <= 200


async def test_every_entry_is_undone_by_one_key(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await with_zones(crew, 2)
        acts = crew.book.book.count_undoable(crew.open_job.job_id)
        await crew.go("boxes")
        await crew.stand_on("valve", "colour")
        await crew.press(crew.cell.options[0].key, crew.cell.options[1].key)
        await crew.go("ground")
        await crew.stand_on("flush", "flush")
        await crew.press("space")
        await crew.stand_on("backfill", "cover_in")
        await crew.enter("14")
        await crew.stand_on("backfill", "rock_free")
        await crew.press("space")
        await crew.stand_on("backfill", "sign")
        await crew.sign()
        assert crew.book.book.count_undoable(crew.open_job.job_id) == acts + 6
        for standing in (5, 4, 3, 2, 1, 0):
            await crew.press("ctrl+z")
            if standing == 5:
                await crew.press("down", "enter")
            assert crew.book.book.count_undoable(crew.open_job.job_id) == acts + standing
            assert crew.said.startswith("Undone: ")
        left = crew.open_job.job.tables()
        assert not left["valve"] + left["flush"] + left["backfill"]
        await crew.press("ctrl+y")
        assert len(crew.open_job.job.valves) == 1
