"""Digging: the permit, the locate ticket with every utility's answer, licences, inspections.

The first and last day of digging are counted as the job's rule set says. Where the ticket itself
names a day, that day is taken: the notification centre's own dates govern.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from fieldbook.checks.common.job_rules import figure, required, rule_source, rule_value
from fieldbook.checks.common.naming import listed, quantity, sentence, short
from fieldbook.checks.finding import CellRef, Finding, Missing
from fieldbook.checks.looked import Looked
from fieldbook.records.base import PLACE_WORDS
from fieldbook.records.days import day_of
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.permits import Inspection, LocateTicket, UtilityAnswer
from fieldbook.trade.rules.locating import Count, TicketLife, first_day_to_dig
from fieldbook.units import SHORT_LENGTH

_DIG = "29 CFR 1926.651(b): locate before opening."
NOT_ANSWERED = "no answer yet"
SOON_DAYS = 7


@dataclass(frozen=True)
class TicketSpan:
    """The first and the last day on which a ticket's marks hold; None where not known.

    A renewal that came later than the marks lapsed leaves a gap: its first and its last day.
    """

    first: date | None
    last: date | None
    gap: tuple[date, date] | None = None

    def covers(self, day: date) -> bool:
        """Whether the marks hold on a day. Without a last day nothing is known to hold."""
        if self.first is None or self.last is None:
            return False
        in_gap = self.gap is not None and self.gap[0] <= day <= self.gap[1]
        return self.first <= day <= self.last and not in_gap


def ticket_span(job: LoadedJob, ticket: LocateTicket) -> TicketSpan:
    """The days that a ticket's marks hold: as entered, else as the rule set counts them."""
    called = day_of(ticket.called_on)
    earliest = None
    if called is not None:
        wait = int(figure(job, "locate_wait_days").value)
        earliest = first_day_to_dig(called, wait, _count(job, "locate_wait_count"))
    entered = day_of(ticket.clear_on)
    # Nobody clears a ticket before it is called for: one of the two days is wrong.
    wrong = entered is not None and called is not None and entered < called
    first = earliest if entered is None or wrong else entered
    since, renewed = _since(job, ticket, first), day_of(ticket.renewed_on)
    lapses = _life(job).last_day(since) if since is not None else None
    entered = day_of(ticket.expires_on)
    if entered is not None or renewed is None:
        return TicketSpan(first, entered or lapses)
    gap = None
    if lapses is not None and lapses < renewed:
        gap = (lapses + timedelta(days=1), renewed - timedelta(days=1))
    return TicketSpan(first, _life(job).last_day(renewed), gap)


def _since(job: LoadedJob, ticket: LocateTicket, first: date | None) -> date | None:
    """The day from which the life of a ticket counts by the rule set, else the first one known."""
    by_rule = {
        "call": ticket.called_on,
        "mark": ticket.marked_on,
        "start": ticket.starts_on,
    }
    wanted = day_of(by_rule.get(str(rule_value(job, "locate_expiry_since"))))
    return wanted or day_of(ticket.called_on) or first


def _life(job: LoadedJob) -> TicketLife:
    return TicketLife(
        int(figure(job, "locate_expiry_days").value),
        _count(job, "locate_expiry_count"),
        required(job, "locate_expiry_first_day"),
    )


def _count(job: LoadedJob, key: str) -> Count:
    return "working" if rule_value(job, key) == "working" else "calendar"


def answers_of(job: LoadedJob, ticket: LocateTicket) -> list[UtilityAnswer]:
    """The answers to a ticket; an answer that names none is to the job's only ticket."""
    only = len(job.locate_tickets) == 1
    return [
        one
        for one in job.utility_answers
        if one.ticket_id == ticket.id or (only and not one.ticket_id)
    ]


def silent(job: LoadedJob, ticket: LocateTicket) -> list[str]:
    """The utilities that have not answered yet, by name."""
    return [
        short(one.utility) or "a utility without a name"
        for one in answers_of(job, ticket)
        if one.answer in (None, NOT_ANSWERED)
    ]


