"""The visits of a property, and what each changed."""

from __future__ import annotations

from collections.abc import Sequence

from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.blocks.record_blocks import NOT_RECORDED, cell_of
from fieldbook.papers.paper import Cell, Table
from fieldbook.records.tables.visits import Visit, VisitChange, VisitStep

_VISIT = ("reason", "found", "done", "next_due")


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


def steps_table(source: PaperSource, visit: Visit) -> Table:
    """The steps of a visit; one that nobody answered is said to be not looked at."""
    say = source.say
    found = [step for step in source.job.visit_steps if step.visit_id == visit.id]
    found.sort(key=lambda step: (step.number or 0, step.id))
    rows = tuple((say(step.step), _done(source, step)) for step in found)
    return Table((say("Step"), say("Done")), rows, empty=say("No step is listed."))


def _done(source: PaperSource, step: VisitStep) -> str:
    if step.done is None:
        return source.say("not looked at")
    return source.say("yes" if step.done else "no")


def changes_of(source: PaperSource, visit: Visit) -> list[VisitChange]:
    """What a visit replaced or changed."""
    return [change for change in source.job.visit_changes if change.visit_id == visit.id]


def visit_changes_table(source: PaperSource, changes: Sequence[VisitChange]) -> Table:
    """Each thing that was replaced or changed, before and after."""
    say, blank = source.say, source.say(NOT_RECORDED)
    rows: list[tuple[Cell, ...]] = [
        (
            change.thing or blank,
            cell_of(source, change, "what"),
            change.before,
            change.after,
            change.why,
            "" if change.warranty is None else say("yes" if change.warranty else "no"),
        )
        for change in changes
    ]
    headers = (say("Thing"), say("What"), say("It was"), say("It became"), say("Why"))
    more = (say("Under warranty"),)
    return Table((*headers, *more), tuple(rows), empty=say("Nothing was changed."))
