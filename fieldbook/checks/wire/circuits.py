"""A job's valve circuits as `fieldbook.wiring` takes them: wire, coil currents, ohm readings."""

from __future__ import annotations

from dataclasses import dataclass

from fieldbook.checks.wire.wire_tests import is_read_before_change
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.controller import Terminal
from fieldbook.records.tables.wires import Valve
from fieldbook.wiring import (
    OHM_PER_1000_FT,
    USUAL_SOIL_DEG_F,
    Currents,
    Reading,
    Run,
    expected_ohm,
    judge,
)

_USUAL = Currents()


@dataclass(frozen=True)
class Circuit:
    """A valve, and the run of wire to it."""

    valve: Valve
    run: Run


def currents_of(job: LoadedJob) -> Currents:
    """The coils' currents and voltages: those entered at the controller, else the usual ones.

    A master valve takes the same inrush as a zone's, and flows in the common with a relay's.
    """
    row = job.controller
    inrush = amount(row, "inrush_a") or _USUAL.inrush_a
    holding = amount(row, "holding_a") or _USUAL.holding_a
    master = inrush if job.master_valve() is not None else 0.0
    return Currents(
        inrush,
        holding,
        master + (amount(row, "relay_a") or 0.0),
        amount(row, "output_v") or _USUAL.output_v,
        amount(row, "pull_in_v") or _USUAL.pull_in_v,
    )


def circuit_of(job: LoadedJob, valve: Valve | None) -> Circuit | None:
    """The circuit of a valve; None while its wire's length or gauge is not entered."""
    length_ft = amount(valve, "wire_ft")
    cable = job.cable_of(valve) if valve is not None else None
    if valve is None or length_ft is None or cable is None:
        return None
    gauge = cable.gauge_awg or ""
    shared = job.row(cable.common_with)
    common = getattr(shared, "gauge_awg", None) or gauge
    if gauge not in OHM_PER_1000_FT or common not in OHM_PER_1000_FT:
        return None
    return Circuit(valve, Run(length_ft, gauge, common, soil_deg_f(job)))


def soil_deg_f(job: LoadedJob) -> float:
    """The soil's temperature in F, which sets the wire's resistance."""
    soil = job.controller.soil_deg_f if job.controller is not None else None
    return USUAL_SOIL_DEG_F if soil is None else float(soil)


def valve_behind(job: LoadedJob, terminal: Terminal) -> Valve | None:
    """The valve of the station a terminal is meant for."""
    if terminal.role == "master":
        return job.master_valve()
    zone = job.terminal_zone(terminal)
    return job.valve_of(zone.id) if zone is not None else None


def expected_of(job: LoadedJob, terminal: Terminal) -> float | None:
    """The ohms that a terminal should read; None while coil or wire is not entered."""
    valve = valve_behind(job, terminal)
    coil = amount(valve, "coil_ohm")
    circuit = circuit_of(job, valve)
    if coil is None or circuit is None:
        return None
    return expected_ohm(coil, circuit.run.loop_ohm)


def reading_of(job: LoadedJob, terminal: Terminal) -> Reading | None:
    """The latest ohm reading, judged by the one of day 1 if it is a later one.

    None while there is none, where the wire was changed since, and for a common, which has no
    coil of its own.
    """
    now, day_1 = amount(terminal, "now_ohm"), amount(terminal, "day_1_ohm")
    if terminal.role == "common" or (now is None and day_1 is None):
        return None
    if is_read_before_change(job, terminal):
        return None
    latching = is_latching(job, valve_behind(job, terminal))
    if now is None:
        return judge(day_1 or 0.0, None, expected_of(job, terminal), latching=latching)
    return judge(now, day_1, expected_of(job, terminal), latching=latching)


def is_latching(job: LoadedJob, valve: Valve | None) -> bool:
    """Whether a valve's coil latches: as entered, else as a battery controller needs it."""
    if valve is not None and valve.coil_kind is not None:
        return valve.coil_kind == "latching DC"
    return job.controller is not None and job.controller.powered_by == "battery"
