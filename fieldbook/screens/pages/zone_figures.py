"""The page of one zone's water as lines: how it stands, its curves, the ledger, what mends it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from textual.content import Content

from fieldbook.checks.common.naming import (
    listed,
    quantity,
    run_name,
    sentence,
    zone_name,
    zone_word,
)
from fieldbook.checks.water.head_pressures import law_source
from fieldbook.checks.water.networks import METER, SERVICE, JobNetwork
from fieldbook.checks.water.zone_remedies import Advice
from fieldbook.checks.water.zone_status import ZoneStatus
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.screens.pages.plots import bar, curves
from fieldbook.screens.widgets.terminal_cells import fit
from fieldbook.units import FLOW, PRESSURE, System
from fieldbook.water import SUPPLY, Ledger, Solution, ledger, operating_curves

_TITLE, _FAINT, _GOOD, _BAD = "$primary bold", "$secondary", "$success bold", "$error bold"
_PLOT_ROWS = 9
_BLANK = Content("")
_LOOK = {"good": _GOOD, "tight": "$warning bold", "open": "$foreground bold"}


def zone_figures(job: LoadedJob, standing: ZoneStatus, width: int) -> list[Content]:
    """The curves and the ledger; none for a zone that is not solved. At most `width` cells wide."""
    water = standing.group
    if water.job_network is None or water.solution is None or not water.solution.converged:
        return []
    lines = list(_curves(job, standing, water.job_network, water.solution, width))
    if standing.worst is not None:
        names = [n for n, rows in water.job_network.heads.items() if rows is standing.worst.rows]
        worst = ledger(water.job_network.network, water.solution, names[0])
        lines += _ledger(job, standing, worst, width)
    lines += [_BLANK, Content.styled(f"Worked out with {law_source(job)}", _FAINT)]
    return lines


def advice_lines(found: Advice | None) -> list[Content]:
    """What mends it."""
    if found is None:
        return []
    if not found.mends:
        return [Content(found.now)]
    return [
        _BLANK,
        Content.styled("What mends it", _TITLE),
        Content(found.now),
        *(Content(f"- {one}") for one in found.mends),
        Content.styled("Each was solved with that one change made.", _FAINT),
    ]


def standing_lines(job: LoadedJob, standing: ZoneStatus) -> Iterator[Content]:
    """Who, the word, the flow, the worst head."""
    name = sentence(zone_name(standing.zone))
    yield Content.assemble(f"{name}: ", (standing.word, _LOOK.get(standing.word, _BAD)))
    others = [zone_word(one) for one in standing.group.zones if one is not standing.zone]
    if others:
        yield Content(f"Solved together with {listed(others)}, which run at the same time.")
    if standing.group.missing:
        yield Content(f"Not worked out yet: {standing.group.missing} is still to be entered.")
    if standing.group.refusal:
        yield Content(standing.group.refusal)
    if standing.flow_gpm is not None:
        solved = standing.group.solution is not None
        said = "It draws" if solved else "By its design it draws"
        flow = f"{said} {quantity(job, standing.flow_gpm, FLOW)}"
        limit = standing.available
        if limit is not None:
            flow += f"; {limit.rule} allows {quantity(job, limit.flow_gpm, FLOW)}"
        yield Content(f"{flow}.")
    worst = standing.worst
    if worst is not None:
        psi, need = (quantity(job, v, PRESSURE) for v in (worst.result.psi, worst.held_to_psi))
        spare = quantity(job, abs(worst.margin_psi), PRESSURE)
        yield Content(
            f"Its worst head, at {run_name(job, worst.rows.run)}, gets {psi}; {worst.words} "
            f"{need}: {spare} {'short' if worst.margin_psi < 0 else 'to spare'}."
        )


def _curves(
    job: LoadedJob, standing: ZoneStatus, found: JobNetwork, solution: Solution, width: int
) -> Iterator[Content]:
    """What the street gives and what the zone takes, by flow."""
    street = [link.name for link in found.network.links if link.name in (METER, SERVICE)]
    allowed = standing.available.flow_gpm if standing.available is not None else 0.0
    most_gpm = 1.3 * max(solution.supply_gpm, allowed, 1.0)
    drawn = operating_curves(found.network, street, most_gpm)
    at = found.network.source
    for link in found.network.links:
        if link.name in street:
            at = link.end
    system = _system(job)
    meet = (solution.supply_gpm, solution.node_psi[at])
    takes = [point for point in drawn.zone if point[0] <= most_gpm]
    units = FLOW.unit(system), PRESSURE.unit(system)
    flow, psi = 1 / FLOW.factors[units[0].lower()], 1 / PRESSURE.factors[units[1].lower()]
    yield Content.styled("Supply and zone at the point of connection", _TITLE)
    plot = curves(
        {
            "s": [(x * flow, y * psi) for x, y in drawn.supply],
            "z": [(x * flow, y * psi) for x, y in takes],
        },
        (meet[0] * flow, meet[1] * psi),
        width,
        _PLOT_ROWS,
        units,
    )
    yield from map(Content, plot)
    gpm, left = quantity(job, meet[0], FLOW), quantity(job, meet[1], PRESSURE)
    yield Content(f"s supply, z zone, X both: {gpm} at {left}")


def _ledger(job: LoadedJob, standing: ZoneStatus, told: Ledger, width: int) -> Iterator[Content]:
    """From static to the nozzle, a bar each."""
    assert standing.worst is not None
    yield _BLANK
    run = standing.worst.rows.run.number or "?"
    yield Content.styled(f"From the street to its worst head, at run {run}", _TITLE)
    of = f" of {zone_word(standing.zone)}"
    rows: list[tuple[str, float, str]] = [("static pressure", told.static_psi, "")]
    for name, psi in told.items:
        if abs(psi) >= 0.005:
            named = "supply main" if name == SUPPLY else name.replace(of, "")
            rows.append((named, abs(psi), "-" if psi > 0 else "+"))
    rows.append(("left at the head", told.left_psi, "="))
    rows.append((standing.worst.words, standing.worst.held_to_psi, ""))
    label = min(max(len(name) for name, _, _ in rows), 22)
    figures = [f"{sign:1} {quantity(job, psi, PRESSURE):>9}" for _, psi, sign in rows]
    room = width - label - len(figures[0]) - 3
    for (name, psi, _), figure in zip(rows, figures, strict=True):
        drawn = bar(psi / max(told.static_psi, 1e-9), room)
        yield Content(f"{fit(name, label)} {figure}  {drawn}")


def _system(job: LoadedJob) -> System:
    return "metric" if job.job.units == "metric" else "us"


def joined(lines: Iterable[Content]) -> Content:
    """The lines one under the other."""
    return Content("\n").join(lines)
