"""The next thing a crew should do: derived from the record and from the answers of the checks.

First the walk (`walk.py`), while something of it is not in the record; then stops; then service,
handover and the closing of the job, each with what it waits for.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime

from fieldbook.checks.common.naming import stretch_name
from fieldbook.checks.common.visit_due import visit_that_names_next
from fieldbook.checks.desk.digging import ticket_span
from fieldbook.checks.finding import CellRef, Finding, Missing
from fieldbook.checks.progress.holds import BACKFILL, unmet
from fieldbook.checks.progress.reliance import open_before, stops_against
from fieldbook.checks.progress.stages import is_due, stage_of
from fieldbook.checks.progress.standing import proven
from fieldbook.checks.registry import instant, verdicts
from fieldbook.checks.verdicts import Verdicts
from fieldbook.checks.walk import NextStep, steps_of
from fieldbook.records.base import PLACE_WORDS, Place
from fieldbook.records.days import day_of
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.permits import LocateTicket

LONGEST = 120
"""Most characters of a next step: it stands in one row of the board."""

_LAST_SIGN_OFFS = (("in service", "service"), ("handover", "handover"), ("close", "closing"))
_SIGN = {
    "in service": "Sign that what service needs is recorded.",
    "handover": "Hand over.",
    "close": "Close the job.",
}
_CLOSED = NextStep("desk", "Nothing more: the job is closed.")


def next_step(job: LoadedJob, answers: Verdicts, now: date | None = None) -> NextStep:
    """The first thing on the walk that is not in the record; then stops, holds, the sign-offs.

    `answers` are those of the job at `now`. Handing over is said only when no hold, stop or check
    that it relies on is open; nothing more once the job is closed and no stop stands.
    """
    at = instant(now)
    if proven(job, "close", None, at):
        stops = [flag for flag in answers.flags if flag.severity == "stop"]
        return _clear(stops) if stops else _next_visit(job) or _CLOSED
    steps = [] if proven(job, "handover", None, at) else list(steps_of(job))
    if not steps:
        return _after_the_walk(job, answers, at)
    return _before_digging(job, steps, at.date()) or _held_back(job, steps[0], answers, at)


def next_step_at(job: LoadedJob, place: Place) -> NextStep | None:
    """The first thing of a place that is not in the record; None when all of it is there."""
    return next((step for step in steps_of(job) if step.place == place), None)


def next_step_from(
    job: LoadedJob, answers: Verdicts, place: Place, now: date | None = None
) -> NextStep:
    """What to do next for a crew at a place: the first thing there, else the next step elsewhere.

    It always points somewhere while anything is open on the job.
    """
    here = next_step_at(job, place)
    if here is None:
        return next_step(job, answers, now)
    return _held_back(job, here, answers, instant(now))


def waits_until(job: LoadedJob, today: date) -> date | None:
    """The day until which digging waits, while a ticket was called for and isn't clear yet."""
    firsts = [ticket_span(job, one).first for one in not_dug_by(job)]
    known = [first for first in firsts if first is not None]
    return min(known) if known and min(known) > today else None


def renewal(job: LoadedJob, today: date) -> NextStep | None:
    """To have the marks renewed, where those of every ticket ran out before anybody dug."""
    tickets = not_dug_by(job)
    lasts = [ticket_span(job, ticket).last for ticket in tickets]
    if max((last for last in lasts if last is not None), default=today) >= today:
        return None
    at = CellRef("locate_ticket", tickets[-1].id, "renewed_on")
    return NextStep(at.place, "Have the locate marks renewed: they ran out.", at, plans=True)


def not_dug_by(job: LoadedJob) -> list[LocateTicket]:
    """The tickets by which nobody has dug yet; none once the work is past digging."""
    dug = any(day_of(ticket.dug_from) for ticket in job.locate_tickets)
    if dug or is_due("lay", stage_of(job)):
        return []
    return [ticket for ticket in job.locate_tickets if ticket.number.strip()]


