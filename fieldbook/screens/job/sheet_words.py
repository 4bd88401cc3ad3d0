"""A sheet in the language in use: its titles, heads, labels, cautions and words of cells.

The builders of sheets write English, which is what the record and the actions know; what is drawn
is put into the language here. What was entered stays as it is.
"""

from __future__ import annotations

from dataclasses import replace

from fieldbook.languages.in_use import language_in_use, say, shown
from fieldbook.screens.sheets.presses import TypedPress
from fieldbook.screens.sheets.sheet import Cell, Row, Section, Sheet
from fieldbook.trade.cautions import Caution

_IN_WORDS = ("choice", "tick", "colour", "hidden")
"""Kinds of cells that show a word of ours; a cell that is typed into shows what can be typed."""


def in_language(sheet: Sheet) -> Sheet:
    """The sheet as it is drawn; in English it is the same one."""
    if language_in_use() == "en":
        return sheet
    return Sheet(tuple(map(_section, sheet.sections)))


def _section(section: Section) -> Section:
    return replace(
        section,
        title=shown(section.title),
        rows=tuple(map(_row, section.rows)),
        heads=tuple(map(say, section.heads)),
        cautions=tuple(map(_caution, section.cautions)),
    )


def _row(row: Row) -> Row:
    return replace(
        row,
        label=shown(row.label),
        cells=tuple(map(_cell, row.cells)),
        tail=shown(row.tail),
        beside=shown(row.beside),
    )


def _cell(cell: Cell) -> Cell:
    if isinstance(cell.press, TypedPress) or cell.fact.kind not in _IN_WORDS:
        return cell
    text = shown(cell.text)
    return cell if text == cell.text else replace(cell, text=text)


def _caution(caution: Caution) -> Caution:
    return caution._replace(line=say(caution.line), text=say(caution.text))
