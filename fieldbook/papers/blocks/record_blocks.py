"""Blocks made from rows of the record, in the words and units in which the crew entered them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from fieldbook.checks.common.naming import system_of
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.paper import Block, Caution, Cell, Facts, Swatch, Table
from fieldbook.records.base import Record, facts_of
from fieldbook.records.fact import Fact
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.values import shown
from fieldbook.trade.cautions import CAUTIONS, Work
from fieldbook.trade.colours import letter_code, swatch

NOT_RECORDED = "not recorded"


def cell_of(source: PaperSource, row: Record | None, column: str) -> Cell:
    """A column of a row as it stands on paper: a colour as a swatch, a blank as "not recorded"."""
    value = getattr(row, column, None)
    if row is None or value is None or value == "":
        return source.say(NOT_RECORDED)
    fact = facts_of(type(row))[column]
    if fact.kind in ("colour", "colours"):
        return colour_cell(str(value))
    if fact.kind == "link":
        return _linked(source.job, str(value)) or source.say(NOT_RECORDED)
    if fact.kind == "tick":
        return source.say("yes" if value else "no")
    words = shown(fact, value, system_of(source.job))
    return source.say(words) if fact.kind == "choice" else words


def _linked(job: LoadedJob, row_id: str) -> str:
    row = job.row(row_id)
    number, name = getattr(row, "number", None), getattr(row, "name", "")
    return " ".join(str(part) for part in (number, name) if part not in (None, ""))


def colour_cell(colour: str) -> Swatch:
    """A conductor's colour: its swatch, its word and its letter code."""
    base, stripe = swatch(colour)
    return Swatch(f"{colour} {letter_code(colour)}".strip(), base, stripe)


def label_of(source: PaperSource, fact: Fact) -> str:
    """The label of a column in the language of the paper."""
    return source.say(fact.label)


def facts_block(
    source: PaperSource, row: Record | None, record: type[Record], columns: Sequence[str]
) -> Facts:
    """Columns of one row as labels and values; what is blank is said to be not recorded."""
    facts = facts_of(record)
    return Facts(
        tuple((label_of(source, facts[name]), cell_of(source, row, name)) for name in columns)
    )


def rows_table(
    source: PaperSource,
    first: tuple[str, Sequence[Cell]],
    rows: Sequence[Record | None],
    record: type[Record],
    columns: Sequence[str],
) -> Table:
    """Rows under the labels of their columns, behind a first column: its header and its cells."""
    header, names = first
    facts = facts_of(record)
    lines = [
        (name, *(cell_of(source, row, column) for column in columns))
        for name, row in zip(names, rows, strict=True)
    ]
    headers = (header, *(label_of(source, facts[column]) for column in columns))
    numbers = (n for n, name in enumerate(columns, 1) if facts[name].kind in ("amount", "whole"))
    return Table(headers, tuple(lines), frozenset(numbers), source.say("Nothing is recorded."))


def cautions(source: PaperSource, works: Iterable[Work]) -> Iterator[Block]:
    """The cautions of these kinds of work, each once."""
    asked = frozenset(works)
    for caution in CAUTIONS:
        if asked & frozenset(caution.works):
            yield Caution(source.say(caution.text), caution.source)
