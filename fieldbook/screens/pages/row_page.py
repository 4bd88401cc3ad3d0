"""One row of a sheet as a page: every field of it under each other, whole, with its name."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from textwrap import wrap
from typing import ClassVar

from rich.cells import cell_len
from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from fieldbook.actions.keymap import FUNCTION_KEYS, in_keys_in_use
from fieldbook.checks.finding import CellRef
from fieldbook.languages.in_use import say, shown
from fieldbook.screens.sheets.presses import Add
from fieldbook.screens.sheets.sheet import Cell, Row, Section
from fieldbook.screens.widgets.edge_lines import KeyLine
from fieldbook.screens.widgets.front_screen import FrontScreen
from fieldbook.screens.widgets.line_list import LineList
from fieldbook.screens.widgets.terminal_cells import fit

_WIDEST_NAME = 30
_OTHER_LINES, _TEXT_WIDTH = 9, 50
"""Border, title, explanation and the keys below; the least width that a text is wrapped in."""


@dataclass(frozen=True)
class Field:
    """A field of a row: its whole name, its value in words with the unit, its cell."""

    name: str
    value: str
    cell: Cell


def fields_of(section: Section, row: Row) -> Iterator[Field]:
    """Every field of a row: of a table those of its record, of a form those of all its lines.

    A record may have more than one row, such as a cable and the line of its colours.
    """
    if section.heads:
        rows = [each for each in section.rows if each is row or _is_same(each, row)]
    else:
        rows = [each for each in section.rows if each.label]
    for each in rows:
        for no, cell in enumerate(each.cells):
            if isinstance(cell.press, Add):
                continue
            name = _name(section, each, no)
            yield Field(
                shown(name.strip()),
                cell.text.strip() or (say("not entered") if cell.asked else "-"),
                cell,
            )


def _is_same(row: Row, other: Row) -> bool:
    return row.removable is not None and row.removable == other.removable


def _name(section: Section, row: Row, no: int) -> str:
    """The name of a field: its fact's, and of a cell that is a key to press its column's head."""
    cell = row.cells[no]
    if cell.press is None and cell.fact.label:
        return cell.fact.label
    if len(row.cells) == 1 and not (section.heads and len(section.heads) == 1):
        return row.label
    return section.heads[no] if no < len(section.heads) else cell.fact.label


class RowPage(FrontScreen[CellRef | None]):
    """Lists the fields of a row; Enter goes to the cell of one, Esc back to where the cursor was.

    Dismisses with the cell, or with None.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        (",".join(("escape", *FUNCTION_KEYS)), "dismiss(None)", "Back")
    ]

    def __init__(self, title: str, fields: Sequence[Field], told: str = "") -> None:
        """`told` is what follows the row's cells on the sheet."""
        super().__init__()
        self._heading, self._fields, self._told = title, fields, told

    def compose(self) -> ComposeResult:
        """The row's name, its fields, what the highlighted one is, what follows the row."""
        with Vertical(classes="dialog row-page"):
            yield Static(Content(self._heading), classes="dialog-title")
            yield LineList(compact=True, markup=False)
            if self._told:
                yield Static(Content(self._told), classes="row-told")
            yield Static(id="about", markup=False)
            yield KeyLine()

    def on_mount(self) -> None:
        """List the fields, the first highlighted."""
        names = [cell_len(field.name) for field in self._fields]
        width = min(max(names, default=0), _WIDEST_NAME)
        lines = self.query_one(LineList)
        lines.add_options(Option(_line(field, width)) for field in self._fields)
        lines.highlighted = 0 if self._fields else None
        lines.focus()
        self.query_one(KeyLine).show((("Enter", "go to the field"), ("Esc", "close")))

    def on_resize(self) -> None:
        """Leave the list the room that the lines above and below it do not need."""
        others = _OTHER_LINES + len(wrap(self._told, _TEXT_WIDTH))
        self.query_one(LineList).styles.max_height = max(self.app.size.height - others, 3)

    def on_key(self, event: events.Key) -> None:
        """Enter: to the cell."""
        at = self.query_one(LineList).highlighted
        if event.key == "enter" and at is not None:
            event.stop()
            self.dismiss(self._fields[at].cell.at)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """A click: to the cell."""
        self.dismiss(self._fields[event.option_index].cell.at)

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Say what the field is that is highlighted."""
        field = self._fields[event.option_index]
        why = field.cell.fact.why or "Enter goes to it."
        self.query_one("#about", Static).update(Content(in_keys_in_use(say(why))))


def _line(field: Field, width: int) -> Content:
    name = fit(field.name, width) if cell_len(field.name) <= width else f"{field.name}:"
    style = "bold" if field.cell.text not in ("", "-") else "$accent" if field.cell.open else ""
    return Content.assemble(Content(f"{name}  "), (field.value, style))
