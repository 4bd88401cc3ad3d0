"""Flags on the pressure at heads: too low, dry, too high, starved, unevenly spread.

A head needs the zone's needed pressure, else the pressure its nozzle is rated at. A head that is
dry or under its published minimum is a stop; without a minimum it is a stop under 90 % of what it
needs. Any other head under what it needs is a fix, and one with less than 10 % or 3 psi to spare
is a note.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from fieldbook.checks.common.naming import quantity, run_name, zone_name, zone_word
from fieldbook.checks.finding import CellRef, Finding, Number
from fieldbook.checks.severity import SEVERITIES, Severity
from fieldbook.checks.water.network_draft import HeadRows
from fieldbook.checks.water.zone_flow import Bores, bores_of, needed_psi
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.zones import Zone
from fieldbook.trade.rules.design_limits import REGULATOR_HEADROOM
from fieldbook.units import PRESSURE
from fieldbook.water import HeadResult

LEAST_PART = 0.9
"""The part of its needed pressure that a head without a published minimum must have."""
SPARE_PART, SPARE_PSI = 0.1, 3.0
"""A margin under either is a note: in small pipe Hazen-Williams under-predicts by as much."""
MOST_SPREAD = 0.2
"""The largest spread of head pressures, as a part of the design pressure."""
_LAWS = {
    "hazen-williams": "Hazen-Williams, 452 q^1.852 / (C^1.852 d^4.8704) psi per 100 ft",
    "darcy-weisbach": "Darcy-Weisbach with Colebrook's factor",
}

STARVED = "regulated head starved"
"""The code of the flag on a head that gets too little to regulate."""
_WALLS: Mapping[Bores, str] = {
    "average": "average wall (ASTM D1785 tolerance)",
    "minimum wall": "minimum wall",
}

SolvedHead = tuple[HeadRows, HeadResult]


@dataclass(frozen=True)
class HeadVerdict:
    """How one head stands: its severity (None: good) and the pressure it is held to.

    `words` go before that pressure in a sentence: "it needs", "its minimum is".
    """

    severity: Severity | None
    rows: HeadRows
    result: HeadResult
    held_to_psi: float
    words: str

    @property
    def margin_psi(self) -> float:
        """The pressure in psi over what the head is held to; negative where it is short."""
        return self.result.psi - self.held_to_psi


def judge_head(rows: HeadRows, result: HeadResult) -> HeadVerdict | None:
    """How a head's pressure stands; None while nothing says what it needs."""
    needed = needed_psi(rows.head, rows.zone)
    minimum = amount(rows.head, "min_psi")
    if minimum is not None and (result.psi < minimum or result.state == "dry"):
        return HeadVerdict("stop", rows, result, minimum, "its minimum is")
    if needed is None and minimum is None:
        return None
    held_to = needed if needed is not None else minimum or 0.0
    words = "it needs" if needed is not None else "its minimum is"
    margin = result.psi - held_to
    severity: Severity | None = None
    if margin < -1e-9:
        low = minimum is None and result.psi < LEAST_PART * held_to
        severity = "stop" if low or result.state == "dry" else "fix"
    elif margin < SPARE_PSI or margin < SPARE_PART * held_to:
        severity = "note"
    return HeadVerdict(severity, rows, result, held_to, words)


def exceeded_maximum_psi(rows: HeadRows, result: HeadResult) -> float | None:
    """The published maximum that a head is over; None if it is not, or its body regulates."""
    maximum = amount(rows.head, "max_psi")
    over = maximum is not None and result.state == "normal" and result.psi > maximum
    return maximum if over else None


def check_heads(job: LoadedJob, zone: Zone, heads: Sequence[SolvedHead]) -> Iterator[Finding]:
    """Flags on one zone's heads: at most one of each kind, on the worst head."""
    verdicts = [judge_head(rows, result) for rows, result in heads]
    flagged = [one for one in verdicts if one is not None and one.severity is not None]
    worst = min(
        flagged,
        key=lambda one: (SEVERITIES.index(one.severity or "note"), one.margin_psi),
        default=None,
    )
    if worst is not None:
        yield _low(job, zone, worst)
    yield from _too_high(job, heads)
    if worst is None:
        # A head that is short is starved too: one mistake gives one flag.
        yield from _starved(job, heads)
    yield from _spread(job, zone, heads)


def law_source(job: LoadedJob) -> str:
    """The friction law that was used, and what else the pressures rest on."""
    chosen = job.supply.friction_law if job.supply is not None else None
    law, wall = _LAWS[chosen or "hazen-williams"], _WALLS[bores_of(job)]
    return (
        f"{law}; PVC bores at {wall}; 0.433 psi/ft (International Plumbing Code, Appendix E, "
        "E103.2.2); losses not entered are placeholders, common practice, no source."
    )


