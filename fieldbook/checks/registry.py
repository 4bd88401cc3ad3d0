"""Every check of a job by name, and all the flags they find in the order a crew takes them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from fieldbook.checks.desk.digging import check_groundwork, groundwork_turns
from fieldbook.checks.desk.file_states import FileStates, check_files
from fieldbook.checks.desk.open_conflicts import check_conflicts
from fieldbook.checks.finding import SEVERITIES, Finding, Severity
from fieldbook.checks.ground.backfill import check_backfill
from fieldbook.checks.ground.flush import check_flush
from fieldbook.checks.ground.positions import check_positions
from fieldbook.checks.ground.pressure_test import check_pressure
from fieldbook.checks.progress.signatures import check_signatures
from fieldbook.checks.street.backflow_height import check_backflow
from fieldbook.checks.street.backflow_tests import check_backflow_tests, retest_turns
from fieldbook.checks.street.supply_limits import check_supply
from fieldbook.checks.water.hydraulics import check_hydraulics
from fieldbook.checks.wire.controller_setup import check_controller
from fieldbook.checks.wire.electrics import check_electrics
from fieldbook.checks.wire.wire_colours import check_wiring
from fieldbook.records.base import PLACES, Place
from fieldbook.records.loaded_job import LoadedJob

NEVER = date(9999, 1, 1)


@dataclass(frozen=True)
class Subject:
    """What is checked: a job, the day it is checked on, and its attached files on the disk."""

    job: LoadedJob
    today: date
    files: FileStates


@dataclass(frozen=True)
class Check:
    """One check: its name, the place of the work it looks at, and the function that finds flags.

    `turns` gives the days on which its flags may change though nothing is entered.
    """

    name: str
    place: Place
    find: Callable[[Subject], Iterable[Finding]]
    turns: Callable[[LoadedJob], Iterable[date]] = lambda _job: ()


def _of_record(name: str, place: Place, find: Callable[[LoadedJob], Iterable[Finding]]) -> Check:
    """A check that looks at the record alone."""
    return Check(name, place, lambda subject: find(subject.job))


CHECKS: tuple[Check, ...] = (
    _of_record("supply", "street", check_supply),
    _of_record("hydraulics", "ground", check_hydraulics),
    _of_record("backflow height", "street", check_backflow),
    _of_record("wire map", "controller", check_wiring),
    _of_record("electrics", "controller", check_electrics),
    _of_record("flush", "ground", check_flush),
    _of_record("backfill", "ground", check_backfill),
    _of_record("controller", "controller", check_controller),
    _of_record("pressure test", "ground", check_pressure),
    _of_record("sign-offs", "desk", check_signatures),
    _of_record("positions", "boxes", check_positions),
    _of_record("conflicts", "desk", check_conflicts),
    Check(
        "permits and tickets",
        "desk",
        lambda subject: check_groundwork(subject.job, subject.today),
        groundwork_turns,
    ),
    Check(
        "backflow tests",
        "street",
        lambda subject: check_backflow_tests(subject.job, subject.today),
        retest_turns,
    ),
    Check(
        "attached files",
        "desk",
        lambda subject: check_files(subject.job.attachments, subject.files),
    ),
)
"""Flags of one severity and place are listed in this order. A flag's own place may be another
than its check's: it is where the cell is that mends it."""


def check(
    job: LoadedJob, today: date | None = None, files: FileStates | None = None
) -> tuple[Finding, ...]:
    """Every flag of a job: stops first, then fixes and notes, each by place along the walk.

    `today` is the computer's date unless given; `files` are the states of attached files, of which
    none is looked at unless given. Flags of one severity and place keep the order of the checks and
    of the record. Never raises, however partial or absurd the record is.
    """
    subject = Subject(job, today or date.today(), files or {})
    found = (finding for one in CHECKS for finding in one.find(subject))
    return tuple(sorted(found, key=lambda f: (SEVERITIES.index(f.severity), PLACES.index(f.place))))


def flags_hold_until(job: LoadedJob, today: date) -> date:
    """The last day on which today's flags still hold if nothing is entered."""
    after = [day for one in CHECKS for day in one.turns(job) if day > today]
    return min(after, default=NEVER) - timedelta(days=1)


def counts(findings: Iterable[Finding]) -> dict[Severity, int]:
    """How many stops, fixes and notes there are."""
    severities = [finding.severity for finding in findings]
    return {severity: severities.count(severity) for severity in SEVERITIES}


def tally(counted: Mapping[Severity, int]) -> str:
    """Counted flags in words, worst first: "1 stop, 2 fixes"; nothing for none."""
    many = {"stop": "stops", "fix": "fixes", "note": "notes"}
    numbers = [(counted[kind], kind) for kind in SEVERITIES if counted[kind]]
    return ", ".join(f"{count} {kind if count == 1 else many[kind]}" for count, kind in numbers)
