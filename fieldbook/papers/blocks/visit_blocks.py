"""The visits of a property, and what each did, changed and read."""

from __future__ import annotations

from collections.abc import Sequence

from fieldbook.checks.service.visit_summary import ChangeWords
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.blocks.record_blocks import NOT_RECORDED, cell_of
from fieldbook.papers.paper import Cell, Table
from fieldbook.records.tables.visits import Visit, VisitStep

_VISIT = ("reason", "found", "done", "next_due")
_PRIVATE = ("job", "note")
"""A change of how to get in, or of the crew's notes, is on no paper."""


def visits_in_order(source: PaperSource) -> list[Visit]:
    """The visits, the oldest first."""
    return sorted(source.job.visits, key=lambda visit: (visit.held_on or "", visit.id))


def visits_table(source: PaperSource) -> Table:
    """Each visit in a line."""
    say = source.say
    rows = tuple(
        (
            visit.held_on or say("no day"),
            *(cell_of(source, visit, column) for column in _VISIT[:-1]),
            visit.next_due or "",
        )
        for visit in visits_in_order(source)
    )
    headers = (say("Date"), say("Reason"), say("Found"), say("Done"), say("Next due"))
    return Table(headers, rows, empty=say("No visit is recorded."))


def steps_table(source: PaperSource, steps: Sequence[VisitStep]) -> Table:
    """The steps of a visit; one that nobody answered is said to be not looked at."""
    say = source.say
    found = sorted(steps, key=lambda step: (step.number or 0, step.id))
    rows = tuple((say(step.step), _done(source, step)) for step in found)
    return Table((say("Step"), say("Done")), rows, empty=say("No step is listed."))


def _done(source: PaperSource, step: VisitStep) -> str:
    if step.done is None:
        return source.say("not looked at")
    return source.say("yes" if step.done else "no")


def visit_changes_table(source: PaperSource, changes: Sequence[ChangeWords]) -> Table:
    """Each thing that was replaced or changed, and what it was before."""
    say, blank = source.say, source.say(NOT_RECORDED)
    rows: list[tuple[Cell, ...]] = [
        (
            f"{one.thing}, {say(one.column)}" if one.column else one.thing or blank,
            say(one.what),
            one.before,
            one.after,
            one.why,
            "" if one.warranty is None else say("yes" if one.warranty else "no"),
        )
        for one in changes
        if one.change.of_table not in _PRIVATE
    ]
    headers = (say("Thing"), say("What"), say("It was"), say("It became"), say("Why"))
    more = (say("Under warranty"),)
    return Table((*headers, *more), tuple(rows), empty=say("Nothing was changed."))
