"""Every check of a job by name, and all the flags they find in the order a crew takes them."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from fieldbook.checks.desk.change_agreements import check_change_orders
from fieldbook.checks.desk.digging import check_groundwork, groundwork_turns
from fieldbook.checks.desk.file_states import FileStates, check_files
from fieldbook.checks.desk.open_conflicts import check_conflicts
from fieldbook.checks.desk.open_punch_items import check_punch_list
from fieldbook.checks.desk.owner_shown import check_walk_through
from fieldbook.checks.desk.warranty_ends import check_warranties
from fieldbook.checks.finding import Finding
from fieldbook.checks.ground.backfill import check_backfill
from fieldbook.checks.ground.flush import check_flush
from fieldbook.checks.ground.positions import check_positions
from fieldbook.checks.ground.pressure_test import check_pressure
from fieldbook.checks.looked import STAGES, Looked, Stage
from fieldbook.checks.measured.check_audits import check_audits
from fieldbook.checks.measured.check_commissioning import check_commissioning
from fieldbook.checks.progress.signatures import check_signatures
from fieldbook.checks.progress.stages import stage_of
from fieldbook.checks.season.season_check import check_season
from fieldbook.checks.severity import SEVERITIES, Severity
from fieldbook.checks.street.backflow_height import check_backflow
from fieldbook.checks.street.backflow_tests import check_backflow_tests, retest_turns
from fieldbook.checks.street.hazards import check_hazards
from fieldbook.checks.street.supply_limits import check_supply
from fieldbook.checks.verdicts import Answer, Verdicts, answers
from fieldbook.checks.water.hydraulics import check_hydraulics
from fieldbook.checks.watering.controller.programme_flags import (
    check_programmes,
    programme_turns,
)
from fieldbook.checks.watering.watering_flags import check_watering
from fieldbook.checks.wire.controller_setup import check_controller
from fieldbook.checks.wire.electrics import check_electrics
from fieldbook.checks.wire.wire_colours import check_wiring
from fieldbook.records.base import PLACES, Place
from fieldbook.records.loaded_job import LoadedJob, once_per_job

NEVER = date(9999, 1, 1)


@dataclass(frozen=True)
class Subject:
    """What is checked: a job, the instant of the check, and its attached files on the disk."""

    job: LoadedJob
    now: datetime
    files: FileStates

    @property
    def today(self) -> date:
        """The day here."""
        return self.now.date()


@dataclass(frozen=True)
class Check:
    """One check: its name, the place of the work it looks at, and the function that finds flags.

    `due` is the work at which it becomes due. `look` yields a `Looked` for every thing it looks at
    and a `Finding` for each that is wrong. `turns` gives the days on which its answers may change
    though nothing is entered.
    """

    name: str
    place: Place
    due: Stage
    look: Callable[[Subject], Iterable[Finding | Looked]]
    turns: Callable[[LoadedJob], Iterable[date]] = lambda _job: ()


def _of_record(
    name: str, place: Place, due: Stage, look: Callable[[LoadedJob], Iterable[Finding | Looked]]
) -> Check:
    """A check that looks at the record alone, once: the next step and a sign-off ask again."""
    seen = once_per_job(lambda job: tuple(look(job)))
    return Check(name, place, due, lambda subject: seen(subject.job))


CHECKS: tuple[Check, ...] = (
    _of_record("supply", "street", "survey", check_supply),
    _of_record("hydraulics", "ground", "design", check_hydraulics),
    _of_record("backflow height", "street", "service", check_backflow),
    _of_record("backflow kind", "street", "service", check_hazards),
    _of_record("wire map", "controller", "control", check_wiring),
    _of_record("electrics", "controller", "control", check_electrics),
    _of_record("flush", "ground", "service", check_flush),
    _of_record("backfill", "ground", "service", check_backfill),
    _of_record("controller", "controller", "control", check_controller),
    Check(
        "pressure test",
        "ground",
        "service",
        lambda subject: check_pressure(subject.job, subject.now),
    ),
    Check(
        "sign-offs",
        "desk",
        "survey",
        lambda subject: check_signatures(subject.job, subject.now),
    ),
    _of_record("watering", "controller", "handover", check_watering),
    Check(
        "programmes",
        "controller",
        "handover",
        lambda subject: check_programmes(subject.job, subject.today),
        programme_turns,
    ),
    _of_record("positions", "boxes", "handover", check_positions),
    _of_record("conflicts", "desk", "survey", check_conflicts),
    Check(
        "permits and tickets",
        "ground",
        "dig",
        lambda subject: check_groundwork(subject.job, subject.today),
        groundwork_turns,
    ),
    Check(
        "backflow tests",
        "street",
        "service",
        lambda subject: check_backflow_tests(subject.job, subject.today),
        retest_turns,
    ),
    _of_record("commissioning", "service", "survey", check_commissioning),
    _of_record("catch-can audit", "service", "survey", check_audits),
    Check(
        "change orders",
        "desk",
        "survey",
        lambda subject: check_change_orders(subject.job, subject.now),
    ),
    Check(
        "punch list",
        "desk",
        "survey",
        lambda subject: check_punch_list(subject.job, subject.today),
    ),
    Check(
        "owner's walk-through",
        "desk",
        "handover",
        lambda subject: check_walk_through(subject.job, subject.now),
    ),
    _of_record("warranties", "desk", "survey", check_warranties),
    _of_record("season", "service", "close", check_season),
    Check(
        "attached files",
        "desk",
        "survey",
        lambda subject: check_files(subject.job.attachments, subject.files),
    ),
)
"""Flags of one severity and place are listed in this order. A flag's own place may be another
than its check's: it is where the cell is that mends it."""