def digging_lacks(job: LoadedJob, on: date) -> Iterator[Missing]:
    """All that digging on a day still needs; nothing when a permit and a clear ticket are there."""
    if required(job, "permit_required"):
        yield from _permit_lacks(job, on)
    tickets = [one for one in job.locate_tickets if one.number.strip()]
    if not tickets:
        yield Missing("the locate ticket", _ticket_cell(job, "number"))
        return
    holding = [one for one in tickets if ticket_span(job, one).covers(on)]
    if not holding:
        at = CellRef("locate_ticket", tickets[-1].id, "clear_on")
        yield Missing(f"a locate ticket that holds on {on.isoformat()}", at)
        return
    lacks = [list(ticket_lacks(job, ticket, on)) for ticket in holding]
    yield from min(lacks, key=len)


def _permit_lacks(job: LoadedJob, on: date) -> Iterator[Missing]:
    """A permit with a number that has not run out on a day."""
    numbered = [one for one in job.permits if one.number.strip()]
    if not numbered:
        yield Missing("the permit's number", _permit_cell(job, "number"))
    elif all((day_of(one.expires_on) or on) < on for one in numbered):
        at = CellRef("permit", numbered[-1].id, "expires_on")
        yield Missing(f"a permit that holds on {on.isoformat()}", at)


def _number(typed: str) -> str:
    """The number of a ticket or permit, as a sentence names it."""
    return short(typed) or "(no number)"


def ticket_lacks(job: LoadedJob, ticket: LocateTicket, on: date | None = None) -> Iterator[Missing]:
    """What is not known of a ticket: each utility's answer, and the private lines.

    `on` is the day of digging: an answer or marks of a later day are none yet.
    """
    number = _number(ticket.number)
    if required(job, "locate_answers_required"):
        answers = answers_of(job, ticket)
        if not answers:
            at = CellRef("utility_answer", "", "add utility answer")
            yield Missing(f"each utility's answer to ticket {number}", at)
        for one in answers:
            yield from _answer_lacks(one, number, on)
    if _later(ticket.called_on, on):
        at = CellRef("locate_ticket", ticket.id, "called_on")
        yield Missing(f"the call for ticket {number}, which is of a later day", at)
    if _later(ticket.marked_on, on):
        at = CellRef("locate_ticket", ticket.id, "marked_on")
        yield Missing(f"the marks of ticket {number}, which are of a later day", at)
    if ticket.private_lines is not True:
        at = CellRef("locate_ticket", ticket.id, "private_lines")
        yield Missing("whether the owner was asked about private lines", at)


def _later(typed: str | None, on: date | None) -> bool:
    """Whether a stored day is after a day; False where one of them is not known."""
    day = day_of(typed)
    return day is not None and on is not None and day > on


def _answer_lacks(one: UtilityAnswer, number: str, on: date | None) -> Iterator[Missing]:
    """What an answer lacks before it counts: who gave it, what it was, and that it had come."""
    name = short(one.utility) or "a utility"
    at = CellRef("utility_answer", one.id, "answer")
    if one.answer in (None, NOT_ANSWERED):
        yield Missing(f"the answer of {name} to ticket {number}", at)
    elif not one.utility.strip():
        words = f"which utility answered ticket {number}"
        yield Missing(words, CellRef("utility_answer", one.id, "utility"))
    elif _later(one.answered_on, on):
        words = f"the answer of {name} to ticket {number} by {on}"
        yield Missing(words, CellRef("utility_answer", one.id, "answered_on"))


def _permit_cell(job: LoadedJob, column: str) -> CellRef:
    if not job.permits:
        return CellRef("permit", "", "add permit")
    return CellRef("permit", job.permits[0].id, column)


def _ticket_cell(job: LoadedJob, column: str) -> CellRef:
    if not job.locate_tickets:
        return CellRef("locate_ticket", "", "add ticket")
    return CellRef("locate_ticket", job.locate_tickets[0].id, column)


