"""The plan in words: how each part is found with tapes, what the corners are, what is missing."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.ground.fixed_points import spot_words
from fieldbook.papers.site_plan.plan import Mark, Plan
from fieldbook.records.loaded_job import LoadedJob

CAUTION = (
    "Taped by the crew, not surveyed. Call before digging: private lines are not marked. "
    "Dig by hand near a mark."
)
NOTHING = "Nothing is tied to a corner yet: enter corners and ties at the valve boxes."
_EIGHTHS = ("up", "up right", "right", "down right", "down", "down left", "left", "up left")


def found_by(plan: Plan, mark: Mark) -> str:
    """Such as "17 ft from corner 1, 18.5 ft from corner 2"."""
    tapes = [tape for tape in plan.tapes if tape.to == mark.name and tape.end == mark.at]
    return ", ".join(f"{tape.words} from corner {tape.corner}" for tape in tapes)


def tape_list(job: LoadedJob, plan: Plan) -> Iterator[tuple[Mark, str]]:
    """Each located part with its tapes, and where that is along the wall or by compass."""
    for mark in plan.parts:
        yield mark, f"{found_by(plan, mark)} ({spot_words(job, *mark.at)})"


def corner_list(job: LoadedJob, plan: Plan) -> Iterator[tuple[Mark, str]]:
    """Each corner with its own place."""
    for mark in plan.corners:
        yield mark, f"{mark.number} {mark.name}: {spot_words(job, *mark.at)}"


def which_way(plan: Plan) -> str:
    """Which way the plan lies: "out from the wall is down, north is up"."""
    if plan.by_compass:
        return "north is up"
    down = "out from the wall is down"
    if plan.north_deg is None:
        return f"{down}, north is not recorded"
    return f"{down}, north is {_EIGHTHS[round(plan.north_deg / 45.0) % 8]}"