def _before_digging(job: LoadedJob, steps: Sequence[NextStep], today: date) -> NextStep | None:
    """While no ticket holds: what can be done without digging, and what the rest waits for."""
    until, renew = waits_until(job, today), renewal(job, today)
    if renew is not None:
        return steps[0] if steps[0].place == "street" or steps[0].plans else renew
    if until is None:
        return None
    rest = f"Digging waits until {until}."
    step = next((step for step in steps if step.without_digging), None)
    if step is None:
        at = CellRef("locate_ticket", not_dug_by(job)[-1].id, "clear_on")
        return NextStep(at.place, rest, at)
    return _short(step, f"{step.sentence} {rest}", f"{rest} Go on {_at(step.place)}.")


def _held_back(job: LoadedJob, step: NextStep, answers: Verdicts, at: datetime) -> NextStep:
    """The step, or where it is a backfill's signature, what keeps that back."""
    if step.at is None or not step.signs:
        return step
    stretch = next((one for one in job.backfills if one.id == step.at.row_id), None)
    zone_id = stretch.zone_id if stretch is not None else None
    held = unmet(job, BACKFILL, zone_id, at.replace(tzinfo=None))
    if held:
        return _enter(held[0].missing[0], f"the backfill of {stretch_name(job, zone_id)}")
    stops = stops_against(job, answers.answers, BACKFILL, zone_id)
    if stops:
        return _clear(stops)
    # What is under the earth can't be measured again, so it is asked for before the signature,
    # also what only service relies on.
    unknown = open_before(job, verdicts(job, at, None, "service").answers, BACKFILL, zone_id)
    return _enter(unknown[0], f"the backfill of {stretch_name(job, zone_id)}") if unknown else step


def _after_the_walk(job: LoadedJob, answers: Verdicts, at: datetime) -> NextStep:
    """Stops, then service, then handover and its checks, then the end."""
    stops = [flag for flag in answers.flags if flag.severity == "stop"]
    if stops:
        return _clear(stops)
    for kind, words in _LAST_SIGN_OFFS:
        if proven(job, kind, None, at):
            continue
        held = unmet(job, kind, None, at.replace(tzinfo=None))
        if held:
            return _enter(held[0].missing[0], words)
        # An entry after a signature is a change of what was signed, so that everything is asked
        # for before the first of them.
        missing = _handover_lacks(job, at) if kind != "close" else None
        if missing is not None:
            return _enter(missing, "handover")
        at_sign_off = CellRef("sign_off", kind, "sign off")
        return NextStep(at_sign_off.place, _SIGN[kind], at_sign_off)
    return _next_visit(job) or _CLOSED


def _next_visit(job: LoadedJob) -> NextStep | None:
    """The visit that is due next, if one names its day."""
    visit = visit_that_names_next(job)
    if visit is None:
        return None
    at = CellRef("visit", visit.id, "next_due")
    if visit.next_reason:
        return NextStep(at.place, f"Visit due {visit.next_due}, {visit.next_reason}.", at)
    return NextStep(at.place, f"Visit due {visit.next_due}.", at)


def _handover_lacks(job: LoadedJob, at: datetime) -> Missing | None:
    """The first thing that handing over waits for, other than an earlier signature."""
    for held in unmet(job, "handover", None, at.replace(tzinfo=None)):
        for missing in held.missing:
            if missing.at.table != "sign_off":
                return missing
    still_open = verdicts(job, at, None, "handover").not_checked
    return still_open[0].missing[0] if still_open else None


def _clear(stops: Sequence[Finding]) -> NextStep:
    """The stops to clear: how many, and the first by its short name and place."""
    first, count = stops[0], len(stops)
    many = "the stop" if count == 1 else f"{count} stops"
    return NextStep(first.place, f"Clear {many}: {first.code}, {_at(first.place)}.", first.at)


def _enter(missing: Missing, kind: str) -> NextStep:
    """What is missing, and what waits for it."""
    step = NextStep(missing.at.place, f"Enter {missing.words}: {kind} waits for it.", missing.at)
    shorter = f"Enter what is missing {_at(missing.at.place)}: {kind} waits for it."
    return _short(step, step.sentence, shorter)


def _short(step: NextStep, sentence: str, shorter: str) -> NextStep:
    """The step with its sentence, or with the shorter one where that is too long for the board."""
    return replace(step, sentence=sentence if len(sentence) <= LONGEST else shorter)


def _at(place: Place) -> str:
    return f"at the {PLACE_WORDS[place]}"
