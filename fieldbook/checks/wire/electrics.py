"""Flags from tests and the meter: what ran, ohms, volts at the coil, the transformer's load."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from fieldbook.checks.common.naming import (
    listed,
    quantity,
    sentence,
    terminal_name,
    valve_name,
    zone_name,
)
from fieldbook.checks.finding import CellRef, Finding, Missing, Number
from fieldbook.checks.looked import Looked, zone_rows
from fieldbook.checks.severity import Severity
from fieldbook.checks.wire.circuits import (
    Circuit,
    circuit_of,
    currents_of,
    reading_of,
    valve_behind,
)
from fieldbook.checks.wire.ends import joined_wires, meant_doubles, terminal_cell
from fieldbook.checks.wire.shared_causes import check_shared_causes, terminals_explained
from fieldbook.checks.wire.wire_evidence import (
    end_name,
    shares_on_purpose,
    station_words,
)
from fieldbook.checks.wire.wire_tests import (
    has_test_with_both,
    is_of_another_wire,
    is_read_before_change,
    outcomes,
    ran_at,
)
from fieldbook.checks.wire.zone_feeds import feed_of
from fieldbook.records.column_values import amount
from fieldbook.records.ids import valve_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.controller import Terminal
from fieldbook.records.tables.zones import Zone
from fieldbook.units import LENGTH
from fieldbook.wiring import (
    CLASS_2_VA,
    OPEN_OHM,
    USUAL_OHM,
    Currents,
    Reading,
    coil_v,
    load_va,
    longest_ft,
    smallest_gauge,
    to_short_ft,
)

_COPPER = (
    "Copper wire tables, R = R20 (1 + 0.00393 (T - 20)) (from memory); coil currents and pull-in "
    "voltage: common practice, no source."
)
_CONTROLLER_V = 24.0
_POWER_OFF = "With the power off and the common lifted"
_CLASS_2 = "NEC 725; chapter 9, table 11(A): Class 2 up to 30 V and 100 VA."


def check_electrics(job: LoadedJob) -> Iterator[Finding | Looked]:
    """Each zone's ohms: what was tested and metered; then the wire's length."""
    for zone in job.zones:
        lacks = tuple(_lacks(job, zone))
        yield Looked(f"ohms of {zone_name(zone)}", zone_rows(job, zone), lacks)
    yield from check_shared_causes(job)
    explained = terminals_explained(job)
    for terminal in job.terminals:
        if terminal.id not in explained or ran_at(job, terminal):
            yield from _ran(job, terminal)
    for terminal in job.terminals:
        reading = reading_of(job, terminal)
        if reading is None or (reading.meaning == "open" and terminal.id in explained):
            continue
        if shares_on_purpose(job, terminal) and reading.meaning in ("two coils", "low"):
            continue
        if reading.meaning != "sound":
            yield _reading(job, terminal, reading)
    yield from _volts_as_ohms(job)
    yield from _coil_volts(job)
    yield from _transformer(job)


def _lacks(job: LoadedJob, zone: Zone) -> Iterator[Missing]:
    """No reading from the controller, without which a coil or splice can't be judged."""
    whose, valve = meant_doubles(job).get(zone.id, zone.id), job.valve_of(zone.id)
    if feed_of(job, zone.id) != "cable" and valve is not None and valve.coil_ohm is not None:
        return
    if feed_of(job, zone.id) == "decoder":
        # The controller's meter reads the pair and no coil.
        row_id = valve.id if valve is not None else valve_id(zone.id)
        yield Missing(f"the ohms of {zone_name(zone)}", CellRef("valve", row_id, "coil_ohm"))
        return
    terminals = [one for one in job.terminals if job.terminal_zone(one) is job.zone(whose)]
    if not any(reading_of(job, one) is not None for one in terminals):
        at = terminal_cell(job, zone.id) or CellRef("zone", zone.id, "number")
        column = "day_1_ohm" if at.table == "terminal" else at.column
        yield Missing(f"the ohms of {zone_name(zone)}", replace(at, column=column))


