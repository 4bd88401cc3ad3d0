"""A table pasted on a sheet: its values go into the cells from one cell on, to the right and down.

Rows that are there are filled, and rows are added where the section has a line that adds one. Every
value is entered as if it had been typed, on a draft of the job: nothing is on disk before `keep`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from fieldbook.actions.bulk.draft import DraftJob
from fieldbook.actions.bulk.pasted_text import read_table
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.common.naming import fitting
from fieldbook.checks.finding import CellRef
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.screens.sheets.presses import Add, AddRow, AddRun, TypedPress
from fieldbook.screens.sheets.sheet import Cell, Row, Section, Sheet
from fieldbook.screens.sheets.typed_cells import keep_typed
from fieldbook.units import System

Build = Callable[[LoadedJob, System], Sheet]
"""Makes the sheet of a place from a job."""
_NOTHING = "Nothing was kept."
_SEVERAL = 2
_NUMBER = "No."
_FORMER: Mapping[str, tuple[str, ...]] = {
    "head type": ("head", "heads"),
    "loss k": ("k",),
    "gauge awg": ("awg",),
    "minimum": ("min",),
    "maximum": ("max",),
    "needed at head": ("needs",),
    "splice kind": ("splice",),
    "tape 1": ("tape",),
    "tape 2": ("tape",),
    "tape 3": ("tape",),
    "main run": ("run",),
    "no bare copper": ("no copper",),
    "on in cable": ("on in",),
    "on as wire": ("on as",),
}
"""Shorter heads that a table may have too: the sheets used to show them."""
"""The head of the numbers that rows are given in the order they are added."""


@dataclass(frozen=True)
class Pasted:
    """A table that every cell took: what it would change, line by line, and how to keep it."""

    draft: DraftJob
    lines: tuple[str, ...]
    rows_filled: int
    rows_added: int

    def keep(self) -> None:
        """Keep all of it as one act."""
        self.draft.keep(f"{self.rows_filled + self.rows_added} rows pasted")


@dataclass(frozen=True)
class _Place:
    """Where a table goes: the section, the columns of its values, and the rows it begins with."""

    section: Section
    first: int
    """The index of the cell that the first value of a line goes into."""
    columns: tuple[int, ...] | None
    """By value of a line the index of its cell, where a line of heads says so."""
    rows: tuple[Row, ...]
    """The rows from the cell on; a line adds those that are missing."""

    def cells_for(self, row: Row, count: int) -> list[Cell | None]:
        """The cells that so many values of a line go into; None where there is no cell for one.

        Without a line of heads, cells that only a key fills are passed over, as are signatures.
        """
        if self.columns is not None:
            places = [no for no in self.columns if no < len(row.cells)]
        elif self.section.heads:
            there = range(self.first, len(row.cells))
            places = [no for no in there if _takes_text(row.cells[no])]
        else:
            # A form has its cells one under the other: a line is one value.
            places = [0]
        found: list[Cell | None] = [row.cells[no] if no >= 0 else None for no in places[:count]]
        return found + [None] * (count - len(found))


def paste_table(open_job: OpenJob, build: Build, at: CellRef, text: str) -> Pasted:
    """Enter a pasted table from the cell `at` on, on a draft.

    A blank value leaves its cell as it is. The first line may hold the heads of the columns. Raises
    RefusedError that names the line and the column of the first value that is refused.
    """
    table = read_table(text)
    draft = DraftJob(open_job)
    section, row, index = _found(build(draft.job, draft.system), at)
    columns = _named_columns(section, table[0])
    first = _first_column(section, row, index, "".join(table[0][:1]))
    place = _Place(section, first, columns, _rows_from(section, row, index))
    lines = table if columns is None else table[1:]
    return _Filling(draft, build, place).fill(lines, 1 if columns is None else 2)


def _found(sheet: Sheet, at: CellRef) -> tuple[Section, Row, int]:
    for section in sheet.sections:
        for row in section.rows:
            for index, cell in enumerate(row.cells):
                if cell.at == at:
                    return section, row, index
    raise RefusedError("Move to a cell first: the table is pasted from it on.")


def _first_column(section: Section, row: Row, index: int, value: str) -> int:
    """The index of the cell that the first value of a line goes into.

    On the line that adds a numbered row it is the cell that typing there fills, such as the name of
    a zone, unless the value is a number.
    """
    press, numbered = row.cells[index].press, section.heads[:1] == (_NUMBER,)
    if not (numbered and isinstance(press, Add)) or value.strip().isdecimal():
        return index
    label = press.first_fact.label
    return section.heads.index(label) if label in section.heads else index


def _named_columns(section: Section, line: Sequence[str]) -> tuple[int, ...] | None:
    """The columns that a first line of heads or labels names; None where it is a line of values.

    A head that stands twice, such as "Tape", is taken in turn. A column without a head is -1.
    """
    named = [value.strip().casefold() for value in line]
    left = list(enumerate(_names_of(section)))
    found: list[int] = []
    for name in named:
        index = next((no for no, names in left if name in names), -1)
        left = [each for each in left if each[0] != index]
        found.append(index)
    known = sum(index >= 0 for index in found)
    if not known or known * 2 <= sum(map(bool, named)):
        return None
    strange = next((value for value, no in zip(line, found, strict=True) if value and no < 0), "")
    if strange:
        reason = f"No column here has the head “{strange[:30]}”"
        use = ", ".join(dict.fromkeys(section.heads))
        raise RefusedError(fitting(f"{reason}: use {use}. {_NOTHING}", f"{reason}. {_NOTHING}"))
    return tuple(found)


def _names_of(section: Section) -> list[set[str]]:
    """By column what it may be called: its head, and the label of its cells."""
    full = next((row for row in section.rows if len(row.cells) == len(section.heads)), None)
    labels = [cell.fact.label for cell in full.cells] if full is not None else section.heads
    pairs = zip(section.heads, labels, strict=True)
    return [
        {head.casefold(), label.casefold(), *_FORMER.get(head.casefold(), ())}
        for head, label in pairs
    ]


def _rows_from(section: Section, start: Row, index: int) -> tuple[Row, ...]:
    """The rows from one on that have its column; of a form, every row from it on.

    None where the cell is the line that adds a row: every line of the table is then a new row.
    """
    if isinstance(start.cells[index].press, Add):
        return ()
    rows = section.rows[section.rows.index(start) :]
    column = start.cells[index].at.column
    if section.heads:
        return tuple(
            row for row in rows if index < len(row.cells) and row.cells[index].at.column == column
        )
    return tuple(row for row in rows if row.cells and not isinstance(row.cells[0].press, Add))


class _Filling:
    """Fills the rows of one section with the lines of a table, on a draft."""

    def __init__(self, draft: DraftJob, build: Build, place: _Place) -> None:
        self._draft, self._build, self._place = draft, build, place
        self._ids = [row.cells[0].at.row_id for row in place.rows]
        self._before = {cell.at: cell for row in place.rows for cell in row.cells}
        presses = [row.cells[0].press for row in place.section.rows if row.cells]
        self._add = next((press for press in presses if isinstance(press, AddRow | AddRun)), None)

    def fill(self, table: Sequence[Sequence[str]], first_line: int) -> Pasted:
        """Enter every value, and say what became of each row."""
        touched: list[list[Cell]] = []
        rows = self._rows()
        for count, line in enumerate(table):
            if count == len(self._ids):
                self._add_row(first_line + count)
                rows = self._rows()
            elif count and any(_offers_what_is_left(cell) for cell in rows[count].cells):
                rows = self._rows()
            touched.append(self._fill_line(rows[count], line, first_line + count))
        told = [self._told(*done) for done in zip(self._rows(), touched, strict=False)]
        added = max(len(table) - len(self._place.rows), 0)
        lines = tuple(line for line in told if line)
        if not lines:
            raise RefusedError("Everything in the table is entered here already.")
        return Pasted(self._draft, lines, len(lines) - added, added)

    def _add_row(self, line: int) -> None:
        """Add the row that takes a line; it repeats the row above as filled by now."""
        if self._add is None:
            left = "1 row is" if len(self._ids) == 1 else f"{len(self._ids)} rows are"
            raise RefusedError(
                f"Line {line} has no row here: {left} left from this cell on, and this section "
                f"adds none. {_NOTHING}"
            )
        self._ids.append(self._add.add(self._draft).row_id)

    def _rows(self) -> list[Row]:
        """The rows that take the lines, as they are on the sheet now."""
        sheet = self._build(self._draft.job, self._draft.system)
        if not self._place.section.heads:
            filled = {
                cell.at: row
                for section in sheet.sections
                for row in section.rows
                for cell in row.cells[:1]
            }
            return [filled[row.cells[0].at] for row in self._place.rows]
        first = self._place.rows[0].cells[0].at.column if self._place.rows else ""
        by_id: dict[str, Row] = {}
        for section in sheet.sections:
            if section.heads == self._place.section.heads:
                for row in section.rows:
                    if row.cells and first in ("", row.cells[0].at.column):
                        by_id.setdefault(row.cells[0].at.row_id, row)
        return [by_id[row_id] for row_id in self._ids]

    def _fill_line(self, row: Row, line: Sequence[str], number: int) -> list[Cell]:
        """Enter the values of one line in a row; returns the cells as they were."""
        entered: list[Cell] = []
        cells = self._place.cells_for(row, len(line))
        for count, (value, cell) in enumerate(zip(line, cells, strict=True), start=1):
            if not value:
                continue
            if cell is None:
                where = f"Line {number}, column {count}"
                raise RefusedError(f"{where}: there is no cell for “{value[:40]}”. {_NOTHING}")
            try:
                keep_typed(self._draft, cell, value)
            except RefusedError as why:
                where = f"Line {number}, {cell.fact.label}"
                sentence = fitting(f"{where}: {why} {_NOTHING}", f"{where}: {why}")
                raise RefusedError(sentence) from why
            entered.append(cell)
        return entered

    def _told(self, row: Row, entered: Sequence[Cell]) -> str:
        """What a line changes in its row, such as "Run 2: Length 12 ft -> 14 ft"."""
        parts = []
        for cell in row.cells:
            before = self._before.get(cell.at)
            was = before.text if before is not None else ""
            if was != cell.text and any(each.at == cell.at for each in entered):
                shown = f"{was} -> {cell.text}" if was else cell.text
                parts.append(f"{cell.fact.label} {shown}")
        new = "" if row.cells[0].at in self._before else "new "
        label = self._name_of(row)
        return f"{new}{label}: {', '.join(parts)}" if parts or new else ""

    def _name_of(self, row: Row) -> str:
        """The label of a row; where others have the same, with what stands in its first cell."""
        label, rows = row.label or row.cells[0].fact.label, self._place.section.rows
        alone = sum(each.label == row.label for each in rows) < _SEVERAL
        return label if alone and row.label else f"{label} {row.cells[0].text}".rstrip()


def _takes_text(cell: Cell) -> bool:
    return cell.press is None or isinstance(cell.press, TypedPress)


def _offers_what_is_left(cell: Cell) -> bool:
    """Whether what a cell takes depends on the cells before it, as free wires do."""
    return cell.fact.kind == "colour"