def _low(job: LoadedJob, zone: Zone, worst: HeadVerdict) -> Finding:
    run, psi = worst.rows.run, worst.result.psi
    short = worst.margin_psi < 0
    margin = quantity(job, abs(worst.margin_psi), PRESSURE)
    gets = "gets no water" if worst.result.state == "dry" else f"gets {_psi(job, psi)}"
    code = "pressure too low" if short else "little pressure to spare"
    return Finding(
        "head dry" if worst.result.state == "dry" else code,
        worst.severity or "note",
        f"The head at {run_name(job, run)} {gets}; {worst.words} "
        f"{_psi(job, worst.held_to_psi)}: {margin} {'short' if short else 'to spare'}.",
        f"Lay larger pipe on the way to that head, or split {zone_word(zone)}, and correct the "
        "runs at the ground; the desk shows which change is enough.",
        CellRef("pipe_run", run.id, "size"),
        source=law_source(job),
        numbers=(
            Number("pressure at the head", psi, "psi"),
            Number("needed", worst.held_to_psi, "psi"),
            Number("margin", worst.margin_psi, "psi"),
        ),
    )


def _too_high(job: LoadedJob, heads: Sequence[SolvedHead]) -> Iterator[Finding]:
    """The head furthest over its published maximum, unless its body regulates."""
    over = []
    for rows, result in heads:
        maximum = exceeded_maximum_psi(rows, result)
        if maximum is not None:
            over.append((result.psi - maximum, maximum, rows, result))
    if not over:
        return
    margin, maximum, rows, result = max(over, key=lambda one: one[0])
    yield Finding(
        "pressure too high",
        "fix",
        f"The head at {run_name(job, rows.run)} gets {_psi(job, result.psi)}; its maximum is "
        f"{_psi(job, maximum)}.",
        "Fit a regulated head there or a regulator at the valve, and enter what it is set to at "
        "the ground.",
        CellRef("head", rows.head.id, "regulated_psi"),
        source=law_source(job),
        numbers=(
            Number("pressure at the head", result.psi, "psi"),
            Number("maximum", maximum, "psi"),
            Number("margin", -margin, "psi"),
        ),
    )


def _starved(job: LoadedJob, heads: Sequence[SolvedHead]) -> Iterator[Finding]:
    """The regulated head that gets least of what its body needs to hold its pressure."""
    short = []
    for rows, result in heads:
        regulated = amount(rows.head, "regulated_psi")
        if regulated is not None and result.psi < regulated + REGULATOR_HEADROOM.value - 1e-6:
            short.append((result.psi - regulated, regulated, rows, result))
    if not short:
        return
    over, regulated, rows, result = min(short, key=lambda one: one[0])
    wanted = regulated + REGULATOR_HEADROOM.value
    yield Finding(
        STARVED,
        "note",
        f"The regulated head at {run_name(job, rows.run)} gets {_psi(job, result.psi)}; to hold "
        f"the {_psi(job, regulated)} it regulates to it needs {_psi(job, wanted)}.",
        "Lay larger pipe on the way to it, or draw less at once, and correct the runs at the "
        "ground.",
        CellRef("head", rows.head.id, "regulated_psi"),
        source=f"{REGULATOR_HEADROOM.source} {law_source(job)}",
        numbers=(
            Number("pressure at the head", result.psi, "psi"),
            Number("needed", wanted, "psi"),
            Number("margin", over - REGULATOR_HEADROOM.value, "psi"),
        ),
    )


def _nozzle_psi(rows: HeadRows, result: HeadResult) -> float:
    """The pressure at a head's nozzle, behind its own regulation; 0 for a dry head."""
    regulated = amount(rows.head, "regulated_psi")
    psi = max(result.psi, 0.0)
    return psi if regulated is None else min(psi, regulated)


def _spread(job: LoadedJob, zone: Zone, heads: Sequence[SolvedHead]) -> Iterator[Finding]:
    """Head pressures of a zone that differ by more than a fifth of the design pressure."""
    design = [psi for rows, _ in heads if (psi := needed_psi(rows.head, rows.zone)) is not None]
    if len(heads) < 2 or not design:
        return
    psis = [(_nozzle_psi(rows, result), rows) for rows, result in heads]
    low, lowest = min(psis, key=lambda pair: pair[0])
    high, _ = max(psis, key=lambda pair: pair[0])
    spread = (high - low) / max(design)
    if spread <= MOST_SPREAD + 1e-9:
        return
    yield Finding(
        "pressure spread",
        "fix",
        f"Heads of {zone_name(zone)} get from {_psi(job, low)} to {_psi(job, high)}, a spread of "
        f"{100 * spread:.0f} % of the design pressure; over 20 % waters unevenly.",
        f"Fit regulated heads, level the runs of {zone_word(zone)} with larger pipe, "
        "or split it by height, and correct the runs at the ground.",
        CellRef("pipe_run", lowest.run.id, "size"),
        source="NRCS National Engineering Handbook, part 623 chapter 11 (from memory).",
        numbers=(
            Number("lowest", low, "psi"),
            Number("highest", high, "psi"),
            Number("spread", 100 * spread, "%"),
        ),
    )


def _psi(job: LoadedJob, psi: float) -> str:
    return quantity(job, psi, PRESSURE)
