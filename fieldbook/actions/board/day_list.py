"""The day list of all properties: what can be done now, what waits, what runs out this week."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from fieldbook.actions.open_job import verdicts_of
from fieldbook.checks.common.naming import listed, sentence, short, stretch_name
from fieldbook.checks.desk.digging import digging_lacks, ticket_span
from fieldbook.checks.ground.pressure_test import cured_at
from fieldbook.checks.next_step import not_dug_by, renewal
from fieldbook.checks.progress.deadlines import dates_of
from fieldbook.checks.progress.holds import BACKFILL, SIGN_OFFS, unmet
from fieldbook.checks.progress.reliance import stops_against
from fieldbook.checks.progress.stages import is_due, stage_of
from fieldbook.checks.registry import counts, verdicts
from fieldbook.checks.severity import tally
from fieldbook.checks.verdicts import Verdicts
from fieldbook.checks.walk import steps_of
from fieldbook.records.base import PLACE_WORDS, PLACES
from fieldbook.records.days import day_of
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.sign_offs import SIGN_OFF_PLACES
from fieldbook.store.book_reader import BookReader

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
    days: int = _WEEK.days

    def sections(self) -> tuple[tuple[str, tuple[Due, ...], str], ...]:
        """The four lists: heading, things due, and the sentence for an empty list."""
        span = "a week" if self.days == _WEEK.days else f"{self.days} days"
        return (
            ("Can be done now", self.can, "Nothing: no property is on the board."),
            ("Waits", self.waits, "Nothing waits."),
            (f"Runs out within {span}, or has", self.runs_out, "Nothing runs out."),
            ("Flags and open checks", self.flags, "Nothing is wrong or open."),
        )


def day_list(book: BookReader, now: datetime | None = None, within: timedelta = _WEEK) -> DayList:
    """The day list of every property on the board, derived from the record alone.

    What runs out is named from `within` before its day on.
    """
    at = now or datetime.now()
    can: list[Due] = []
    waits: list[Due] = []
    runs_out: list[Due] = []
    flags: list[Due] = []
    for job in book.jobs():
        loaded = book.load(job.id)
        answers = verdicts_of(book, loaded, at)
        found = answers.flags
        can += _can_be_done(loaded, answers, at)
        waits += waits_of(loaded, answers, at)
        runs_out += _runs_out(loaded, at.date(), within)
        words = [tally(counts(found))] if found else []
        words += [f"{answers.open_count} not checked"] if answers.open_count else []
        if words:
            flags.append(Due(job.address, ", ".join(words)))
    runs_out.sort(key=lambda due: str(due.on))
    return DayList(tuple(can), tuple(waits), tuple(runs_out), tuple(flags), within.days)


def _can_be_done(job: LoadedJob, answers: Verdicts, now: datetime) -> Iterator[Due]:
    """All that is not in the record and needs no digging, or any once digging may begin.

    One thing due for each place; then each sign-off that nothing keeps back.
    """
    if job.signed("close") is not None:
        return
    steps = [] if job.signed("handover") else [s for s in steps_of(job) if not s.signs]
    if _must_not_dig(job, now.date()):
        renew = renewal(job, now.date())
        steps = [renew] if renew is not None else []
        steps += [step for step in steps_of(job) if step.without_digging]
    for place in PLACES:
        own = [step.sentence for step in steps if step.place == place]
        if own:
            yield Due(job.job.address, f"{sentence(PLACE_WORDS[place])}: {' '.join(own)}")
    for kind, zone_id in unsigned(job):
        if not kept_back_by(job, answers, kind, zone_id, now):
            yield Due(job.job.address, f"{_where(kind)}: {_SIGN.get(kind, _sign(job, zone_id))}")


_SIGN = {
    **{kind: f"Sign “{title}”." for kind, title in SIGN_OFFS.items()},
    "handover": "Hand over.",
    "close": "Close the job.",
}


def _sign(job: LoadedJob, zone_id: str | None) -> str:
    return f"Sign the backfill of {stretch_name(job, zone_id)}."


def _where(kind: str) -> str:
    place = "ground" if kind == BACKFILL else SIGN_OFF_PLACES[kind]
    return sentence(PLACE_WORDS[place])


def _must_not_dig(job: LoadedJob, today: date) -> bool:
    """Whether nobody has dug yet, and something that digging needs is missing."""
    dug = any(day_of(ticket.dug_from) for ticket in job.locate_tickets)
    begun = dug or is_due("lay", stage_of(job))
    return not begun and any(digging_lacks(job, today))


def unsigned(job: LoadedJob) -> list[tuple[str, str | None]]:
    """Each sign-off that is not signed, with its zone: of every stretch, then of the job.

    Once it is handed over only the closing is left: nobody signs the earlier work years later.
    """
    if job.signed("handover") is not None:
        return [("close", None)] if job.signed("close") is None else []
    stretches = [*([None] if job.runs_of(None) else []), *(zone.id for zone in job.zones)]
    kinds: list[tuple[str, str | None]] = [(BACKFILL, zone_id) for zone_id in stretches]
    kinds += [(kind, None) for kind in SIGN_OFFS]
    return [one for one in kinds if job.signed(*one) is None]


def kept_back_by(
    job: LoadedJob, answers: Verdicts, kind: str, zone_id: str | None, now: datetime
) -> list[str]:
    """What keeps a sign-off back, in words: what its holds miss, stops, and what is not checked."""
    held = unmet(job, kind, zone_id, now.replace(tzinfo=None))
    found = [missing.words for one in held for missing in one.missing]
    stops = stops_against(job, answers.answers, kind, zone_id)
    found += [f"the stop “{stop.code}” at the {PLACE_WORDS[stop.place]}" for stop in stops]
    if kind == "handover" and not found:
        still_open = verdicts(job, now, None, "handover").not_checked
        found = [answer.missing[0].words for answer in still_open]
    return list(dict.fromkeys(found))


def waits_of(job: LoadedJob, answers: Verdicts, now: datetime) -> Iterator[Due]:
    """Tickets until they are clear, cement that still cures, every sign-off that is kept back."""
    if job.signed("close") is not None:
        return
    for ticket in not_dug_by(job):
        first = ticket_span(job, ticket).first
        if first is not None and first > now.date():
            what = f"Digging by ticket {short(ticket.number)}"
            yield Due(job.job.address, what, first, "its clear day")
    for test in job.pressure_tests:
        cured = cured_at(job, test)
        if cured is not None and test.began_at is None and cured > now.replace(tzinfo=None):
            what = f"Pressure test of {stretch_name(job, test.zone_id)}"
            yield Due(job.job.address, what, cured.date(), f"cement until {cured:%H:%M}")
    for kind, zone_id in unsigned(job):
        kept_back = kept_back_by(job, answers, kind, zone_id, now)
        if kept_back:
            title = f"“{SIGN_OFFS[kind]}”" if kind in SIGN_OFFS else _backfill(job, zone_id)
            yield Due(job.job.address, title, waits=listed(kept_back))


def _backfill(job: LoadedJob, zone_id: str | None) -> str:
    return f"Backfill of {stretch_name(job, zone_id)}"


def _runs_out(job: LoadedJob, today: date, within: timedelta) -> Iterator[Due]:
    """What runs out within the days asked, or has: marks, tests, warranties, seasons, visits."""
    for found in dates_of(job, today):
        if found.on <= today + within:
            yield Due(job.job.address, found.thing, found.on)
