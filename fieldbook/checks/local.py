"""The rules a job is held to: what was entered at the desk, else the generic default.

The authority having jurisdiction decides; every flag says which of the two it used.
"""

from __future__ import annotations

from fieldbook.checks.known import amount
from fieldbook.records.loaded import LoadedJob
from fieldbook.trade.backflow import BACKFLOW_KINDS
from fieldbook.trade.local_rules import (
    LATERAL_COVER,
    MAINLINE_COVER,
    STATIC_MAX,
    VELOCITY_MAX,
    Rule,
)

_ENTERED = "The local rule entered at the desk."


def static_maximum() -> Rule:
    """The static pressure in psi above which the connection is to be regulated."""
    return STATIC_MAX


def velocity_maximum() -> Rule:
    """The velocity in ft/s above which pipe is too small."""
    return VELOCITY_MAX


def cover_minimum(job: LoadedJob, *, mainline: bool) -> Rule:
    """Least cover in inches over the mainline, or over laterals."""
    entered = amount(job.local_rules, "mainline_cover_in" if mainline else "lateral_cover_in")
    if entered is None:
        return MAINLINE_COVER if mainline else LATERAL_COVER
    assert job.local_rules is not None
    return Rule(entered, "in", job.local_rules.cover_code.strip() or _ENTERED)


def backflow_height(job: LoadedJob, kind: str | None) -> Rule | None:
    """Least height in inches of the critical level over the highest sprinkler.

    None for a kind that has no such height (DC, RP), or while the kind is not known.
    """
    generic = BACKFLOW_KINDS.get(kind or "")
    if generic is None or generic.height_in is None:
        return None
    entered = amount(job.local_rules, "backflow_height_in")
    if entered is None:
        return Rule(generic.height_in, "in", generic.source)
    assert job.local_rules is not None
    return Rule(entered, "in", job.local_rules.backflow_code.strip() or _ENTERED)


def assembly_clearance(kind: str | None) -> Rule | None:
    """Least clearance in inches of the assembly over the soil; None for a kind without one."""
    generic = BACKFLOW_KINDS.get(kind or "")
    if generic is None or generic.above_grade_in is None:
        return None
    return Rule(generic.above_grade_in, "in", generic.source)