def _ran(job: LoadedJob, terminal: Terminal) -> Iterator[Finding]:
    """A test in which nothing ran, or another zone than the colours say."""
    ran = ran_at(job, terminal)
    name = sentence(terminal_name(job, terminal))
    yield from _test_itself(job, terminal)
    # What a decoder's address ran is judged with the addresses.
    if ran is None or terminal.address is not None:
        return
    if not ran:
        yield Finding(
            "nothing ran",
            "fix",
            f"{name} was energised and nothing ran.",
            f"{_POWER_OFF}, read its ohms: over range is a broken wire or coil; a sound reading "
            "points at valve or water.",
            CellRef("terminal", terminal.id, "now_ohm"),
        )
        return
    wires = joined_wires(job).wires
    by_colour = {wire.controller.name: wire.box.station for wire in wires}
    if any(wire.crossed and wire.controller.name == end_name(terminal) for wire in wires):
        # The flag on the crossed wires says what the test shows of them.
        return
    leads_to = by_colour.get(end_name(terminal))
    words = listed([station_words(job, station) for station in sorted(ran)])
    zone = job.terminal_zone(terminal)
    doubled = meant_doubles(job)
    ran = frozenset(doubled.get(zone_id, zone_id) for zone_id in ran)
    if leads_to is not None and {leads_to} != ran:
        yield Finding(
            "ran another zone",
            "stop",
            f"{name} was energised and {words} ran, but its colour leads to "
            f"{station_words(job, leads_to)}.",
            "The wire map shows what could explain it and the next test; correct the colour, or "
            "the wire.",
            CellRef("terminal", terminal.id, "colour"),
        )
    elif zone is not None and zone.id not in ran and leads_to is None:
        yield Finding(
            "ran another zone",
            "stop",
            f"{name} is meant for {station_words(job, zone.id)}, but {words} ran when it was "
            "energised.",
            "Put the wires under their terminals, or enter the zone that this terminal serves.",
            CellRef("terminal", terminal.id, "zone_id"),
        )


def _test_itself(job: LoadedJob, terminal: Terminal) -> Iterator[Finding]:
    """Results that contradict each other, or that are of a wire that is no longer there."""
    name = sentence(terminal_name(job, terminal))
    found = outcomes(job, terminal)
    if len(found) > 1:
        words = [_words_of(job, one) for one in found if one is not None]
        yield Finding(
            "tests disagree",
            "fix",
            f"{name} has {len(found)} results: {listed(words)}. None of them is used.",
            "Energise it again and type what runs: the newest test counts.",
            CellRef("terminal", terminal.id, "ran_zone_id"),
        )
    elif is_of_another_wire(job, terminal):
        yield Finding(
            "tested before a change",
            "fix",
            f"{name} was tested before its wire was changed.",
            "Energise it again and type what runs.",
            CellRef("terminal", terminal.id, "ran_zone_id"),
        )
    elif has_test_with_both(job, terminal):
        yield Finding(
            "test says both",
            "fix",
            f"{name} has a zone that ran and “nothing ran” entered for one test.",
            "Energise it again and type what runs, or 0 for nothing.",
            CellRef("terminal", terminal.id, "ran_zone_id"),
        )
    if is_read_before_change(job, terminal) and terminal.role != "common":
        yield Finding(
            "read before a change",
            "note",
            f"{name} was read before its wire was changed.",
            "Power off: read its ohms again.",
            CellRef("terminal", terminal.id, "now_ohm"),
        )


def _words_of(job: LoadedJob, ran: frozenset[str]) -> str:
    zones = [station_words(job, zone) for zone in sorted(ran)]
    return f"{listed(zones)} ran" if zones else "nothing ran"


