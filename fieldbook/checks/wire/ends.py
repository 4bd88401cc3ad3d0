"""The job's wire ends as the join takes them, and the words and cells behind each end."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from fieldbook.checks.common.naming import cable_name, terminal_name, valve_name
from fieldbook.checks.finding import CellRef
from fieldbook.records.ids import terminal_id, valve_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.controller import Terminal
from fieldbook.records.tables.wires import Cable, Valve
from fieldbook.wiring import End, Join, join

MASTER = "master"
_COMMON = "common "


Conductor = tuple[str, str]


class Splices:
    """Conductors that are one wire, cut and joined again in a box on the way."""

    def __init__(self, job: LoadedJob) -> None:
        """Every splice of which both sides are entered."""
        self._home = {cable.id for cable in job.home_cables()}
        self._next: dict[Conductor, list[Conductor]] = {}
        for one in job.splices:
            if one.cable_id and one.colour and one.to_cable_id and one.to_colour:
                here, there = (one.cable_id, one.colour), (one.to_cable_id, one.to_colour)
                self._next.setdefault(here, []).append(there)
                self._next.setdefault(there, []).append(here)

    def one_wire(self, cable_id: str, colour: str) -> list[Conductor]:
        """Every conductor that is one wire with this one, itself first."""
        found = [(cable_id, colour)]
        for here in found:
            found += [there for there in self._next.get(here, ()) if there not in found]
        return found

    def at_home(self, cable_id: str, colour: str) -> Conductor:
        """What the wire is where it comes to the controller; itself while that is not entered."""
        wire = self.one_wire(cable_id, colour)
        return next((one for one in wire if one[0] in self._home), wire[0])


@dataclass(frozen=True)
class WireEnds:
    """Both sides' ends. `whose` and `at` tell, by an end's name, its words and its cell.

    `no_cable` holds the cells and words of ends that have a colour but no cable it could be of.
    """

    box: tuple[End, ...]
    controller: tuple[End, ...]
    whose: Mapping[str, str]
    at: Mapping[str, CellRef]
    no_cable: tuple[tuple[str, CellRef], ...]

    def joined(self) -> Join:
        """The wire map and all that does not join."""
        return join(self.box, self.controller)


def common_station(cable_id: str) -> str:
    """The station of a cable's common."""
    return _COMMON + cable_id


def is_common(end: End) -> bool:
    """Whether an end is a common's."""
    return end.station.startswith(_COMMON)


def _by_zone(job: LoadedJob) -> list[Valve]:
    """The valves in the order of the zones, so that flags name the same one each time."""
    order = {zone.id: at for at, zone in enumerate(job.zones)}
    return sorted(job.valves, key=lambda valve: order.get(valve.zone_id or "", len(order)))


def wire_ends(job: LoadedJob) -> WireEnds:
    """Every end whose colour was entered. Without any cable, all count as one cable's."""
    whose: dict[str, str] = {}
    at: dict[str, CellRef] = {}
    lost: list[tuple[str, CellRef]] = []
    box: list[End] = []
    controller: list[End] = []
    there = Splices(job)
    for cable in job.own_commons():
        if cable.common_colour:
            home = there.at_home(cable.id, cable.common_colour)
            end = End(f"common {cable.id}", common_station(cable.id), *home)
            whose[end.name] = f"the common of {cable_name(cable)}"
            at[end.name] = CellRef("cable", cable.id, "common_colour")
            box.append(end)
    both: list[Valve | Terminal] = [*_by_zone(job), *job.terminals]
    for one in both:
        if not one.colour:
            continue
        at_box = isinstance(one, Valve)
        table = "valve" if at_box else "terminal"
        words = valve_name(job, one) if isinstance(one, Valve) else terminal_name(one)
        of = job.cable_of(one)
        if of is None and job.cables:
            lost.append((words, CellRef(table, one.id, "cable_id")))
            continue
        seen = (of.id if of else "", one.colour)
        home = there.at_home(*seen) if at_box else seen
        end = End(f"{table} {one.id}", station(job, one, of), *home)
        whose[end.name], at[end.name] = words, CellRef(table, one.id, "colour")
        (box if at_box else controller).append(end)
    return WireEnds(tuple(box), tuple(controller), whose, at, tuple(lost))


def station(job: LoadedJob, one: Valve | Terminal, cable: Cable | None) -> str:
    """What an end is meant for: a zone's id, the master valve, a cable's common, or nothing."""
    if isinstance(one, Valve):
        return MASTER if one.kind == "master" else one.zone_id or f"valve {one.id}"
    if one.role == "common":
        return common_station(cable.id if cable is not None else "")
    if one.role == "master":
        return MASTER
    zone = job.terminal_zone(one)
    return zone.id if zone is not None else f"terminal {one.id}"


def terminal_cell(job: LoadedJob, of: str) -> CellRef | None:
    """The cell of the terminal meant for a station, whether or not its row exists.

    None for a station that has no natural terminal, such as a zone without a number.
    """
    for terminal in job.terminals:
        if station(job, terminal, job.cable_of(terminal)) == of:
            return CellRef("terminal", terminal.id, "colour")
    if of == MASTER:
        return CellRef("terminal", terminal_id(job.job.id, "master"), "colour")
    if of.startswith(_COMMON):
        return CellRef("terminal", terminal_id(job.job.id, "common", of[len(_COMMON) :]), "colour")
    zone = job.zone(of)
    if zone is None or zone.number is None:
        return None
    return CellRef("terminal", terminal_id(job.job.id, "zone", zone.number), "colour")


def valve_cell(job: LoadedJob, of: str) -> CellRef | None:
    """The cell of the valve meant for a station, whether or not its row exists."""
    if of == MASTER:
        master = job.master_valve()
        return CellRef("valve", master.id, "colour") if master is not None else None
    if job.zone(of) is None:
        return None
    valve = job.valve_of(of)
    return CellRef("valve", valve.id if valve is not None else valve_id(of), "colour")


def has_terminal(job: LoadedJob, of: str) -> bool:
    """Whether a terminal meant for a station has a colour."""
    return any(one.colour and station(job, one, job.cable_of(one)) == of for one in job.terminals)