def verdicts(
    job: LoadedJob,
    now: date | None = None,
    files: FileStates | None = None,
    asked: Stage | None = None,
) -> Verdicts:
    """Every answer of every check, and the flags: stops first, then by place along the walk.

    `now` is an instant or a day, this computer's clock unless given; `files` are the states of
    attached files, of which none is looked at unless given. `asked` is the work that is about to
    begin, as a sign-off is asked for: what belongs to it is due. Flags of one severity and place
    keep the order of the checks and of the record. Never raises, however partial or absurd the
    record is.
    """
    subject = Subject(job, instant(now), files or {})
    reached = max(stage_of(job), asked or "survey", key=STAGES.index)
    found: list[Answer] = []
    flags: list[Finding] = []
    for one in CHECKS:
        seen = list(one.look(subject))
        flags += [thing for thing in seen if isinstance(thing, Finding)]
        found += answers(one.name, one.due, reached, seen)
    flags.sort(key=lambda f: (SEVERITIES.index(f.severity), PLACES.index(f.place)))
    return Verdicts(tuple(found), tuple(flags))


def instant(now: date | None) -> datetime:
    """An instant with its offset: this computer's clock for None and today, noon for another day.

    At noon of today a signature of this afternoon would still lie in the future.
    """
    clock = datetime.now()
    if now is None or (not isinstance(now, datetime) and now == clock.date()):
        return clock.astimezone()
    at = now if isinstance(now, datetime) else datetime.combine(now, time(12))
    return at.astimezone()


def check(
    job: LoadedJob, now: date | None = None, files: FileStates | None = None
) -> tuple[Finding, ...]:
    """The flags of a job; see `verdicts`."""
    return verdicts(job, now, files).flags


def flags_hold_until(job: LoadedJob, today: date) -> date:
    """The last day on which today's flags still hold if nothing is entered."""
    after = [day for one in CHECKS for day in one.turns(job) if day > today]
    return min(after, default=NEVER) - timedelta(days=1)


def counts(findings: Iterable[Finding]) -> dict[Severity, int]:
    """How many stops, fixes and notes there are."""
    severities = [finding.severity for finding in findings]
    return {severity: severities.count(severity) for severity in SEVERITIES}
