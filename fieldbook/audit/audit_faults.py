"""Why an audit does not count: too much wind, too few cans, too short a run."""

from __future__ import annotations

from typing import Literal, NamedTuple

from fieldbook.trade.rules.design_limits import Rule

FaultName = Literal["wind", "cans", "minutes"]

MOST_WIND = Rule(5.0, "mph", "New Mexico State University, H-510.")
LEAST_CANS = Rule(20.0, "cans", "University of Minnesota Extension.")
LEAST_MINUTES = Rule(15.0, "min", "UF/IFAS Extension, calibrating pages.")
USUAL_MINUTES = Rule(30.0, "min", "University of Minnesota Extension: 30 to 60 minutes.")


class AuditFault(NamedTuple):
    """One thing that makes an audit bad: what it was, and what it had to be."""

    name: FaultName
    value: float
    limit: Rule


def audit_faults(
    cans: int, minutes: float | None, wind_mph: float | None
) -> tuple[AuditFault, ...]:
    """What is wrong with an audit; a figure that is None was not entered and is no fault here."""
    found: list[AuditFault] = []
    if wind_mph is not None and wind_mph > MOST_WIND.value:
        found.append(AuditFault("wind", wind_mph, MOST_WIND))
    if cans < LEAST_CANS.value:
        found.append(AuditFault("cans", cans, LEAST_CANS))
    if minutes is not None and minutes < LEAST_MINUTES.value:
        found.append(AuditFault("minutes", minutes, LEAST_MINUTES))
    return tuple(found)
