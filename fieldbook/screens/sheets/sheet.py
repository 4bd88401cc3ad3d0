"""A sheet as data: sections of rows of cells. Builders make it from a job, `drawing` draws it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from fieldbook.checks.finding import CellRef
from fieldbook.records.base import Record, facts_of, once_per_table
from fieldbook.records.base import Row as RecordRow
from fieldbook.records.fact import Fact
from fieldbook.records.tables.job import Job
from fieldbook.records.values import Value, shown
from fieldbook.screens.sheets.presses import Add, AddRow, Press, TypedPress
from fieldbook.trade.cautions import Caution
from fieldbook.trade.colours import swatch
from fieldbook.units import System

Mood = Literal["", "good", "tight", "bad"]


@dataclass(frozen=True)
class Option:
    """One thing a cell can be set to: the key that sets it, its word, the value kept.

    Of a colour also its swatch (base and stripe) and the cable that has this conductor.
    """

    key: str
    word: str
    value: Value
    swatch: tuple[str, str | None] | None = None
    cable_id: str = ""


@dataclass(frozen=True)
class Cell:
    """One cell: where its value lives, what it shows, what it takes.

    `seed` is what a row that does not exist yet is made with. `press` is set where the cell is more
    than the value of one column. `asked`: the sheet asks for a value; `open`: there is none yet.
    `width` is in terminal cells; `swatch` and `mood` colour the cell, and are never the only sign.
    """

    at: CellRef
    fact: Fact
    text: str
    width: int
    seed: Mapping[str, Value] = field(default_factory=dict)
    options: tuple[Option, ...] = ()
    asked: bool = False
    open: bool = False
    press: Press | None = None
    swatch: tuple[str, str | None] | None = None
    mood: Mood = ""

    @property
    def words(self) -> tuple[str, ...]:
        """The words it can be set to, where it takes one of a few."""
        return tuple(option.word for option in self.options) or self.fact.choices

    @property
    def history_at(self) -> CellRef | None:
        """The column whose history is the cell's; None where it holds no single value."""
        if self.press is None:
            return self.at
        return self.press.history_at if isinstance(self.press, TypedPress) else None


@dataclass(frozen=True)
class Row:
    """A row of cells behind its label. `removable` is the table and id of the row it stands for.

    `beside` follows the label with a figure or a word, such as the pressure at a sprinkler head;
    `mood` colours it. `tail` follows the cells, coloured by `tail_mood`.
    """

    label: str
    cells: tuple[Cell, ...] = ()
    tail: str = ""
    removable: tuple[str, str] | None = None
    beside: str = ""
    mood: Mood = ""
    tail_mood: Mood = ""


@dataclass(frozen=True)
class Section:
    """Rows under a title; `heads` are the column heads, absent on a form.

    `cautions` stand under the title, a line each: where this work can hurt somebody.
    """

    title: str
    rows: tuple[Row, ...]
    heads: tuple[str, ...] = ()
    label_width: int = 22
    cautions: tuple[Caution, ...] = ()


@dataclass(frozen=True)
class Count:
    """Of the cells that a sheet asks for: how many are open, and how many there are."""

    open: int = 0
    asked: int = 0

    def __add__(self, other: Count) -> Count:
        """Both counts together."""
        return Count(self.open + other.open, self.asked + other.asked)

    @property
    def words(self) -> str:
        """How many of them are filled in, such as "3 of 7"; "-" where nothing is asked."""
        return f"{self.asked - self.open} of {self.asked}" if self.asked else "-"


@dataclass(frozen=True)
class Sheet:
    """A place's sections, in order."""

    sections: tuple[Section, ...]

    def cells(self) -> Iterator[Cell]:
        """Every cell, row by row."""
        for section in self.sections:
            for row in section.rows:
                yield from row.cells

    def count(self) -> Count:
        """How many cells the sheet asks for, and how many of them still want a value."""
        cells = list(self.cells())
        return Count(sum(cell.open for cell in cells), sum(cell.asked for cell in cells))


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
Asked = Mapping[str, bool]
"""By column whether the sheet asks for it, where that differs from `Fact.wanted`."""


