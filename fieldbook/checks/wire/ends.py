"""A job's wire ends as `fieldbook.wiring` joins them, and the words and cells behind each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from fieldbook.checks.common.naming import cable_name, terminal_name, valve_name
from fieldbook.checks.finding import CellRef
from fieldbook.checks.wire.zone_feeds import controller_of, feed_of, is_at_valves
from fieldbook.records.ids import terminal_id, valve_id
from fieldbook.records.loaded_job import LoadedJob, once_per_job
from fieldbook.records.tables.controller import Terminal
from fieldbook.records.tables.wires import Cable, Valve
from fieldbook.records.tables.zones import Zone
from fieldbook.wiring import Conductor, End, Join, join

MASTER = "master"
"""The station of the master valve."""
_COMMON = "common "


class Splices:
    """Conductors that are one wire, because a splice in a box on the way joins them."""

    def __init__(self, job: LoadedJob) -> None:
        """Read every splice whose two sides are both entered."""
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
        # The list grows as it is walked, until no conductor leads to a new one.
        for here in found:
            found += [there for there in self._next.get(here, ()) if there not in found]
        return found

    def at_home(self, cable_id: str, colour: str) -> Conductor:
        """The wire's conductor in the cable at the controller; itself while none is entered."""
        wire = self.one_wire(cable_id, colour)
        return next((conductor for conductor in wire if conductor[0] in self._home), wire[0])


@dataclass(frozen=True)
class WireEnds:
    """The ends at the boxes and at the controller.

    whose, at: by an end's name, its part in words and its cell. no_cable: the words and cells of
    ends that have a colour, but no cable that it could belong to.
    """

    box: tuple[End, ...]
    controller: tuple[End, ...]
    whose: Mapping[str, str]
    at: Mapping[str, CellRef]
    no_cable: tuple[tuple[str, CellRef], ...]


def common_station(cable_id: str, second_controller_id: str | None = None) -> str:
    """The station of a cable's common; of its second one, that of the controller named."""
    return f"{_COMMON}{cable_id} {second_controller_id or ''}".rstrip()


def second_commons(job: LoadedJob) -> list[Cable]:
    """The cables that serve a second controller too, which needs a common of its own."""
    return [cable for cable in job.home_cables() if job.row(cable.second_controller_id) is not None]


def is_second(cable: Cable | None, terminal: Terminal) -> bool:
    """Whether a terminal is on the second controller that a cable serves."""
    if cable is None or not cable.second_controller_id:
        return False
    return terminal.controller_id == cable.second_controller_id != cable.controller_id


def is_common(end: End) -> bool:
    """Whether an end is a common's."""
    return end.station.startswith(_COMMON)


def _by_zone(job: LoadedJob) -> list[Valve]:
    """The valves in the order of the zones, so that a flag names the same valve each time."""
    order = {zone.id: at for at, zone in enumerate(job.zones)}
    return sorted(job.valves, key=lambda valve: order.get(valve.zone_id or "", len(order)))


@once_per_job
def meant_doubles(job: LoadedJob) -> Mapping[str, str]:
    """Zones that share another zone's wire on purpose, and that other zone.

    Meant is what is entered as running together and has one conductor at both valves: such zones
    have one terminal, that of the first, and their flow and current are checked together.
    """
    splices = Splices(job)
    found: dict[str, str] = {}
    for group in job.running_together():
        first: dict[Conductor, str] = {}
        # The zone whose own terminal has a wire comes first.
        for zone in sorted(group, key=lambda zone: not _has_wire(job, zone)):
            valve = job.valve_of(zone.id)
            cable = job.cable_of(valve) if valve is not None else None
            if valve is None or not valve.colour or (cable is None and job.cables):
                continue
            conductor = splices.at_home(cable.id if cable else "", valve.colour)
            if conductor in first and not _has_wire(job, zone):
                found[zone.id] = first[conductor]
            first.setdefault(conductor, zone.id)
    return found


def _has_wire(job: LoadedJob, zone: Zone) -> bool:
    return any(one.colour and job.terminal_zone(one) is zone for one in job.terminals)


