"""The day list of all properties: what can be done now, what waits, what runs out this week."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from fieldbook.actions.open_job import flags_of
from fieldbook.checks.common.naming import assembly_name, sentence, stretch_name
from fieldbook.checks.desk.digging import ticket_span
from fieldbook.checks.finding import Finding
from fieldbook.checks.ground.pressure_test import cured_at
from fieldbook.checks.next_step import next_step, next_step_at
from fieldbook.checks.progress.holds import SIGN_OFFS, unmet
from fieldbook.checks.registry import counts, tally
from fieldbook.checks.street.backflow_tests import retest_on
from fieldbook.records.base import PLACE_WORDS, PLACES
from fieldbook.records.days import day_of
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.store.book import Book

_WEEK = timedelta(days=7)


@dataclass(frozen=True)
class Due:
    """One thing to do on a property, the day it is due on if any, and what it waits for if any."""

    address: str
    what: str
    on: date | None = None
    waits: str = ""

    @property
    def words(self) -> str:
        """The thing, its day and what it waits for, without the address."""
        on = f", {self.on.isoformat()}" if self.on is not None else ""
        waits = f": waits for {self.waits}" if self.waits else ""
        return f"{self.what}{on}{waits}"


@dataclass(frozen=True)
class DayList:
    """What can be done now, what waits for something, what runs out within a week or has, flags."""

    can: tuple[Due, ...]
    waits: tuple[Due, ...]
    runs_out: tuple[Due, ...]
    flags: tuple[Due, ...]

    def sections(self) -> tuple[tuple[str, tuple[Due, ...], str], ...]:
        """The four lists: heading, things due, and the sentence for an empty list."""
        return (
            ("Can be done now", self.can, "Nothing: no property is on the board."),
            ("Waits", self.waits, "Nothing waits."),
            ("Runs out within a week, or has", self.runs_out, "Nothing runs out."),
            ("Flags", self.flags, "No flags."),
        )


def day_list(book: Book, now: datetime | None = None) -> DayList:
    """The day list of every property on the board, derived from the record alone."""
    at = now or datetime.now()
    can: list[Due] = []
    waits: list[Due] = []
    runs_out: list[Due] = []
    flags: list[Due] = []
    for job in book.jobs():
        loaded = book.load(job.id)
        found = flags_of(book, loaded, at.date())
        can += _can_be_done(loaded, found)
        waits += _waits(loaded, at)
        runs_out += _runs_out(loaded, at.date())
        if found:
            flags.append(Due(job.address, tally(counts(found))))
    runs_out.sort(key=lambda due: str(due.on))
    return DayList(tuple(can), tuple(waits), tuple(runs_out), tuple(flags))


def _can_be_done(job: LoadedJob, flags: Sequence[Finding]) -> Iterator[Due]:
    """The next step at each place; where the record is complete, the handover."""
    steps = [step for place in PLACES if (step := next_step_at(job, place)) is not None]
    for step in steps or [next_step(job, flags)]:
        yield Due(job.job.address, f"{sentence(PLACE_WORDS[step.place])}: {step.sentence}")


def _waits(job: LoadedJob, now: datetime) -> Iterator[Due]:
    """Cement that is still curing, and the next sign-off of the job if a hold keeps it back."""
    for test in job.pressure_tests:
        cured = cured_at(job, test)
        if cured is not None and test.began_at is None and cured > now:
            what = f"pressure test of {stretch_name(job, test.zone_id)}"
            yield Due(job.job.address, what, cured.date(), f"cement until {cured:%H:%M}")
    kind = next((kind for kind in SIGN_OFFS if job.signed(kind) is None), None)
    held = unmet(job, kind, None, now) if kind is not None else []
    if kind is not None and held:
        yield Due(job.job.address, SIGN_OFFS[kind], waits=held[0].words)


def _runs_out(job: LoadedJob, today: date) -> Iterator[Due]:
    """Utility marks, permits, licences and backflow tests that expire within a week, or have."""
    dated: list[tuple[str, date | None]] = [
        (f"marks of ticket {ticket.number}", ticket_span(job, ticket)[1])
        for ticket in job.locate_tickets
        if not ticket.dug_until
    ]
    dated += [(f"permit {permit.number}", day_of(permit.expires_on)) for permit in job.permits]
    dated += [(f"licence of {member.name}", day_of(member.expires_on)) for member in job.crew]
    dated += [
        (f"next test of the {assembly_name(assembly)}", retest_on(job, assembly))
        for assembly in job.backflow_assemblies
    ]
    for what, ends in dated:
        if ends is not None and ends <= today + _WEEK:
            yield Due(job.job.address, what, ends)
