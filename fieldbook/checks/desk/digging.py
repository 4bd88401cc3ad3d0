"""Permits, locate tickets, inspections and licences that do not hold on the days that matter."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from fieldbook.checks.common.job_rules import figure
from fieldbook.checks.common.naming import short
from fieldbook.checks.finding import CellRef, Finding
from fieldbook.records.days import day_of
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.permits import LocateTicket

_DIG = "29 CFR 1926.651(b): locate before opening."
_SOON_DAYS = 7
"""A permit or licence that runs out within so many days is noted."""


def ticket_span(job: LoadedJob, ticket: LocateTicket) -> tuple[date | None, date | None]:
    """The first and last day on which a ticket's marks hold; None for a day not entered."""
    clear, called = day_of(ticket.clear_on), day_of(ticket.called_on)
    ends = day_of(ticket.expires_on)
    since = day_of(ticket.renewed_on) or called or clear
    if ends is None and since is not None:
        ends = since + timedelta(days=int(figure(job, "locate_expiry_days").value))
    return clear, ends


def check_groundwork(job: LoadedJob, today: date) -> Iterator[Finding]:
    """Flags on tickets, permits, inspections and licences."""
    for ticket in job.locate_tickets:
        yield from _dug_outside_span(job, ticket)
    for permit in job.permits:
        what = f"Permit {short(permit.number) or '(no number)'}"
        yield from _runs_out(
            what, permit.expires_on, today, CellRef("permit", permit.id, "expires_on")
        )
    for inspection in job.inspections:
        if inspection.result in ("failed", "to correct"):
            kind = f"{short(inspection.kind)} " if inspection.kind else ""
            held_on = short(inspection.held_on or "a day that is not entered")
            yield Finding(
                "inspection not passed",
                "stop",
                f"The {kind}inspection of {held_on} was not passed.",
                "Correct what was found, have it inspected again, and enter that inspection at the "
                "desk.",
                CellRef("inspection", inspection.id, "result"),
            )
    for member in job.crew:
        who, role = short(member.name) or "a crew member", short(member.role or "crew")
        at = CellRef("crew_member", member.id, "expires_on")
        yield from _runs_out(f"The licence of {who} as {role}", member.expires_on, today, at)


def groundwork_turns(job: LoadedJob) -> Iterator[date]:
    """The days on which a permit or licence comes near its end, and the day after the end."""
    ends = [permit.expires_on for permit in job.permits]
    ends += [member.expires_on for member in job.crew]
    for end in map(day_of, ends):
        if end is not None:
            yield end - timedelta(days=_SOON_DAYS)
            yield end + timedelta(days=1)


def _dug_outside_span(job: LoadedJob, ticket: LocateTicket) -> Iterator[Finding]:
    """Digging before a ticket was clear, or after its marks lapsed."""
    begins, ends = ticket_span(job, ticket)
    first, last = day_of(ticket.dug_from), day_of(ticket.dug_until) or day_of(ticket.dug_from)
    number = short(ticket.number) or "(no number)"
    if first is not None and (begins is None or first < begins):
        clear = begins.isoformat() if begins is not None else "a day that is not entered"
        yield Finding(
            "dug before clear",
            "stop",
            f"Digging began on {first.isoformat()}; locate ticket {number} is clear from {clear}.",
            "Stop digging until the marks are there; hand dig beside them. Private lines are not "
            "marked.",
            CellRef("locate_ticket", ticket.id, "dug_from"),
            source=_DIG,
        )
    if last is not None and ends is not None and last > ends:
        yield Finding(
            "dug after marks lapsed",
            "stop",
            f"Digging went on until {last.isoformat()}; the marks of ticket {number} held until "
            f"{ends.isoformat()}.",
            "Stop, have the marks renewed, and enter the day at the desk.",
            CellRef("locate_ticket", ticket.id, "renewed_on"),
            source=figure(job, "locate_expiry_days").source,
        )


def _runs_out(what: str, expires_on: str | None, today: date, at: CellRef) -> Iterator[Finding]:
    """A flag on something that has run out, or does within a week."""
    ends = day_of(expires_on)
    if ends is None:
        return
    if ends < today:
        said = f"{what} ran out on {ends.isoformat()}."
        yield Finding("ran out", "fix", said, "Renew it and enter the new day at the desk.", at)
    elif ends <= today + timedelta(days=_SOON_DAYS):
        said = f"{what} runs out on {ends.isoformat()}."
        yield Finding(
            "runs out soon", "note", said, "Renew it in time and enter the new day at the desk.", at
        )
