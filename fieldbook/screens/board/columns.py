"""The columns of the board: how wide each is on a screen, their heads, a property's line."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from textual.content import Content

from fieldbook.screens.widgets.terminal_cells import fit

if TYPE_CHECKING:
    from fieldbook.actions.board.board_row import BoardRow

_WIDE = 110
_NARROW = 70
_FLUSHED = 8
_OPEN = 4
"""How wide the count of open checks is."""
_GAP = "  "
_UNKNOWN = "…"


@dataclass(frozen=True)
class _Widths:
    """How wide each column is; 0 leaves it out."""

    address: int
    customer: int
    zones: int
    next: int
    flags: int
    open: int


def _widths(room: int) -> _Widths:
    """Wide terminals show the customer; narrow ones leave "flushed" to tell how many zones."""
    customer = 18 if room >= _WIDE else 0
    zones = 0 if room < _NARROW else 6
    flags = 26 if room >= _WIDE else 16 if zones else 15
    fixed = [width for width in (customer, zones, _FLUSHED, flags, _OPEN) if width]
    rest = max(room - sum(fixed) - (len(fixed) + 1) * len(_GAP), 20)
    address = min(max(rest * 2 // 5 if zones else rest // 2, 10), 34)
    return _Widths(address, customer, zones, rest - address, flags, _OPEN)


def heads(room: int) -> str:
    """The column heads for a list `room` wide."""
    widths = _widths(room)
    cells = (
        (fit("Property", widths.address), widths.address),
        (fit("Customer", widths.customer), widths.customer),
        (fit("Zones", widths.zones), widths.zones),
        (fit("Flushed", _FLUSHED), _FLUSHED),
        (fit("Next", widths.next), widths.next),
        (fit("Flags", widths.flags), widths.flags),
        ("Open", widths.open),
    )
    return _GAP.join(text for text, width in cells if width)


def line_content(line: BoardRow, room: int) -> Content:
    """A property's line for a list `room` wide."""
    widths = _widths(room)
    zones = str(line.zones or "-")
    flushed = f"{line.flushed} of {line.zones}" if line.zones else "-"
    cells = (
        (line.address, widths.address, "bold"),
        (line.customer, widths.customer, ""),
        (zones if line.known else _UNKNOWN, widths.zones, ""),
        (flushed if line.known else _UNKNOWN, _FLUSHED, ""),
        (line.next if line.known else "Being read ...", widths.next, ""),
        (line.flags if line.known else _UNKNOWN, widths.flags, _flag_style(line)),
        (str(line.open or "-") if line.known else _UNKNOWN, widths.open, ""),
    )
    parts = [Content.styled(fit(text, width), style) for text, width, style in cells if width]
    return Content(_GAP).join(parts)


def _flag_style(line: BoardRow) -> str:
    if not line.known:
        return ""
    if line.stops:
        return "$error bold"
    if line.fixes:
        return "$warning bold"
    return "$primary" if line.notes or line.open else "$success"