@once_per_job
def wire_ends(job: LoadedJob) -> WireEnds:
    """Every end whose colour was entered; without any cable, all are taken to be in one.

    A valve that shares another's wire on purpose has no end of its own.
    """
    whose: dict[str, str] = {}
    at: dict[str, CellRef] = {}
    no_cable: list[tuple[str, CellRef]] = []
    box: list[End] = []
    controller: list[End] = []
    splices = Splices(job)
    for cable, column, of in _commons(job):
        home = splices.at_home(cable.id, str(getattr(cable, column)))
        end = End(common_station(cable.id, of), common_station(cable.id, of), *home)
        which = "the second common" if of else "the common"
        whose[end.name] = f"{which} of {cable_name(cable)}"
        at[end.name] = CellRef("cable", cable.id, column)
        box.append(end)
    parts: list[Valve | Terminal] = [*_by_zone(job), *job.terminals]
    doubled = meant_doubles(job)
    for part in parts:
        if not part.colour or (isinstance(part, Valve) and part.zone_id in doubled):
            continue
        at_box = isinstance(part, Valve)
        table = "valve" if at_box else "terminal"
        words = valve_name(job, part) if isinstance(part, Valve) else terminal_name(job, part)
        own = job.cable_of(part)
        if own is None and job.cables:
            no_cable.append((words, CellRef(table, part.id, "cable_id")))
            continue
        seen = (own.id if own else "", part.colour)
        # The box end is taken to where its wire reaches the controller, so that both sides meet.
        conductor = splices.at_home(*seen) if at_box else seen
        end = End(f"{table} {part.id}", station(job, part, own), *conductor)
        whose[end.name], at[end.name] = words, CellRef(table, part.id, "colour")
        (box if at_box else controller).append(end)
    return WireEnds(tuple(box), tuple(controller), whose, at, tuple(no_cable))


def _commons(job: LoadedJob) -> Iterator[tuple[Cable, str, str | None]]:
    """Commons that are entered at the box: cable, column, and the controller of a second one."""
    for cable in job.own_commons():
        if cable.common_colour:
            yield cable, "common_colour", None
    for cable in second_commons(job):
        if cable.second_common_colour:
            yield cable, "second_common_colour", cable.second_controller_id


@once_per_job
def joined_wires(job: LoadedJob) -> Join:
    """The ends joined by colour, and all that does not join."""
    ends = wire_ends(job)
    return join(ends.box, ends.controller)


def station(job: LoadedJob, part: Valve | Terminal, cable: Cable | None) -> str:
    """The station that an end is meant for: a zone's id, the master valve, a cable's common.

    An end that is meant for none of these gets a station of its own, which nothing answers.
    """
    if isinstance(part, Valve):
        return MASTER if part.kind == "master" else part.zone_id or f"valve {part.id}"
    if part.role == "common":
        second = part.controller_id if is_second(cable, part) else None
        return common_station(cable.id if cable is not None else "", second)
    if part.role == "master":
        return MASTER
    zone = job.terminal_zone(part)
    return zone.id if zone is not None else f"terminal {part.id}"


def terminal_cell(job: LoadedJob, of: str) -> CellRef | None:
    """The cell of the terminal meant for a station, whether or not its row exists.

    None for a station that has no natural terminal, such as a zone without a number.
    """
    for terminal in job.terminals:
        if station(job, terminal, job.cable_of(terminal)) == of:
            column = "address" if feed_of(job, of) == "decoder" else "colour"
            return CellRef("terminal", terminal.id, column)
    if of == MASTER:
        return CellRef("terminal", terminal_id(job.job.id, "master"), "colour")
    if of.startswith(_COMMON):
        cable_id, _, second = of[len(_COMMON) :].partition(" ")
        cable = job.row(cable_id)
        own = cable.controller_id if isinstance(cable, Cable) else None
        row_id = terminal_id(job.job.id, "common", cable_id, second or own)
        return CellRef("terminal", row_id, "colour")
    zone = job.zone(of)
    if zone is None or zone.number is None:
        return None
    column = "address" if feed_of(job, of) == "decoder" else "colour"
    return CellRef("terminal", terminal_id(job.job.id, "zone", zone.number), column)


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
    """Whether a terminal is meant for a station, or for the one whose wire it shares.

    It has a colour or a decoder's address; a battery controller beside its valves needs neither.
    """
    of = meant_doubles(job).get(of, of)
    return any(
        station(job, one, job.cable_of(one)) == of
        for one in job.terminals
        if one.colour or one.address or is_at_valves(job, controller_of(job, one))
    )
