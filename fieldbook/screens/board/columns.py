"""The columns of the board: their widths on a screen, their heads, a property's row in them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from textual.content import Content

from fieldbook.screens.widgets.terminal_cells import fit

if TYPE_CHECKING:
    from fieldbook.actions.board.board_row import BoardRow

_WIDE = 110
_NARROW = 90
_NARROWEST = 70
_OPEN = 4
"""How wide the count of open checks is."""
_GAP = "  "
_UNKNOWN = "…"


@dataclass(frozen=True)
class _Widths:
    """How wide each column is, in terminal cells; 0 leaves it out."""

    address: int
    customer: int
    zones: int
    flushed: int
    next: int
    flags: int
    open: int


def _widths(room: int) -> _Widths:
    """The widths for a list `room` cells wide.

    Wide terminals have a column for the customer. Narrow ones have none for the zones: "flushed"
    tells how many there are. The narrowest leave that out too, so that the next step is readable.
    """
    customer = 18 if room >= _WIDE else 0
    zones = 0 if room < _NARROW else 6
    flags = 26 if room >= _WIDE else 16 if zones else 15
    flushed = 0 if room < _NARROWEST else 8
    fixed = [width for width in (customer, zones, flushed, flags, _OPEN) if width]
    rest = max(room - sum(fixed) - (len(fixed) + 1) * len(_GAP), 20)
    address = min(max(rest * 2 // 5, 10), 34)
    return _Widths(address, customer, zones, flushed, rest - address, flags, _OPEN)


def heads(room: int) -> str:
    """The column heads for a list `room` cells wide."""
    widths = _widths(room)
    cells = (
        (fit("Property", widths.address), widths.address),
        (fit("Customer", widths.customer), widths.customer),
        (fit("Zones", widths.zones), widths.zones),
        (fit("Flushed", widths.flushed), widths.flushed),
        (fit("Next", widths.next), widths.next),
        (fit("Flags", widths.flags), widths.flags),
        ("Open", widths.open),
    )
    return _GAP.join(text for text, width in cells if width)


def row_content(row: BoardRow, room: int) -> Content:
    """A property's row for a list `room` cells wide; a stale row shows "…" for what is counted."""
    widths = _widths(room)
    zones = str(row.zones or "-")
    flushed = f"{row.flushed} of {row.zones}" if row.zones else "-"
    cells = (
        (row.address, widths.address, "bold"),
        (row.customer, widths.customer, ""),
        (zones if row.known else _UNKNOWN, widths.zones, ""),
        (flushed if row.known else _UNKNOWN, widths.flushed, ""),
        (row.next if row.known else "Being read ...", widths.next, ""),
        (row.flags if row.known else _UNKNOWN, widths.flags, _flag_style(row)),
        (str(row.open or "-") if row.known else _UNKNOWN, widths.open, ""),
    )
    parts = [Content.styled(fit(text, width), style) for text, width, style in cells if width]
    return Content(_GAP).join(parts)


def _flag_style(row: BoardRow) -> str:
    if not row.known:
        return ""
    if row.stops:
        return "$error bold"
    if row.fixes:
        return "$warning bold"
    return "$primary" if row.notes or row.open else "$success"
