"""What the street gives and what a zone takes, as two lines, and the point where it works."""

from __future__ import annotations

from fieldbook.checks.common.naming import listed, quantity, system_of, zone_word
from fieldbook.checks.water.networks import METER, SERVICE, JobNetwork
from fieldbook.checks.water.zone_status import ZoneStatus
from fieldbook.papers.canvas import Canvas
from fieldbook.papers.dots import Point
from fieldbook.papers.zone_water.plot_axes import Axes
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.units import FLOW, PRESSURE, Measure
from fieldbook.water import Solution, operating_curves

WORKS = "◆"
"""The sign of the working point."""
_ROOM_BESIDE = 1.25
"""How much further than the working point and the flow allowed the axis goes, as a factor."""
_FURTHEST = 4.0
"""A flow allowed that is more than so many times the draw is beyond the axis: of a drip zone there
would be nothing to see."""
_LEAST_GPM = 0.05
"""The axis of a zone that draws nothing goes at least so far."""


def supply_picture(job: LoadedJob, status: ZoneStatus, width: int) -> Canvas | None:
    """Pressure over flow at the point of connection, at most `width` columns wide.

    The supply's line is whole, the zone's dashed. None for a zone that is not solved.
    """
    network, solution = status.group.job_network, status.group.solution
    if network is None or solution is None or not solution.converged:
        return None
    return _drawn(job, status, network, solution, width)


def _drawn(
    job: LoadedJob, status: ZoneStatus, found: JobNetwork, solution: Solution, width: int
) -> Canvas:
    system = system_of(job)
    flow, psi = _factor(job, FLOW), _factor(job, PRESSURE)
    street = [link for link in found.network.links if link.name in (METER, SERVICE)]
    at = street[-1].end if street else found.network.source
    works_gpm, works_psi = solution.supply_gpm, solution.node_psi[at]
    limit = status.available
    allowed = limit.flow_gpm if limit is not None else 0.0
    most_gpm = _ROOM_BESIDE * max(works_gpm, min(allowed, _FURTHEST * works_gpm), _LEAST_GPM)
    canvas = Canvas()
    rows = min(max(width // 5, 11), 17)
    axes = Axes(
        canvas,
        (most_gpm * flow, max(found.network.supply.static_psi, 1.0) * psi),
        (width, rows),
        (FLOW.unit(system), PRESSURE.unit(system)),
    )
    # Over the whole axis, which is rounded up from what must have room on it.
    drawn = operating_curves(found.network, [link.name for link in street], axes.end[0] / flow)
    supply = [axes.place((x * flow, y * psi)) for x, y in drawn.supply]
    takes = [axes.place(at) for at in axes.clipped([(x * flow, y * psi) for x, y in drawn.zone])]
    canvas.curve(supply)
    canvas.curve(takes, dashed=True)
    canvas.spot(axes.place((works_gpm * flow, works_psi * psi)), WORKS)
    shown = 0.0 < allowed * flow <= axes.end[0]
    if shown:
        canvas.dotted(int(axes.place((allowed * flow, 0.0))[0]), axes.rows)
    _name(canvas, supply, "supply", width)
    _name(canvas, takes, _word(status), width)
    below = canvas.rows
    gpm, left = quantity(job, works_gpm, FLOW), quantity(job, works_psi, PRESSURE)
    works = "works" if len(status.group.zones) == 1 else "work"
    below = canvas.say_wrapped(below, f"{WORKS} {_word(status)} {works} at {gpm}, {left}", width)
    if limit is not None:
        sign = "┊ " if shown else "Beyond this plot "
        words = f"{sign}{limit.rule} allows {quantity(job, limit.flow_gpm, FLOW)}"
        canvas.say_wrapped(below, words, width)
    return canvas


def _word(status: ZoneStatus) -> str:
    """Such as "zone 2", or "zone 1 and zone 2" where they run together."""
    return listed([zone_word(zone) for zone in status.group.zones], most=3)


def _name(canvas: Canvas, line: list[Point], word: str, width: int) -> None:
    """Put the name of a line near its end, where nothing is covered; else over its end."""
    if not line:
        return
    column, row = (int(part) for part in line[-1])
    sides = [column + 2, column - len(word) - 1, column - len(word) // 2]
    found = [
        (side, row + down)
        for down in (0, -1, 1, -2, 2)
        for side in sides
        if side >= 0 and side + len(word) <= width and row + down >= 0
    ]
    free = (spot for spot in found if canvas.is_free(*spot, word))
    spot = next(free, (min(column, width - len(word)), row))
    canvas.say(*spot, word, "strong")


def _factor(job: LoadedJob, measure: Measure) -> float:
    """How many units of the job are one of ours."""
    return 1 / measure.factors[measure.unit(system_of(job)).lower()]
