"""A table pasted on a sheet: its values go into the cells from one cell on, to the right and down.

Rows that are there are filled, and rows are added where the section has a line that adds one. Every
value is entered as if it had been typed, on a draft of the job: nothing is on disk before `keep`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from fieldbook.actions.bulk.draft import DraftJob
from fieldbook.actions.bulk.pasted_text import read_table
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.common.naming import fitting
from fieldbook.checks.finding import CellRef
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.screens.sheets.presses import Add, AddRow, AddRun
from fieldbook.screens.sheets.sheet import Cell, Row, Section, Sheet
from fieldbook.screens.sheets.typed_cells import keep_typed
from fieldbook.units import System

Build = Callable[[LoadedJob, System], Sheet]
"""Makes the sheet of a place from a job."""
_NOTHING = "Nothing was kept."


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
    columns: tuple[int, ...]
    """By value of a line the index of its cell in a row."""
    rows: tuple[Row, ...]
    """The rows from the cell on; a line adds those that are missing."""


def paste_table(open_job: OpenJob, build: Build, at: CellRef, text: str) -> Pasted:
    """Enter a pasted table from the cell `at` on, on a draft.

    A blank value leaves its cell as it is. The first line may hold the heads of the columns. Raises
    RefusedError that names the line and the column of the first value that is refused.
    """
    table = read_table(text)
    draft = DraftJob(open_job)
    section, row, index = _found(build(draft.job, draft.system), at)
    columns = _named_columns(section, table[0])
    first_line = 1 if columns is None else 2
    if columns is None:
        width = max(len(line) for line in table)
        columns = tuple(range(index, index + width)) if section.heads else (index,) * width
    else:
        table = table[1:]
    place = _Place(section, columns, _rows_from(section, row, index))
    return _Filling(draft, build, place).fill(table, first_line)


def _found(sheet: Sheet, at: CellRef) -> tuple[Section, Row, int]:
    for section in sheet.sections:
        for row in section.rows:
            for index, cell in enumerate(row.cells):
                if cell.at == at:
                    return section, row, index
    raise RefusedError("Move to a cell first: the table is pasted from it on.")


def _named_columns(section: Section, line: Sequence[str]) -> tuple[int, ...] | None:
    """The columns that a first line of heads names; None where it is a line of values."""
    heads = [head.casefold() for head in section.heads]
    named = [value.strip().casefold() for value in line]
    known = [name in heads for name in named if name]
    if not known or sum(known) * 2 <= len(known):
        return None
    for name, value in zip(named, line, strict=True):
        if name not in heads:
            listed = ", ".join(section.heads)
            reason = f"No column here has the head “{value[:30]}”"
            raise RefusedError(fitting(f"{reason}: use {listed}. {_NOTHING}", f"{reason}."))
    return tuple(heads.index(name) for name in named)


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
        touched: list[list[int]] = []
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

    def _fill_line(self, row: Row, line: Sequence[str], number: int) -> list[int]:
        """Enter the values of one line in a row; returns the indices of the cells."""
        entered: list[int] = []
        for count, value in enumerate(line):
            if not value:
                continue
            index = self._place.columns[count]
            where = f"Line {number}, column {count + 1}"
            if index >= len(row.cells) or (not self._place.section.heads and count):
                raise RefusedError(f"{where}: there is no cell for “{value[:40]}”. {_NOTHING}")
            cell = row.cells[index]
            try:
                keep_typed(self._draft, cell, value)
            except RefusedError as why:
                where = f"Line {number}, {cell.fact.label}"
                raise RefusedError(
                    fitting(f"{where}: {why} {_NOTHING}", f"{where}: {why}")
                ) from why
            entered.append(index)
        return entered

    def _told(self, row: Row, entered: Sequence[int]) -> str:
        """What a line changes in its row, such as "Run 2: Length 12 ft -> 14 ft"."""
        parts = []
        for index in entered:
            cell = row.cells[index]
            before = self._before.get(cell.at)
            was = before.text if before is not None else ""
            if was != cell.text:
                shown = f"{was} -> {cell.text}" if was else cell.text
                parts.append(f"{cell.fact.label} {shown}")
        new = "" if row.cells[0].at in self._before else "new "
        label = row.label or row.cells[0].fact.label
        return f"{new}{label}: {', '.join(parts)}" if parts or new else ""


def _offers_what_is_left(cell: Cell) -> bool:
    """Whether what a cell takes depends on the cells before it, as free wires do."""
    return cell.fact.kind == "colour"
