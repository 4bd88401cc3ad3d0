"""The columns of the board: their widths on a screen, their heads, a property's row in them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from textual.content import Content

from fieldbook.languages.in_use import say, shown
from fieldbook.screens.board.progress_bar import BAR_WIDTH, WIDE_BAR, bar, runs_out
from fieldbook.screens.widgets.terminal_cells import fit, right

if TYPE_CHECKING:
    from fieldbook.actions.board.board_row import BoardRow

_WIDEST = 150
_WIDE = 110
_NARROW = 90
_NARROWEST = 70
_OPEN, _OPEN_WIDE = "Open", "Not checked"
"""The head over the count of checks that lack an entry; `?` on the board explains it."""
_NAMED_END = 15
"""Room for what runs out and when, such as "licence 12 days"."""
_LEAST_ADDRESS, _MOST_ADDRESS = 15, 28
_GAP = "  "
_EDGES = 4
_UNKNOWN = "…"


@dataclass(frozen=True)
class _Widths:
    """How wide each column is, in terminal cells; 0 leaves it out."""

    address: int
    customer: int
    flushed: int
    places: int
    next: int
    runs_out: int
    flags: int
    open: int

    @property
    def says_what_runs_out(self) -> bool:
        """Whether there is room for what runs out beside its day."""
        return self.runs_out >= _NAMED_END


def board_room(terminal: int) -> int:
    """How wide the columns are together on a terminal: without margins and scrollbar."""
    return (terminal or 80) - _EDGES


def _widths(room: int) -> _Widths:
    """The widths for a list `room` cells wide.

    Wide terminals have columns for the customer and the flushed zones. Narrow ones leave out the
    count of open checks, which then stands for the flags where there are none; the narrowest leave
    out what runs out too, which the line below the list tells of the property highlighted.
    """
    customer = 14 if room >= _WIDE else 0
    flushed = 8 if room >= _WIDE else 0
    runs_out = _NAMED_END if room >= _NARROW else 8 if room >= _NARROWEST else 0
    flags = 26 if room >= _WIDEST else 16
    count = 0 if room < _NARROW else len(_OPEN if room < _WIDEST else _OPEN_WIDE)
    places = WIDE_BAR if room >= _WIDE else BAR_WIDTH
    fixed = [width for width in (customer, flushed, places, runs_out, flags, count) if width]
    rest = max(room - sum(fixed) - (len(fixed) + 1) * len(_GAP), 20)
    # An address is known by its beginning; a next step is only understood whole.
    address = min(max(rest // 3, min(_LEAST_ADDRESS, rest // 2)), _MOST_ADDRESS)
    return _Widths(address, customer, flushed, places, rest - address, runs_out, flags, count)


def heads(room: int) -> str:
    """The column heads for a list `room` cells wide."""
    widths = _widths(room)
    cells = (
        ("Property", widths.address),
        ("Customer", widths.customer),
        ("Flushed", widths.flushed),
        ("Places", widths.places),
        ("Next", widths.next),
        ("Runs out", widths.runs_out),
        ("Flags", widths.flags),
        (_OPEN_WIDE if widths.open > len(_OPEN) else _OPEN, widths.open),
    )
    return _GAP.join(fit(say(text), width) for text, width in cells if width).rstrip()


def row_content(row: BoardRow, room: int, *, here: bool = False) -> Content:
    """A property's row for a list `room` cells wide; a stale row shows "…" for what is counted.

    `here`: the row is highlighted, and its words have the highlight's one colour.
    """
    widths = _widths(room)
    flushed = say(f"{row.flushed} of {row.zones}") if row.zones else "-"
    flags = _flags(row, counted=bool(widths.open))
    ends, ends_style = runs_out(row, date.today(), named=widths.says_what_runs_out)
    cells = (
        (row.address, widths.address, "bold"),
        (row.customer, widths.customer, ""),
        (flushed if row.known else _UNKNOWN, widths.flushed, ""),
        (bar(row, widths.places), widths.places, ""),
        (_next(row), widths.next, ""),
        (ends, widths.runs_out, ends_style),
        (flags if row.known else _UNKNOWN, widths.flags, _flag_style(row)),
        (right(str(row.open or "-") if row.known else _UNKNOWN, widths.open), widths.open, ""),
    )
    parts = [_cell(text, width, "" if here else style) for text, width, style in cells if width]
    if here:
        return Content(_GAP.join(part.plain for part in parts))
    return Content(_GAP).join(parts)


def _next(row: BoardRow) -> str:
    """The next step, behind a sign where the property is not on this laptop."""
    if row.elsewhere:
        return f"({say('not here')}) {shown(row.next)}".rstrip()
    return shown(row.next) if row.known else say("Being read ...")


def _cell(text: str | Content, width: int, style: str) -> Content:
    return text if isinstance(text, Content) else Content.styled(fit(text, width), style)


def _flags(row: BoardRow, *, counted: bool) -> str:
    """The flags behind a sign: "!" something is wrong, "-" only noted, "?" not checked yet.

    `counted`: the open checks have a column of their own.
    """
    if row.flags != "-":
        return f"{'!' if row.stops or row.fixes else '-'} {say(row.flags)}"
    return f"? {say(row.unchecked)}" if row.open and not counted else say("none")


def _flag_style(row: BoardRow) -> str:
    if not row.known:
        return ""
    if row.stops:
        return "$error bold"
    if row.fixes:
        return "$warning bold"
    return "" if row.notes or row.open else "$success"
