"""The lines of a zone's page: how its water stands, curves, pressure ledger, what mends it."""

from __future__ import annotations

from collections.abc import Iterator

from textual.content import Content

from fieldbook.checks.common.naming import (
    is_or_are,
    listed,
    quantity,
    run_name,
    sentence,
    system_of,
    zone_name,
    zone_word,
)
from fieldbook.checks.water.head_pressures import law_source
from fieldbook.checks.water.networks import METER, SERVICE, JobNetwork
from fieldbook.checks.water.zone_remedies import Advice
from fieldbook.checks.water.zone_status import ZoneStatus
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.screens.pages.page import FAINT, title
from fieldbook.screens.pages.plots import bar, curves
from fieldbook.screens.widgets.terminal_cells import fit
from fieldbook.units import FLOW, PRESSURE
from fieldbook.water import SUPPLY, Ledger, Solution, ledger, operating_curves

_GOOD, _BAD = "$success bold", "$error bold"
_PLOT_ROWS = 9
_BLANK = Content("")
_STYLES = {"good": _GOOD, "tight": "$warning bold", "open": "$foreground bold"}


def zone_figures(job: LoadedJob, status: ZoneStatus, width: int) -> list[Content]:
    """The curves and the ledger; none for a zone that is not solved. At most `width` cells wide."""
    water = status.group
    if water.job_network is None or water.solution is None or not water.solution.converged:
        return []
    lines = list(_curves(job, status, water.job_network, water.solution, width))
    if status.worst is not None:
        names = [n for n, rows in water.job_network.heads.items() if rows is status.worst.rows]
        worst = ledger(water.job_network.network, water.solution, names[0])
        lines += _ledger(job, status, worst, width)
    lines += [_BLANK, Content.styled(f"Worked out with {law_source(job)}", FAINT)]
    return lines


def advice_lines(found: Advice | None) -> list[Content]:
    """What mends the zone; `found` is None while that is not worked out, or can't be."""
    if found is None:
        return []
    if not found.mends:
        return [Content(found.now)]
    return [
        _BLANK,
        title("What mends it"),
        Content(found.now),
        *(Content(f"- {one}") for one in found.mends),
        Content.styled("Each was solved with that one change made.", FAINT),
    ]


def status_lines(job: LoadedJob, status: ZoneStatus) -> Iterator[Content]:
    """The zone and how it stands in a word, its flow, its worst sprinkler head."""
    name = sentence(zone_name(status.zone))
    yield Content.assemble(f"{name}: ", (status.word, _STYLES.get(status.word, _BAD)))
    others = [zone_word(one) for one in status.group.zones if one is not status.zone]
    if others:
        yield Content(f"Solved together with {listed(others)}, which run at the same time.")
    if status.group.missing:
        yield Content(f"Not worked out yet: {status.group.missing} is still to be entered.")
    others_missing = [lack for lack in status.missing if lack.at != status.group.missing_at]
    if others_missing:
        words = listed([lack.words for lack in others_missing], most=3)
        verb = is_or_are(len(others_missing))
        yield Content(f"Not checked yet: {words} {verb} still to be entered.")
    if status.group.refusal:
        yield Content(status.group.refusal)
    yield from _figures(job, status)


def _figures(job: LoadedJob, status: ZoneStatus) -> Iterator[Content]:
    """What a zone draws beside what it is allowed, and its worst sprinkler head."""
    if status.flow_gpm is not None:
        solved = status.group.solution is not None
        draws = "It draws" if solved else "By its design it draws"
        flow = f"{draws} {quantity(job, status.flow_gpm, FLOW)}"
        limit = status.available
        if limit is not None:
            flow += f"; {limit.rule} allows {quantity(job, limit.flow_gpm, FLOW)}"
        yield Content(f"{flow}.")
    worst = status.worst
    if worst is not None:
        psi, need = (quantity(job, v, PRESSURE) for v in (worst.result.psi, worst.held_to_psi))
        spare = quantity(job, abs(worst.margin_psi), PRESSURE)
        yield Content(
            f"Its worst head, at {run_name(job, worst.rows.run)}, gets {psi}; {worst.words} "
            f"{need}: {spare} {'short' if worst.margin_psi < 0 else 'to spare'}."
        )


def _curves(
    job: LoadedJob, status: ZoneStatus, found: JobNetwork, solution: Solution, width: int
) -> Iterator[Content]:
    """The pressure the street gives and the pressure the zone needs, over the flow."""
    street = [link.name for link in found.network.links if link.name in (METER, SERVICE)]
    allowed = status.available.flow_gpm if status.available is not None else 0.0
    most_gpm = 1.3 * max(solution.supply_gpm, allowed, 1.0)
    drawn = operating_curves(found.network, street, most_gpm)
    # The curves meet behind the meter and the service line, whichever of them are in the network.
    at = found.network.source
    for link in found.network.links:
        if link.name in street:
            at = link.end
    system = system_of(job)
    meet = (solution.supply_gpm, solution.node_psi[at])
    takes = [point for point in drawn.zone if point[0] <= most_gpm]
    units = FLOW.unit(system), PRESSURE.unit(system)
    flow, psi = 1 / FLOW.factors[units[0].lower()], 1 / PRESSURE.factors[units[1].lower()]
    yield title("Supply and zone at the point of connection")
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


def _ledger(job: LoadedJob, status: ZoneStatus, entries: Ledger, width: int) -> Iterator[Content]:
    """Every loss and gain from the static pressure to the worst head, each with a bar."""
    assert status.worst is not None
    yield _BLANK
    run = status.worst.rows.run.number or "?"
    yield title(f"From the street to its worst head, at run {run}")
    of = f" of {zone_word(status.zone)}"
    rows: list[tuple[str, float, str]] = [("static pressure", entries.static_psi, "")]
    for name, psi in entries.items:
        if abs(psi) >= 0.005:
            named = "supply main" if name == SUPPLY else name.replace(of, "")
            rows.append((named, abs(psi), "-" if psi > 0 else "+"))
    rows.append(("left at the head", entries.left_psi, "="))
    rows.append((status.worst.words, status.worst.held_to_psi, ""))
    label = min(max(len(name) for name, _, _ in rows), 22)
    figures = [f"{sign:1} {quantity(job, psi, PRESSURE):>9}" for _, psi, sign in rows]
    room = width - label - len(figures[0]) - 3
    for (name, psi, _), figure in zip(rows, figures, strict=True):
        drawn = bar(psi / max(entries.static_psi, 1e-9), room)
        yield Content(f"{fit(name, label)} {figure}  {drawn}")
