"""Every check of one job, in the order a crew should take the flags."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from datetime import date

from fieldbook.checks.desk.digging import check_groundwork
from fieldbook.checks.desk.open_conflicts import check_conflicts
from fieldbook.checks.desk.signatures import check_signatures
from fieldbook.checks.finding import SEVERITIES, Finding, Severity
from fieldbook.checks.ground.backfill import check_backfill
from fieldbook.checks.ground.flush import check_flush
from fieldbook.checks.ground.positions import check_positions
from fieldbook.checks.ground.pressure_test import check_pressure
from fieldbook.checks.street.backflow_height import check_backflow
from fieldbook.checks.street.backflow_tests import check_backflow_tests
from fieldbook.checks.street.supply_limits import check_supply
from fieldbook.checks.water.hydraulics import check_hydraulics
from fieldbook.checks.wire.controller_setup import check_controller
from fieldbook.checks.wire.electrics import check_electrics
from fieldbook.checks.wire.wire_colours import check_wiring
from fieldbook.records.base import PLACES
from fieldbook.records.loaded_job import LoadedJob

CHECKS: tuple[Callable[[LoadedJob], Iterable[Finding]], ...] = (
    check_supply,
    check_hydraulics,
    check_backflow,
    check_wiring,
    check_electrics,
    check_flush,
    check_backfill,
    check_controller,
    check_pressure,
    check_signatures,
    check_positions,
    check_conflicts,
)


DATED: tuple[Callable[[LoadedJob, date], Iterable[Finding]], ...] = (
    check_groundwork,
    check_backflow_tests,
)
"""Checks that ask which day it is."""


def check(job: LoadedJob, today: date | None = None) -> tuple[Finding, ...]:
    """Every flag of a job: stops first, then fixes and notes, each by place along the walk.

    `today` is the day of the clock here, unless given.

    Flags of one severity and place keep the order of the checks and of the record. Never raises,
    however partial or absurd the record is.
    """
    day = today or date.today()
    found = [finding for subject in CHECKS for finding in subject(job)]
    found += [finding for subject in DATED for finding in subject(job, day)]
    return in_order(found)


def in_order(found: Iterable[Finding]) -> tuple[Finding, ...]:
    """Flags by severity, then by place along the walk, else as they come."""
    return tuple(sorted(found, key=lambda f: (SEVERITIES.index(f.severity), PLACES.index(f.place))))


def counts(findings: Iterable[Finding]) -> dict[Severity, int]:
    """How many stops, fixes and notes there are."""
    severities = [finding.severity for finding in findings]
    return {severity: severities.count(severity) for severity in SEVERITIES}


def tally(counted: Mapping[Severity, int]) -> str:
    """Counted flags in words, worst first: "1 stop, 2 fixes"; nothing for none."""
    many = {"stop": "stops", "fix": "fixes", "note": "notes"}
    numbers = [(counted[one], one) for one in SEVERITIES if counted[one]]
    return ", ".join(f"{count} {one if count == 1 else many[one]}" for count, one in numbers)