def check_groundwork(job: LoadedJob, today: date) -> Iterator[Finding | Looked]:
    """The permit and ticket that digging needs, inspections, and licences."""
    dug = [day for one in job.locate_tickets if (day := day_of(one.dug_from)) is not None]
    lacks = tuple(digging_lacks(job, min(dug, default=today)))
    rows = {one.id for one in (*job.permits, *job.locate_tickets, *job.utility_answers)}
    yield Looked("what digging needs", frozenset(rows or {""}), lacks)
    for ticket in job.locate_tickets:
        yield from _dug_early(job, ticket, today)
        yield from _dug_late(job, ticket, today)
        yield from _dug_unanswered(job, ticket)
    for permit in job.permits:
        what = f"Permit {_number(permit.number)}"
        yield from _lapses(today, permit.expires_on, what, CellRef("permit", permit.id, ""))
    if required(job, "inspection_before_backfill"):
        lacks = tuple(inspection_lacks(job, today))
        yield Looked("inspection before backfill", missing=lacks, due="bury")
    yield from _inspections(job)
    for member in job.crew:
        who = f"The licence of {short(member.name) or 'a crew member'} as {member.role or 'crew'}"
        yield from _lapses(today, member.expires_on, who, CellRef("crew_member", member.id, ""))
    if job.crew:
        yield Looked("licences", frozenset(member.id for member in job.crew))


def inspection_lacks(job: LoadedJob, on: date) -> Iterator[Missing]:
    """The inspection before backfill, where none that was passed is the newest by a day."""
    held = [one for one in job.inspections if one.kind == "before backfill"]
    newest = max(held, key=lambda one: (one.held_on or "", one.id), default=None)
    if newest is None:
        at = CellRef("inspection", "", "add inspection")
        yield Missing("the inspection before backfill", at)
    elif _later(newest.held_on, on):
        at = CellRef("inspection", newest.id, "held_on")
        yield Missing(f"an inspection before backfill held by {on.isoformat()}", at)
    elif newest.result != "passed" or newest.held_on is None:
        at = CellRef("inspection", newest.id, "result" if newest.held_on else "held_on")
        yield Missing("an inspection before backfill that was passed", at)


def to_hold_again(job: LoadedJob) -> list[Inspection]:
    """Inspections that were not passed and that no later one of the kind has settled."""
    found = []
    for one in job.inspections:
        later = [
            other
            for other in job.inspections
            if other.kind == one.kind and (other.held_on or "") > (one.held_on or "")
        ]
        if one.result in ("failed", "to correct") and not later:
            found.append(one)
    return found


def _inspections(job: LoadedJob) -> Iterator[Finding]:
    """A stop for each inspection that is to be held again."""
    for one in to_hold_again(job):
        what = f"The inspection {short(one.kind or '')}".rstrip()
        yield Finding(
            "inspection not passed",
            "stop",
            f"{what} of {short(one.held_on or 'no day')} was not passed.",
            "Correct what was found, have it inspected again, and enter that inspection.",
            CellRef("inspection", one.id, "result"),
        )


def groundwork_turns(job: LoadedJob) -> Iterator[date]:
    """The days on which a ticket, permit or licence changes what may be said of it."""
    ends = [permit.expires_on for permit in job.permits]
    ends += [member.expires_on for member in job.crew]
    for end in map(day_of, ends):
        if end is not None:
            yield end - timedelta(days=SOON_DAYS)
            yield end + timedelta(days=1)
    for ticket in job.locate_tickets:
        span = ticket_span(job, ticket)
        if span.first is not None:
            yield span.first
        if span.last is not None:
            yield span.last + timedelta(days=1)


