"""One flag for what several terminals share: a common, the controller, the water, a cut cable.

The flag names the likely cause and the one measurement that proves it. The flags of the terminals
behind it are left out, since they say the same of each.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping

from fieldbook.checks.common.naming import (
    box_word,
    cable_name,
    controller_name,
    listed,
    terminal_name,
)
from fieldbook.checks.finding import CellRef, Finding
from fieldbook.checks.wire.circuits import reading_of, valve_behind
from fieldbook.checks.wire.ends import joined_wires
from fieldbook.checks.wire.wire_evidence import end_name, reconciled_wire
from fieldbook.checks.wire.wire_tests import ran_at
from fieldbook.records.loaded_job import LoadedJob, once_per_job
from fieldbook.records.tables.controller import OtherController, Terminal
from fieldbook.records.tables.wires import Cable, ValveBox
from fieldbook.wiring import Cause

_FEWEST, _LIKELY_ENOUGH = 2, 0.8


@once_per_job
def terminals_explained(job: LoadedJob) -> frozenset[str]:
    """The ids of terminals whose dead test or open reading a shared cause explains."""
    named = {end_name(terminal): terminal.id for terminal in job.terminals}
    found = {named[name] for cause in reconciled_wire(job).causes for name in cause.terminals}
    found |= {row_id for _, dead in _exchanged_commons(job) for row_id in dead}
    return frozenset(found.union(*(dead for _, _, dead in _cuts(job))))


def check_shared_causes(job: LoadedJob) -> Iterator[Finding]:
    """One flag for each cause that terminals share."""
    for cause in reconciled_wire(job).causes:
        yield _cause(job, cause)
    for hot, _ in _exchanged_commons(job):
        if hot.colour is None or not _is_crossed(job, hot):
            name = terminal_name(job, hot)
            yield Finding(
                "common exchanged",
                "stop",
                f"Of its cable {name} alone runs: likely its wire and the common are exchanged.",
                "Power off: see which wire is under the common terminal. It runs all the same, "
                "since a coil runs either way round.",
                CellRef("terminal", hot.id, "colour"),
            )
    for cable, box, dead in _cuts(job):
        where = box_word(box)
        yield Finding(
            "cable cut",
            "fix",
            f"All {len(dead)} wires of {cable_name(cable)} to {where} are dead, others live: "
            "likely the cable is cut before that box.",
            "Power off: twist two of its wires there and read them at the controller: over range "
            "proves it.",
            CellRef("terminal", dead[0], "now_ohm"),
        )


def _exchanged_commons(job: LoadedJob) -> list[tuple[Terminal, list[str]]]:
    """Terminals whose wire is most likely exchanged with the common, and those dead because of it.

    Current goes through two coils in a row at every other terminal, and neither pulls in.
    """
    named = {end_name(terminal): terminal for terminal in job.terminals}
    found = []
    for doubt in reconciled_wire(job).doubts:
        best = doubt.explanations[0]
        hot = [
            named[end]
            for one in best.mistakes
            if one.kind == "common exchanged"
            for end in one.ends
            if end in named and named[end].role != "common"
        ]
        dead = [
            named[end].id
            for end in doubt.ends
            if end in named and ran_at(job, named[end]) == frozenset()
        ]
        if best.chance > _LIKELY_ENOUGH and len(hot) == 1 and dead:
            found.append((hot[0], dead))
    return found


def _cause(job: LoadedJob, cause: Cause) -> Finding:
    terminals = [one for one in job.terminals if end_name(one) in cause.terminals]
    at = CellRef("terminal", terminals[0].id, "now_ohm")
    row = job.row(cause.cable)
    cable = cable_name(row if isinstance(row, Cable) else None)
    which = listed([str(one.number or "?") for one in terminals], 4)
    other = job.find(OtherController, terminals[0].controller_id)
    which += f" of {controller_name(other)}" if other is not None else ""
    if cause.kind == "supply":
        return Finding(
            "nothing runs anywhere",
            "fix",
            f"Nothing ran at terminals {which}: likely the controller, its transformer or the "
            "water.",
            "Measure volts from a live terminal to the common: none proves the controller; "
            "24 V points at the water.",
            at,
        )
    if cause.metered:
        return Finding(
            "common broken",
            "fix",
            f"All {len(terminals)} readings of {cable} are over range: likely its common is "
            "broken, not each wire.",
            "With the power off, read again with a spare of that cable as the common: sound "
            "readings prove it.",
            at,
        )
    return Finding(
        "common broken",
        "fix",
        f"Nothing ran at terminals {which}: likely the common of {cable} is broken.",
        "Energise one; measure volts from its wire to the common: 24 V at the controller and none "
        "at the box prove it.",
        at,
    )


def _is_crossed(job: LoadedJob, terminal: Terminal) -> bool:
    """Whether the colours say already that a terminal's wire belongs elsewhere."""
    crossed = {wire.controller.name for group in joined_wires(job).crossings for wire in group}
    return end_name(terminal) in crossed


def _cuts(job: LoadedJob) -> list[tuple[Cable, ValveBox, list[str]]]:
    """Boxes at which every wire of a cable is dead while wires to another box live."""
    explained = {name for cause in reconciled_wire(job).causes for name in cause.terminals}
    alive: defaultdict[str, set[str]] = defaultdict(set)
    dead: defaultdict[tuple[str, str], list[str]] = defaultdict(list)
    for terminal in job.terminals:
        valve, cable = valve_behind(job, terminal), job.cable_of(terminal)
        state = _lives(job, terminal)
        box_id = valve.box_id if valve is not None else None
        if cable is None or not box_id or state is None:
            continue
        if state:
            alive[cable.id].add(box_id)
        elif end_name(terminal) not in explained:
            dead[cable.id, box_id].append(terminal.id)
    return list(_cut(job, alive, dead))


def _cut(
    job: LoadedJob,
    alive: Mapping[str, set[str]],
    dead: Mapping[tuple[str, str], list[str]],
) -> Iterator[tuple[Cable, ValveBox, list[str]]]:
    """Of the dead terminals by cable and box, those of boxes where nothing of the cable lives."""
    for (cable_id, box_id), names in dead.items():
        cable, box = job.row(cable_id), job.row(box_id)
        others = alive.get(cable_id, set())
        whole = bool(others) and box_id not in others and len(names) >= _FEWEST
        if whole and isinstance(cable, Cable) and isinstance(box, ValveBox):
            yield cable, box, names


def _lives(job: LoadedJob, terminal: Terminal) -> bool | None:
    """Whether a terminal ran something or reads a coil; None where neither was tried."""
    ran, reading = ran_at(job, terminal), reading_of(job, terminal)
    if ran:
        return True
    if reading is not None:
        return reading.meaning != "open"
    return None if ran is None else False
