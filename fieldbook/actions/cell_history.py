"""The history of one cell in words: old and new value, who, when, on which laptop."""

from __future__ import annotations

from dataclasses import dataclass

from fieldbook.actions.cells import fact_at
from fieldbook.actions.open_job import OpenJob
from fieldbook.checks.common.naming import system_of
from fieldbook.checks.finding import CellRef
from fieldbook.records.fact import Fact
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.values import Value, shown
from fieldbook.store.seals.seal_table import Proof

BLANK, REMOVED = "blank", "row removed"


@dataclass(frozen=True)
class Turn:
    """One change of a cell: `was` and `became` are in words, in the units of the property."""

    was: str
    became: str
    who: str
    when: str
    laptop: str


def cell_history(open_job: OpenJob, at: CellRef) -> list[Turn]:
    """Every change of a cell, newest first; adding a row without the value is none."""
    fact = fact_at(at)
    turns: list[Turn] = []
    was = BLANK
    values = open_job.book.past_values(open_job.job_id, at.row_id, at.column)
    proofs = open_job.book.proofs(held.entry for held in values)
    for held in values:
        became = REMOVED if held.removed else value_words(open_job.job, fact, held.value)
        if became == was:
            continue
        laptop = laptop_word(held.entry.origin, open_job.book.origin)
        laptop = with_doubt(laptop, proofs[held.entry.id])
        turns.append(Turn(was, became, held.who or "?", minute_of(held.wall), laptop))
        was = became
    return turns[::-1]


def value_words(job: LoadedJob, fact: Fact, value: Value) -> str:
    """A value in words; a link as the title and number of the row it leads to."""
    if value is None or value == "":
        return BLANK
    if not fact.links_to:
        return shown(fact, value, system_of(job))
    title = fact.links_to.replace("_", " ")
    row = job.row(str(value))
    if row is None:
        return f"a {title} since removed"
    number = getattr(row, "number", None) or getattr(row, "name", None)
    return f"{title} {number}" if number else f"a {title}"


def laptop_word(origin: str, own: str) -> str:
    """The laptop an entry was made on: "this laptop", or another by the end of its origin."""
    return "this laptop" if origin == own else f"laptop {origin[-6:]}"


def with_doubt(laptop: str, proof: Proof) -> str:
    """The laptop of an entry, with what its signature does not prove."""
    if proof.state == "unsigned":
        return f"{laptop}, unsigned"
    if proof.state == "wrongly signed":
        return f"{laptop}, wrongly signed"
    return laptop


def minute_of(wall: str) -> str:
    """A stored time to the minute, as the clock where it was entered showed it."""
    return wall.replace("T", " ")[:16]
