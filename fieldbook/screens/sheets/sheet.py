"""A sheet as data: sections of rows of cells, and lines that only tell."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from fieldbook.checks.finding import CellRef
from fieldbook.records.base import Record, facts_of
from fieldbook.records.fact import Fact
from fieldbook.records.tables.job import Job
from fieldbook.records.values import Value, shown
from fieldbook.units import System

_WORDS = {"day": "ty", "clock": "n"}
"""The letters that begin today, yesterday and now."""
TYPED_ACTS = ("conductors", "ran")
"""Acts whose cell is typed into, though it is no one column."""
Mood = Literal["", "good", "tight", "bad"]


@dataclass(frozen=True)
class Option:
    """One thing a cell can be set to: the key that sets it, its word, the value kept."""

    key: str
    word: str
    value: Value
    swatch: tuple[str, str | None] | None = None
    cable_id: str = ""


@dataclass(frozen=True)
class Cell:
    """One cell: where its value lives, what it shows, what it takes.

    `act` names a verb for a cell that is no plain column ("add zone", "flush", "sign",
    "conductors"). `seed` is what a row that does not exist yet is made with.
    """

    at: CellRef
    fact: Fact
    text: str
    width: int
    seed: Mapping[str, Value] = field(default_factory=dict)
    options: tuple[Option, ...] = ()
    open: bool = False
    act: str = ""
    swatch: tuple[str, str | None] | None = None

    @property
    def words(self) -> tuple[str, ...]:
        """The words it can be set to, where it takes one of a few."""
        return tuple(option.word for option in self.options) or self.fact.choices

    def takes(self, letter: str) -> bool:
        """Whether a letter typed on it begins its value, so that it is no command there."""
        if self.act:
            return False
        if self.fact.kind in ("choice", "link"):
            return any(word.casefold().startswith(letter.casefold()) for word in self.words)
        begins = _WORDS.get(self.fact.kind, "")
        return self.fact.kind == "text" or letter.casefold() in begins


@dataclass(frozen=True)
class Row:
    """A row of cells behind its label. `removable` is the row it stands for, if it can go.

    `beside` follows the label and says how what the row stands for is; `mood` colours both it and
    the first words of a cell that opens a page, never the only sign.
    """

    label: str
    cells: tuple[Cell, ...] = ()
    tail: str = ""
    removable: tuple[str, str] | None = None
    beside: str = ""
    mood: Mood = ""


@dataclass(frozen=True)
class Section:
    """Rows under a title; `heads` are column heads, absent on a form."""

    title: str
    rows: tuple[Row, ...]
    heads: tuple[str, ...] = ()
    label_width: int = 22


@dataclass(frozen=True)
class Sheet:
    """A place's sections, in order."""

    sections: tuple[Section, ...]

    def cells(self) -> Iterator[Cell]:
        """Every cell, row by row."""
        for section in self.sections:
            for row in section.rows:
                yield from row.cells

    def open_count(self) -> int:
        """How many cells still want a value."""
        return sum(cell.open for cell in self.cells())


_DEFAULT_WIDTHS = {
    "tick": 4,
    "curve": 34,
    "day": 10,
    "clock": 16,
    "amount": 10,
    "whole": 5,
    "choice": 14,
    "colour": 16,
    "link": 8,
}


class CellMaker:
    """Makes the cells of one row: from its record, or for a row not made yet."""

    def __init__(
        self,
        record: type[Record] | type[Job],
        table: str,
        row_id: str,
        row: object | None,
        system: System,
        seed: Mapping[str, Value] | None = None,
    ) -> None:
        """`row` is None while nothing is known; `seed` then makes it with the first entry."""
        self._facts = facts_of(record)
        self._table, self._row_id, self._row = table, row_id, row
        self._system, self._seed = system, dict(seed or {})

    def value(self, column: str) -> Value:
        """The row's value in a column."""
        found: Value = getattr(self._row, column) if self._row is not None else None
        return found

    def cell(
        self,
        column: str,
        width: int = 0,
        *,
        options: tuple[Option, ...] = (),
        text: str | None = None,
        wanted: bool | None = None,
        swatch: tuple[str, str | None] | None = None,
    ) -> Cell:
        """The cell of a column; `wanted` overrides whether the sheet asks for it."""
        fact, value = self._facts[column], self.value(column)
        asked = fact.wanted if wanted is None else wanted
        words = shown(fact, value, self._system) if text is None else text
        return Cell(
            CellRef(self._table, self._row_id, column),
            fact,
            words,
            width or _DEFAULT_WIDTHS.get(fact.kind, 20),
            self._seed,
            options,
            open=asked and value in (None, ""),
            swatch=swatch,
        )

    def form(self, *columns: str, width: int = 34, **wanted: bool) -> list[Row]:
        """One row a column: its label and its cell."""
        return [
            Row(
                self._facts[column].label,
                (self.cell(column, width, wanted=wanted.get(column)),),
            )
            for column in columns
        ]


def act_cell(
    act: str,
    table: str,
    row_id: str,
    text: str,
    width: int,
    why: str = "",
    seed: Mapping[str, Value] | None = None,
) -> Cell:
    """A cell that does something rather than hold a value; `seed` says to what."""
    at = CellRef(table, row_id, act)
    return Cell(at, Fact("hidden", act.capitalize(), why), text, width, dict(seed or {}), act=act)


def add_row(act: str, table: str, parent: str | None, text: str) -> Row:
    """The line under a table on which Enter adds a row; `parent` is the zone it belongs to."""
    seed = {"zone_id": parent}
    return Row("", (act_cell(act, table, parent or "", text, 40, "Enter adds one.", seed),))


def table_section(
    held: Sequence[Record],
    record: type[Record],
    system: System,
    title: str,
    columns: Sequence[tuple[str, int]],
    word: str,
) -> Section:
    """Rows of one kind under each other, and the line that adds one."""
    table = record.__tablename__
    assert isinstance(table, str)
    rows: list[Row] = []
    for one in held:
        make = CellMaker(record, table, one.id, one, system)
        cells = tuple(make.cell(column, width) for column, width in columns)
        rows.append(Row(str(len(rows) + 1), cells, removable=(table, one.id)))
    article = "an" if word[0] in "aeiou" else "a"
    rows.append(add_row(f"add {word}", table, None, f"+ {article} {word}"))
    facts = facts_of(record)
    return Section(title, tuple(rows), tuple(facts[c].label for c, _ in columns), label_width=4)
