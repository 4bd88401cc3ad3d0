"""The inspector's sheet: what the local rules ask, what the record says, and where it is proven."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.naming import listed
from fieldbook.checks.progress.holds import BACKFILL, HOLDS, Hold
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.blocks.record_blocks import rows_table
from fieldbook.papers.blocks.rule_blocks import rules_table
from fieldbook.papers.blocks.signature_blocks import signatures_table
from fieldbook.papers.blocks.verdict_blocks import answers_table
from fieldbook.papers.paper import Block, Heading, Paper, Signatures, Table
from fieldbook.records.tables.permits import Inspection, LocateTicket, Permit, UtilityAnswer

_PERMIT = ("number", "issued_on", "expires_on")
_TICKET = ("called_on", "clear_on", "expires_on", "private_lines", "dug_from", "dug_until")
_ANSWER = ("answer", "answered_on")
_INSPECTION = ("number", "held_on", "inspector", "result")


def inspector_sheet(source: PaperSource) -> Paper:
    """The sheet in the order of the permit's items."""
    title = source.say("Inspector's sheet")
    return source.paper("inspector-sheet", title, list(_blocks(source)))


def _blocks(source: PaperSource) -> Iterator[Block]:
    say, job = source.say, source.job
    permits = [permit.kind or say("permit") for permit in job.permits]
    yield Heading(say("Permits"))
    yield rows_table(source, (say("Permit"), permits), job.permits, Permit, _PERMIT)
    yield Heading(say("Locate tickets"))
    tickets = [ticket.number or "?" for ticket in job.locate_tickets]
    yield rows_table(source, (say("Ticket"), tickets), job.locate_tickets, LocateTicket, _TICKET)
    first = (say("Utility"), [answer.utility for answer in job.utility_answers])
    yield rows_table(source, first, job.utility_answers, UtilityAnswer, _ANSWER)
    yield Heading(say("What is asked, and where it is proven"))
    yield answers_table(source)
    yield Heading(say("Hold points"))
    yield _holds(source)
    yield Heading(say("Signatures"))
    yield signatures_table(source)
    yield Heading(say("Inspections"))
    first = (say("Inspection"), [visit.kind or "?" for visit in job.inspections])
    yield rows_table(source, first, job.inspections, Inspection, _INSPECTION)
    yield Heading(say("Local rules applied"))
    yield rules_table(source)
    yield Signatures((say("Inspector"), say("Installer")))


def _holds(source: PaperSource) -> Table:
    say = source.say
    rows = tuple(
        (
            str(hold.number),
            say(hold.title),
            _lacks(source, hold) or say("nothing that the record shows"),
            hold.source,
        )
        for hold in HOLDS
    )
    headers = (say("Hold"), say("What it holds back"), say("What it waits for"), say("Source"))
    return Table(headers, rows, frozenset({0}))


def _lacks(source: PaperSource, hold: Hold) -> str:
    """What a hold still waits for, on any stretch; "" where it is met now."""
    job = source.job
    stretches = (None, *(zone.id for zone in job.zones)) if BACKFILL in hold.before else (None,)
    now = source.now.replace(tzinfo=None)  # Holds are asked with the wall clock.
    missing = [one.words for stretch in stretches for one in hold.missing(job, stretch, now)]
    return listed(list(dict.fromkeys(missing)))
