"""Print the board, and text as every command prints it."""

from __future__ import annotations

from collections.abc import Iterable

from rich.console import Console
from rich.table import Table
from rich.text import Text

from fieldbook.actions.board.board_row import BoardRow
from fieldbook.records.printable import printable

NO_PROPERTY = "No property yet: fieldbook opens the board."


def print_board(rows: Iterable[BoardRow]) -> None:
    """The board as a table."""
    table = Table(box=None, pad_edge=False, header_style="bold")
    for head in ("Property", "Customer", "Zones", "Flushed", "Next", "Flags", "Open"):
        table.add_column(head, overflow="fold", no_wrap=head in ("Zones", "Flushed"))
    for row in rows:
        flushed = f"{row.flushed} of {row.zones}" if row.zones else "-"
        zones, still_open = str(row.zones or "-"), str(row.open or "-")
        cells = (row.address, row.customer, zones, flushed, row.next, row.flags, still_open)
        table.add_row(*map(literal, cells))
    console().print(table if table.row_count else NO_PROPERTY)


def literal(text: str, style: str = "") -> Text:
    """Stored text as it is: never read as markup, and without characters a terminal obeys."""
    return Text(printable(text), style=style)


def console() -> Console:
    """Standard output; a pipe gets 100 columns rather than a guess."""
    found = Console(highlight=False, soft_wrap=False)
    return found if found.is_terminal else Console(highlight=False, width=100)
