"""A two-wire system, and a second controller, entered by keys as a crew does."""

from __future__ import annotations

from pathlib import Path

import pytest
from crew import Crew, at_a_new_property

from fieldbook.actions import rows
from fieldbook.checks.wire.wire_links import wire_links
from fieldbook.checks.wire.zone_feeds import feed_of

SIZES = ((80, 24), (60, 18))


async def with_zones(crew: Crew, count: int) -> None:
    """Zones, and a valve box to lay the valves in."""
    for _ in range(count):
        rows.add_zone(crew.open_job)
    await crew.go("boxes")
    await crew.stand_on("valve_box", "add box")
    await crew.enter("by the gate")


@pytest.mark.parametrize("size", SIZES)
async def test_a_two_wire_system_by_keys(book_file: Path, size: tuple[int, int]) -> None:
    async with at_a_new_property(book_file, size) as crew:
        await with_zones(crew, 2)
        await crew.stand_on("two_wire_path", "add two-wire path")
        await crew.enter("red", "black")
        (path,) = crew.open_job.job.two_wire_paths
        assert (path.name, path.colour_1, path.colour_2) == ("1", "red", "black")
        for address in ("11", "12"):
            await crew.stand_on("decoder", "add decoder")
            await crew.enter(address)
        first, second = crew.open_job.job.decoders
        zones = crew.open_job.job.zones
        assert [first.zone_id, second.zone_id] == [zone.id for zone in zones]
        assert (first.address, second.address) == (11, 12)
        assert first.box_id == crew.open_job.job.valve_boxes[0].id
        assert [feed_of(crew.open_job.job, zone.id) for zone in zones] == ["decoder", "decoder"]
        assert "Decoders: the address on each" in crew.screen()
        await crew.go("controller")
        assert crew.at == ("terminal", "address")
        await crew.enter("11")
        await crew.stand_on("terminal", "address", crew.cells[3].at.row_id)
        await crew.enter("21")
        assert "addresses disagree" in crew.flags
        await crew.stand_on("terminal", "address", crew.cells[3].at.row_id)
        await crew.enter("12")
        assert "addresses disagree" not in crew.flags
        await crew.stand_on("terminal", "ran")
        await crew.enter("1")
        assert [link.status for link in wire_links(crew.open_job.job)] == ["proven", "unproven"]
        await crew.press("f2")
        told = await crew.read_page()
        for words in ("= Terminal 1", "address 11", "seen to run", "~ Terminal 2", "not tested"):
            assert words in told, words
        for words in ("decoder 11: zone 1", "Path 1, from the first controller", "zone 2 ~"):
            assert words in told, words


@pytest.mark.parametrize("size", SIZES)
async def test_a_second_controller_by_keys(book_file: Path, size: tuple[int, int]) -> None:
    async with at_a_new_property(book_file, size) as crew:
        await with_zones(crew, 3)
        for _ in range(2):
            await crew.stand_on("cable", "add cable")
            await crew.press("enter")
            await crew.enter("white, red, blue")
        await crew.go("controller")
        await crew.stand_on("other_controller", "add controller")
        await crew.enter("garage", "2")
        (other,) = crew.open_job.job.other_controllers
        assert (other.name, other.location, other.stations) == ("B", "garage", 2)
        far = crew.open_job.job.cables[1]
        await crew.go("boxes")
        await crew.stand_on("cable", "controller_id", far.id)
        await crew.enter("B")
        await crew.go("controller")
        zone_cells = [cell for cell in crew.cells if cell.at.column == "zone_id"]
        await crew.stand_on("terminal", "zone_id", zone_cells[-2].at.row_id)
        assert "Under each terminal, controller B" in crew.screen()
        await crew.enter("3")
        await crew.stand_on("terminal", "colour", zone_cells[-2].at.row_id)
        await crew.press("r")
        job = crew.open_job.job
        terminal = next(one for one in job.terminals if one.controller_id == other.id)
        assert (terminal.number, terminal.colour, terminal.cable_id) == (1, "red", far.id)
        assert job.terminal_zone(terminal) is job.zones[2]
        await crew.press("f2")
        told = await crew.read_page()
        assert "Controller B:" in told


async def test_a_battery_controller_in_the_box_by_keys(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await with_zones(crew, 1)
        await crew.go("controller")
        await crew.stand_on("controller", "box_id")
        await crew.enter("A")
        zone = crew.open_job.job.zones[0]
        assert feed_of(crew.open_job.job, zone.id) == "battery"
        await crew.stand_on("terminal", "ran")
        await crew.enter("1")
        assert [(one.wire, one.status) for one in wire_links(crew.open_job.job)] == [
            ("no cable", "proven")
        ]