_MEANS = {
    "open": "a broken wire, a dead coil or an open splice",
    "short": "a short at the coil or in the cable",
    "two coils": "about half: two valves on one wire, or shorted turns",
    "low": "shorted turns, or two coils side by side",
    "high": "a corroded or wet splice, or a nicked wire",
}
_NEXT = {
    "open": "Power off: read the coil alone at the box; if it is sound, the wire is broken.",
    "short": "Do not energise it. Power off: lift the coil at the box and read again.",
    "two coils": "Power off: open the box and see what else is on this wire, then read again.",
    "low": "Power off: read the coil alone at the box.",
    "high": "Power off: remake the splice, read again, then the volts under load.",
}


def _reading(job: LoadedJob, terminal: Terminal, reading: Reading) -> Finding:
    at = CellRef(
        "terminal", terminal.id, "now_ohm" if terminal.now_ohm is not None else "day_1_ohm"
    )
    if reading.meaning == "high" and reading.expected_ohm is None:
        # A long run of thin wire reads high with nothing wrong.
        return Finding(
            "reads high",
            "note",
            f"{sentence(terminal_name(job, terminal))} reads {_ohms(reading.ohm)}, over the usual "
            f"{USUAL_OHM[0]:g} to {USUAL_OHM[1]:g}; its coil and wire length are not both entered.",
            "Enter the coil's ohms and the wire's length and gauge at the valve boxes to judge it.",
            at,
            numbers=(Number("reading", reading.ohm, "ohm"),),
        )
    severity: Severity = "stop" if reading.meaning == "short" else "fix"
    against = ""
    if reading.expected_ohm is not None:
        held = "on day 1" if reading.basis == "day 1" else "of coil and wire together"
        against = f", against {reading.expected_ohm:.1f} ohm {held}"
    reads = f"{sentence(terminal_name(job, terminal))} reads {_ohms(reading.ohm)}{against}"
    numbers = [Number("reading", reading.ohm, "ohm")]
    if reading.expected_ohm is not None:
        numbers.append(Number("expected", reading.expected_ohm, "ohm"))
    return Finding(
        f"reads {reading.meaning}",
        severity,
        f"{reads}: {_MEANS[reading.meaning]}{_how_far(job, terminal, reading)}.",
        _NEXT[reading.meaning],
        at,
        numbers=tuple(numbers),
    )


def _volts_as_ohms(job: LoadedJob) -> Iterator[Finding]:
    """Readings of just 24, which may be the controller's volts typed as ohms."""
    asked = [
        terminal
        for terminal in job.terminals
        if (reading := reading_of(job, terminal)) is not None
        and reading.expected_ohm is None
        and reading.ohm == _CONTROLLER_V
    ]
    if asked:
        names = listed([terminal_name(job, terminal) for terminal in asked], 4)
        first = asked[0]
        yield Finding(
            "volts typed as ohms",
            "note",
            f"{sentence(names)} {'read' if asked[1:] else 'reads'} 24 ohm: are these the "
            "controller's volts?",
            "If not, enter the coil's ohms and the wire's length and gauge at the valve boxes.",
            _reading_cell(first),
        )


def _reading_cell(terminal: Terminal) -> CellRef:
    """The cell of a terminal's latest reading."""
    column = "now_ohm" if terminal.now_ohm is not None else "day_1_ohm"
    return CellRef("terminal", terminal.id, column)


def _ohms(ohm: float) -> str:
    return f"{ohm:.1f} ohm" if ohm < OPEN_OHM else "over range"


def _how_far(job: LoadedJob, terminal: Terminal, reading: Reading) -> str:
    """How far away a short is at most, if all that was read is the wire's own resistance."""
    circuit = circuit_of(job, valve_behind(job, terminal))
    if reading.meaning != "short" or circuit is None:
        return ""
    far_ft = to_short_ft(reading.ohm, circuit.run.gauge, circuit.run.deg_f)
    return f", at most {quantity(job, round(far_ft), LENGTH)} of wire away"


