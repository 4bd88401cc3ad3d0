"""What runs out or falls due on a property: the one source of its dates.

Locate marks, permits, licences, tests of assemblies, warranties, the seasons and the next visit.
`deadlines` yields all of them; `dates_of` those that still mean something, which the day list and
the calendar show alike.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from fieldbook.checks.common.naming import assembly_name, short
from fieldbook.checks.desk.digging import ticket_span, to_hold_again
from fieldbook.checks.desk.warranty_ends import warranty_end, warranty_name
from fieldbook.checks.season.season_dates import care_days
from fieldbook.checks.street.backflow_tests import retest_on, test_lost_since
from fieldbook.records.days import day_of
from fieldbook.records.loaded_job import LoadedJob

DeadlineKind = Literal[
    "ticket", "permit", "licence", "inspection", "backflow test", "warranty", "care"
]
_ENDS_WITH_THE_WORK: tuple[DeadlineKind, ...] = ("ticket", "permit", "licence", "inspection")
"""What ends with the work: after the handover nothing waits for it."""
_NOT_ON_THE_BOARD: tuple[DeadlineKind, ...] = ("inspection", "warranty", "care")
_WEEK = timedelta(days=7)


@dataclass(frozen=True)
class Deadline:
    """The last day on which something holds, or by which it is due; it may be over.

    `thing` says in words which one it is. Things of one `group` stand for each other: a second
    ticket goes on where the first ran out.
    """

    kind: DeadlineKind
    thing: str
    on: date
    group: str


def deadlines(job: LoadedJob, today: date) -> Iterator[Deadline]:
    """Every dated end that the record holds, whether near, far or over."""
    yield from _of_the_work(job)
    for assembly in job.backflow_assemblies:
        name = f"test of the {assembly_name(assembly)}"
        if (due := retest_on(job, assembly)) is not None:
            yield Deadline("backflow test", f"next {name}", due, f"next {assembly.id}")
        if (since := test_lost_since(job, assembly, today)) is not None:
            yield Deadline("backflow test", f"new {name}", since, f"new {assembly.id}")
    for warranty in job.warranties:
        if (ends := warranty_end(warranty)) is not None:
            name = f"end of the {warranty_name(warranty)}"
            yield Deadline("warranty", name, ends, f"warranty {warranty.id}")
    for care in care_days(job, today):
        yield Deadline("care", care.what, care.on, care.group)


def _of_the_work(job: LoadedJob) -> Iterator[Deadline]:
    """Marks, permits, licences, and inspections that were not passed."""
    for ticket in job.locate_tickets:
        last = ticket_span(job, ticket).last
        if last is not None and not ticket.dug_until:
            yield Deadline("ticket", f"marks of ticket {short(ticket.number)}", last, "ticket")
    for permit in job.permits:
        if (ends := day_of(permit.expires_on)) is not None:
            name = f"permit {short(permit.number)}"
            yield Deadline("permit", name, ends, f"permit {permit.kind}")
    for member in job.crew:
        if (ends := day_of(member.expires_on)) is not None:
            name = f"licence of {short(member.name)}"
            yield Deadline("licence", name, ends, member.id)
    for visit in to_hold_again(job):
        if (held := day_of(visit.held_on)) is not None:
            name = " ".join(f"inspection {visit.kind or ''} to be held again".split())
            yield Deadline("inspection", name, held, visit.id)


def dates_of(job: LoadedJob, today: date) -> list[Deadline]:
    """The dates that still mean something, the first first.

    After the handover nothing of the work runs out any more, and a warranty that ended over a week
    ago is past: years later a property has only what is still to be done there.
    """
    over = is_handed_over(job)
    found = [
        one
        for one in deadlines(job, today)
        if not (over and one.kind in _ENDS_WITH_THE_WORK)
        and not (one.kind == "warranty" and one.on < today - _WEEK)
    ]
    return sorted(found, key=lambda one: (one.on, one.thing))


def is_handed_over(job: LoadedJob) -> bool:
    """Whether the work is handed over, or the job closed."""
    return job.signed("handover") is not None or job.signed("close") is not None


def nearest_deadline(job: LoadedJob, today: date) -> Deadline | None:
    """What runs out first, or ran out longest ago.

    Once the job is handed over, only tests of the backflow assemblies still fall due. An inspection
    that was not passed is no deadline: it is a stop.
    """
    handed_over = is_handed_over(job)
    latest: dict[str, Deadline] = {}
    for found in deadlines(job, today):
        if found.kind in _NOT_ON_THE_BOARD or (handed_over and found.kind in _ENDS_WITH_THE_WORK):
            continue
        held = latest.get(found.group)
        if held is None or found.on > held.on:
            latest[found.group] = found
    return min(latest.values(), key=lambda found: found.on, default=None)
