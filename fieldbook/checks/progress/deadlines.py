"""What runs out on a property and when: locate marks, permits, licences, tests of assemblies."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Literal

from fieldbook.checks.common.naming import assembly_name, short
from fieldbook.checks.desk.digging import ticket_span, to_hold_again
from fieldbook.checks.street.backflow_tests import retest_on, test_lost_since
from fieldbook.records.days import day_of
from fieldbook.records.loaded_job import LoadedJob

DeadlineKind = Literal["ticket", "permit", "licence", "inspection", "backflow test"]


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
    for assembly in job.backflow_assemblies:
        name = f"test of the {assembly_name(assembly)}"
        if (due := retest_on(job, assembly)) is not None:
            yield Deadline("backflow test", f"next {name}", due, f"next {assembly.id}")
        if (since := test_lost_since(job, assembly, today)) is not None:
            yield Deadline("backflow test", f"new {name}", since, f"new {assembly.id}")


def nearest_deadline(job: LoadedJob, today: date) -> Deadline | None:
    """What runs out first, or ran out longest ago.

    Once the job is handed over, only tests of the backflow assemblies still fall due. An inspection
    that was not passed is no deadline: it is a stop.
    """
    handed_over = job.signed("handover") is not None or job.signed("close") is not None
    latest: dict[str, Deadline] = {}
    for found in deadlines(job, today):
        if found.kind == "inspection" or (handed_over and found.kind != "backflow test"):
            continue
        held = latest.get(found.group)
        if held is None or found.on > held.on:
            latest[found.group] = found
    return min(latest.values(), key=lambda found: found.on, default=None)