def _coil_volts(job: LoadedJob) -> Iterator[Finding]:
    """The valve whose coil gets the fewest volts, if they are too few to pull in."""
    currents = currents_of(job)
    worst: tuple[float, Circuit, Currents] | None = None
    for valve in job.valves:
        circuit = circuit_of(job, valve)
        if circuit is None:
            continue
        # The master valve pulls in before any zone runs.
        own = replace(currents, master_a=0.0) if valve.kind == "master" else currents
        volts = coil_v(circuit.run, own)
        if volts < own.pull_in_v - 1e-9 and (worst is None or volts < worst[0]):
            worst = (volts, circuit, own)
    if worst is not None:
        yield _too_far(job, *worst)


def _too_far(job: LoadedJob, volts: float, circuit: Circuit, currents: Currents) -> Finding:
    run = circuit.run
    most_ft = longest_ft(run.gauge, run.common_gauge, currents, deg_f=run.deg_f)
    gauge = smallest_gauge(run.length_ft, currents, deg_f=run.deg_f)
    thicker = f"Pull AWG {gauge} or thicker" if gauge else "No size listed is thick enough"
    usual = _by_usual_figures(job)
    mend = f"{thicker}, or correct length, gauge or the coil's currents."
    if usual:
        mend = f"{thicker}; first enter inrush, pull-in and output: usual figures now."
    return Finding(
        "wire too long",
        "note" if usual else "fix",
        f"{sentence(valve_name(job, circuit.valve))} gets {volts:.1f} V through "
        f"{quantity(job, run.length_ft, LENGTH)} of AWG {run.gauge}; it needs "
        f"{currents.pull_in_v:g} V, which it gets through {quantity(job, round(most_ft), LENGTH)} "
        "at most.",
        mend,
        CellRef("valve", circuit.valve.id, "wire_ft"),
        source=_COPPER,
        numbers=(
            Number("volts at the coil", volts, "V"),
            Number("needed", currents.pull_in_v, "V"),
            Number("margin", volts - currents.pull_in_v, "V"),
            Number("loop", run.loop_ohm, "ohm"),
        ),
    )


def _by_usual_figures(job: LoadedJob) -> bool:
    """Whether inrush, pull-in voltage or output is a usual figure, and not of this job."""
    columns = ("inrush_a", "pull_in_v", "output_v")
    return any(amount(job.controller, column) is None for column in columns)


def _transformer(job: LoadedJob) -> Iterator[Finding]:
    """A load over what the transformer gives, or a transformer over Class 2."""
    if job.controller is None:
        return
    has_va = amount(job.controller, "transformer_va")
    if has_va is None:
        return
    at = CellRef("controller", job.controller.id, "transformer_va")
    most = max((len(group) for group in job.running_together()), default=1)
    needs_va = load_va(currents_of(job), most)
    if needs_va > has_va:
        zones = "one zone" if most == 1 else f"{most} zones at once"
        yield Finding(
            "transformer overloaded",
            "stop",
            f"Running {zones} takes {needs_va:.1f} VA as the last coil pulls in; the transformer "
            f"gives {has_va:g} VA.",
            "Run fewer zones at once, or have a larger transformer fitted by a licensed "
            "electrician.",
            at,
            source="Coil currents: common practice, no source.",
            numbers=(
                Number("load", needs_va, "VA"),
                Number("transformer", has_va, "VA"),
                Number("margin", has_va - needs_va, "VA"),
            ),
        )
    if has_va > CLASS_2_VA:
        yield Finding(
            "over class 2",
            "fix",
            f"A {has_va:g} VA transformer is over the {CLASS_2_VA:g} VA of a Class 2 source: its "
            "wire is no longer low-voltage control wire.",
            "Ask a licensed electrician; local electrical code governs.",
            at,
            source=_CLASS_2,
            numbers=(Number("transformer", has_va, "VA"), Number("class 2", CLASS_2_VA, "VA")),
        )
