"""A colour or a terminal that is used already: the crew is told where."""

from __future__ import annotations

from crew import Crew, at_the_truck

from fieldbook.records.tables.controller import Terminal
from fieldbook.records.tables.wires import Valve


async def mill_street(crew: Crew, place: str) -> None:
    await crew.open("31 Mill Street", place)


async def test_the_key_of_a_taken_colour_says_at_which_valve_and_in_which_box() -> None:
    async with at_the_truck(None) as crew:
        await mill_street(crew, "boxes")
        job = crew.open_job.job
        valves = [valve for valve in job.valves if valve.colour and valve.box_id]
        first, other = valves[0], valves[1]
        assert first.colour is not None
        await crew.stand_on("valve", "colour", other.id)
        await crew.type(first.colour[:2])
        said = " ".join(crew.said.split())
        await crew.press("enter")
        refused = " ".join(crew.said.split())
        zone = job.zone(first.zone_id)
        assert zone is not None
        for words in (said, refused):
            assert f"{first.colour.capitalize()} is at the valve of zone {zone.number}" in words
            assert "in valve box" in words
            assert "Type it in full" in words
        held = crew.open_job.job.row(other.id)
        assert isinstance(held, Valve)
        assert held.colour == other.colour
        await crew.type(first.colour[2:])
        await crew.press("enter")
        held = crew.open_job.job.row(other.id)
        assert isinstance(held, Valve)
        assert held.colour == first.colour
        assert f"{first.colour.capitalize()} is at the valve" in " ".join(crew.said.split())


async def test_a_taken_colour_is_named_under_which_terminal() -> None:
    async with at_the_truck(None) as crew:
        await mill_street(crew, "controller")
        ends = [end for end in crew.open_job.job.terminals if end.colour and end.role == "zone"]
        first, other = ends[0], ends[1]
        assert first.colour is not None
        await crew.stand_on("terminal", "colour", other.id)
        await crew.press("enter")
        await crew.type(first.colour)
        told = " ".join(crew.screen().replace("│", " ").split())
        assert f"{first.colour.capitalize()} is under terminal {first.number} already." in told
        await crew.press("escape")


async def test_a_zone_on_two_terminals_says_on_which_it_is_already() -> None:
    async with at_the_truck(None) as crew:
        await mill_street(crew, "controller")
        job = crew.open_job.job
        ends = [end for end in job.terminals if end.role == "zone"]
        first, other = ends[0], ends[1]
        zone = job.terminal_zone(first)
        assert zone is not None
        await crew.stand_on("terminal", "zone_id", other.id)
        await crew.enter(str(zone.number))
        held = crew.open_job.job.row(other.id)
        assert isinstance(held, Terminal)
        assert held.zone_id == zone.id
        assert f"is on terminal {first.number} already." in " ".join(crew.said.split())