def _dug_early(job: LoadedJob, ticket: LocateTicket, today: date) -> Iterator[Finding]:
    """Digging before the ticket was clear: a stop until it is clear, a fix for good."""
    span, first = ticket_span(job, ticket), day_of(ticket.dug_from)
    if first is None or (span.first is not None and first >= span.first):
        return
    clear = span.first.isoformat() if span.first is not None else "a day that is not entered"
    still = span.first is None or today < span.first
    yield Finding(
        "dug before clear",
        "stop" if still else "fix",
        f"Digging began on {first.isoformat()}; locate ticket {_number(ticket.number)} is "
        f"clear from {clear}.",
        "Stop digging until the marks are there, then dig by hand within "
        f"{_tolerance(job)} of them. Private lines are not marked.",
        CellRef("locate_ticket", ticket.id, "dug_from"),
        source=_DIG,
    )


def _tolerance(job: LoadedJob) -> str:
    """The width beside a mark that is dug by hand."""
    return quantity(job, figure(job, "tolerance_in").value, SHORT_LENGTH)


def _dug_late(job: LoadedJob, ticket: LocateTicket, today: date) -> Iterator[Finding]:
    """Digging after the marks had lapsed: a stop while it is going on, a fix for good."""
    last_held = ticket_span(job, ticket).last
    last = day_of(ticket.dug_until) or day_of(ticket.dug_from)
    if last is None or last_held is None or last <= last_held:
        return
    yield Finding(
        "dug after marks lapsed",
        "stop" if last >= today else "fix",
        f"Digging went on until {last.isoformat()}; the marks of ticket "
        f"{_number(ticket.number)} held until {last_held.isoformat()}.",
        "Stop, have the marks renewed, and enter the day at the ground.",
        CellRef("locate_ticket", ticket.id, "renewed_on"),
        source=rule_source(job, "locate_expiry_days"),
    )


def _dug_unanswered(job: LoadedJob, ticket: LocateTicket) -> Iterator[Finding]:
    """Digging before every utility has answered: a stop until all have, a fix for good."""
    dug = day_of(ticket.dug_from)
    if dug is None or not required(job, "locate_answers_required"):
        return
    number, held = _number(ticket.number), answers_of(job, ticket)
    quiet = [one for one in held if one.answer in (None, NOT_ANSWERED)]
    late = [one for one in held if (day := day_of(one.answered_on)) is not None and day > dug]
    if not held:
        said = f"Digging began, but no utility's answer to ticket {number} is entered."
        at = CellRef("locate_ticket", ticket.id, "dug_from")
    elif quiet:
        names = sentence(listed(silent(job, ticket)))
        said = f"Digging began, but {names} did not answer ticket {number}."
        at = CellRef("utility_answer", quiet[0].id, "answer")
    elif late:
        name = short(late[0].utility) or "a utility"
        said = f"Digging began on {dug.isoformat()}; {name} answered ticket {number} after it."
        at = CellRef("utility_answer", late[0].id, "answered_on")
    else:
        return
    yield Finding(
        "dug before answers",
        "stop" if quiet or not held else "fix",
        said,
        "Stop digging, ask the notification centre, and enter each utility's answer.",
        at,
        source=rule_source(job, "locate_answers_required"),
    )


def hand_dig_in(job: LoadedJob, line_in: float = 0.0) -> float:
    """The width in inches to dig by hand over a line so many inches wide: both sides of a mark."""
    return 2.0 * figure(job, "tolerance_in").value + line_in


def _lapses(today: date, until: str | None, what: str, row: CellRef) -> Iterator[Finding]:
    """Something that has run out, or does within a week."""
    ends = day_of(until)
    if ends is None:
        return
    at = CellRef(row.table, row.row_id, "expires_on")
    if ends < today:
        said = f"{what} ran out on {ends.isoformat()}."
        yield Finding(
            "ran out",
            "fix",
            said,
            f"Renew it and enter the new day at the {PLACE_WORDS[at.place]}.",
            at,
        )
    elif ends <= today + timedelta(days=SOON_DAYS):
        said = f"{what} runs out on {ends.isoformat()}."
        yield Finding("runs out soon", "note", said, "Renew it in time.", at)
