"""Print the board, and text as every command prints it."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from datetime import date, datetime

import click
from rich.console import Console
from rich.table import Table
from rich.text import Text

from fieldbook.actions.board.board_row import BoardRow
from fieldbook.records.base import WORK_PLACES
from fieldbook.records.printable import printable

NOT_HERE = "(not here)"
_NOT_KNOWN = "…"
NO_PROPERTY = "No property yet: fieldbook opens the board."


def print_board(rows: Iterable[BoardRow]) -> None:
    """The board as a table."""
    table = Table(box=None, pad_edge=False, header_style="bold")
    for head in ("Property", "Customer", "Zones", "Flushed", "Next", "Flags", "Open"):
        table.add_column(head, overflow="fold", no_wrap=head in ("Zones", "Flushed"))
    for row in rows:
        flushed = f"{row.flushed} of {row.zones}" if row.zones else "-"
        zones, still_open = str(row.zones or "-"), str(row.open or "-")
        step = f"{NOT_HERE}: {row.next}".removesuffix(": ") if row.elsewhere else row.next
        flags = row.flags
        if row.elsewhere and not row.known:
            zones = flushed = flags = still_open = _NOT_KNOWN
        cells = (row.address, row.customer, zones, flushed, step, flags, still_open)
        table.add_row(*map(literal, cells))
    console().print(table if table.row_count else NO_PROPERTY)


def print_board_as_json(rows: Iterable[BoardRow]) -> None:
    """The board as a list of JSON objects; what a row's cache doesn't know yet is left out."""
    print_json([_row_data(row) for row in rows])


def _row_data(row: BoardRow) -> dict[str, object]:
    named: dict[str, object] = {"job": row.job_id, "address": row.address, "customer": row.customer}
    if row.elsewhere:
        named |= {"elsewhere": row.elsewhere, "changed": row.changed}
    if not row.known:
        return named
    runs_out = row.runs_out
    return {
        **named,
        "zones": row.zones,
        "flushed": row.flushed,
        "next": row.next,
        "place": row.place,
        "places": dict(zip(WORK_PLACES, row.places, strict=False)),
        "counts": {"stop": row.stops, "fix": row.fixes, "note": row.notes, "not checked": row.open},
        "runs_out": {"what": runs_out.what, "on": runs_out.on.isoformat()} if runs_out else None,
    }


def print_json(document: object) -> None:
    """A document as JSON, indented."""
    click.echo(json.dumps(document, ensure_ascii=False, indent=2))


def print_records(columns: Sequence[str], rows: Sequence[Sequence[object]]) -> None:
    """The rows of an answer as a table, or a sentence where there are none."""
    table = Table(box=None, pad_edge=False, header_style="bold")
    for column in columns:
        table.add_column(column.replace("_", " "), overflow="fold")
    for row in rows:
        table.add_row(*(literal(_shown(cell)) for cell in row))
    console().print(table if rows else "None.")


def _shown(cell: object) -> str:
    if isinstance(cell, datetime):
        return f"{cell:%Y-%m-%d %H:%M}"
    named = {None: "", True: "yes", False: "no"}
    return named[cell] if cell is None or isinstance(cell, bool) else str(cell)


def as_plain(cell: object) -> object:
    """A value of a database as JSON has it: times and whatever else it lacks as text."""
    return cell if cell is None or isinstance(cell, bool | int | float) else _as_text(cell)


def _as_text(cell: object) -> str:
    return cell.isoformat() if isinstance(cell, date) else str(cell)


def literal(text: str, style: str = "") -> Text:
    """Stored text as it is: never read as markup, and without characters a terminal obeys."""
    return Text(printable(text), style=style)


def console() -> Console:
    """Standard output; a pipe gets 100 columns rather than a guess."""
    found = Console(highlight=False, soft_wrap=False)
    return found if found.is_terminal else Console(highlight=False, width=100)