class CellMaker:
    """Makes the cells of one row: from its record, or for a row that does not exist yet."""

    def __init__(
        self,
        record: type[Record] | type[Job],
        row_id: str,
        row: Record | Job | None,
        system: System,
        seed: Mapping[str, Value] | None = None,
        asked: Asked | None = None,
    ) -> None:
        """`row` is None while nothing of it is entered; the first entry makes it with `seed`."""
        self._facts = facts_of(record)
        self._table, self.row_id, self._row = str(record.table_name), row_id, row
        self._system, self._seed, self._asked = system, dict(seed or {}), asked or {}

    def fact(self, column: str) -> Fact:
        """What is known about a column."""
        return self._facts[column]

    def value(self, column: str) -> Value:
        """The row's value in a column; None of a row that does not exist yet."""
        value: Value = getattr(self._row, column) if self._row is not None else None
        return value

    def cell(
        self,
        column: str,
        width: int = 0,
        *,
        options: tuple[Option, ...] = (),
        text: str | None = None,
    ) -> Cell:
        """The cell of a column, `width` terminal cells wide; `text` is shown for the value."""
        fact, value = self._facts[column], self.value(column)
        asked = self._asked.get(column, fact.wanted)
        return Cell(
            CellRef(self._table, self.row_id, column),
            fact,
            shown(fact, value, self._system) if text is None else text,
            width or _DEFAULT_WIDTHS.get(fact.kind, 20),
            self._seed,
            options,
            asked=asked,
            open=asked and _is_blank(value),
            swatch=swatch(str(value)) if fact.kind == "colour" and value else None,
        )

    def cells(self, **widths: int) -> tuple[Cell, ...]:
        """The cells of several columns, each with its width."""
        return tuple(self.cell(column, width) for column, width in widths.items())

    def form(self, *columns: str, width: int = 34) -> list[Row]:
        """One row a column: its label and its cell."""
        return [Row(self._facts[column].label, (self.cell(column, width),)) for column in columns]


def _is_blank(value: Value) -> bool:
    return value is None or value == ""


@once_per_table
def _wanted(record: type[RecordRow]) -> tuple[str, ...]:
    return tuple(column for column, fact in facts_of(record).items() if fact.wanted)


def blanks(
    record: type[Record] | type[Job],
    rows: Iterable[Record | Job | None],
    asked: Asked | None = None,
) -> Count:
    """How many columns of these rows the sheet asks for, and how many of them have no value.

    The same numbers as of the cells that a CellMaker makes of a row (None: of a row that does not
    exist yet) with the same `asked`, without making a cell.
    """
    columns = set(_wanted(record))
    for column, is_asked in (asked or {}).items():
        (columns.add if is_asked else columns.discard)(column)
    open_cells = asked_cells = 0
    for row in rows:
        asked_cells += len(columns)
        open_cells += sum(row is None or _is_blank(getattr(row, column)) for column in columns)
    return Count(open_cells, asked_cells)


def press_cell(press: Press, at: CellRef, text: str, width: int, why: str = "") -> Cell:
    """A cell that does something rather than hold a value; its label is its address' column."""
    return Cell(at, Fact("hidden", at.column.capitalize(), why), text, width, press=press)


def add_line(press: Add, text: str) -> Row:
    """The line under a table on which Enter adds a row."""
    return Row("", (press_cell(press, press.at, text, max(40, len(text)), "Enter adds one."),))


def table_section(
    records: Sequence[Record],
    record: type[Record],
    system: System,
    title: str,
    columns: Sequence[tuple[str, int]],
    adds: AddRow,
) -> Section:
    """The rows of a table under each other, `columns` with their widths; a line adds a row."""
    rows: list[Row] = []
    for row in records:
        make = CellMaker(record, row.id, row, system)
        cells = tuple(make.cell(column, width) for column, width in columns)
        rows.append(Row(str(len(rows) + 1), cells, removable=(adds.table, row.id)))
    article = "an" if adds.name[0] in "aeiou" else "a"
    rows.append(add_line(adds, f"+ {article} {adds.name}"))
    labels = tuple(facts_of(record)[column].label for column, _ in columns)
    return Section(title, tuple(rows), labels, label_width=4)
