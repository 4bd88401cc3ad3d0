"""The service report: one visit, what was found, done and changed, and what is still open."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.service.visit_summary import visit_summary
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.blocks.photo_blocks import photos_of
from fieldbook.papers.blocks.record_blocks import facts_block
from fieldbook.papers.blocks.verdict_blocks import open_table
from fieldbook.papers.blocks.visit_blocks import (
    steps_table,
    visit_changes_table,
    visits_in_order,
)
from fieldbook.papers.paper import Block, Heading, Paper, Paragraph, Signatures
from fieldbook.records.tables.visits import Visit

_FACTS = ("held_on", "reason", "who", "asked_by", "found", "done", "hours", "next_due")
NAME = "visit-report"


def visit_reports(source: PaperSource) -> tuple[Paper, ...]:
    """A report of each visit, named by its day and its reason; none where there was no visit."""
    taken: set[str] = set()
    reports: list[Paper] = []
    for visit in visits_in_order(source):
        parts = (NAME, visit.held_on or "no-day", (visit.reason or "visit").replace(" ", "-"))
        name = first = "-".join(parts)
        number = 2
        while name in taken:
            name, number = f"{first}-{number}", number + 1
        taken.add(name)
        title = source.say("Service report")
        reports.append(source.paper(name, title, list(_blocks(source, visit))))
    return tuple(reports)


def _blocks(source: PaperSource, visit: Visit) -> Iterator[Block]:
    """The crew's remark on the visit is left out, as all of its notes are."""
    say, summary = source.say, visit_summary(source.job, visit)
    yield facts_block(source, visit.with_values(who=summary.who), Visit, _FACTS)
    yield Heading(say("What was replaced or changed"))
    yield visit_changes_table(source, summary.changes)
    yield Heading(say("Steps of the visit"))
    yield steps_table(source, summary.steps)
    if summary.readings:
        yield Heading(say("Readings"))
        yield from map(Paragraph, summary.readings)
    rows = {visit.id, *(one.id for one in summary.steps)}
    rows |= {one.change.id for one in summary.changes}
    yield from photos_of(source, ("visit", "visit_change", "visit_step"), rows)
    yield Heading(say("What was not checked, and what is still to be mended"))
    yield open_table(source)
    yield Signatures((say("Owner"), say("Technician")))
