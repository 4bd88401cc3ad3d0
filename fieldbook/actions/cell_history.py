"""What one cell ever held, in words: old and new value, who, when, on which laptop."""

from __future__ import annotations

from dataclasses import dataclass

from fieldbook.actions.cells import fact_at
from fieldbook.actions.conflicts.authors import laptop_word, minute_of
from fieldbook.actions.open_job import OpenJob
from fieldbook.checks.finding import CellRef
from fieldbook.records.fact import Fact
from fieldbook.records.values import Value, shown

BLANK, REMOVED = "blank", "line removed"


@dataclass(frozen=True)
class Turn:
    """One change of a cell: `was` and `became` as a person reads them in the property's units."""

    was: str
    became: str
    who: str
    when: str
    laptop: str


def cell_history(open_job: OpenJob, at: CellRef) -> list[Turn]:
    """Every change of a cell, newest first; a line that came without the value is no change."""
    fact = fact_at(at)
    turns: list[Turn] = []
    was = BLANK
    for one in open_job.book.held(open_job.job_id, at.row_id, at.column):
        became = REMOVED if one.removed else _words(open_job, fact, one.value)
        if became == was:
            continue
        laptop = laptop_word(one.origin, open_job.book.origin)
        turns.append(Turn(was, became, one.who or "?", minute_of(one.wall), laptop))
        was = became
    return turns[::-1]


def _words(open_job: OpenJob, fact: Fact, value: Value) -> str:
    """A value in words; a link as the line it leads to."""
    if value is None or value == "":
        return BLANK
    if not fact.links_to:
        return shown(fact, value, open_job.system)
    row = open_job.job.row(str(value))
    number = getattr(row, "number", None) or getattr(row, "name", None)
    title = fact.links_to.replace("_", " ")
    if row is None:
        return f"a {title} since removed"
    return f"{title} {number}" if number else f"a {title}"
