"""The board's list: one line a property, its columns fitted to the width."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from textual import events
from textual.content import Content
from textual.message import Message
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from fieldbook.screens.literal import fit

if TYPE_CHECKING:
    from fieldbook.actions.board import BoardLine

_WIDE = 110
_NARROW = 70
_FLUSHED = 8
_GAP = "  "


@dataclass(frozen=True)
class _Widths:
    """How wide each column is; 0 leaves it out."""

    address: int
    customer: int
    zones: int
    next: int
    flags: int


def _widths(room: int) -> _Widths:
    """Wide terminals show the customer; narrow ones leave "flushed" to tell how many zones."""
    customer = 18 if room >= _WIDE else 0
    zones = 0 if room < _NARROW else 6
    flags = 22 if room >= _WIDE else 15 if zones else 13
    fixed = [width for width in (customer, zones, _FLUSHED, flags) if width]
    rest = max(room - sum(fixed) - (len(fixed) + 1) * len(_GAP), 20)
    address = min(max(rest * 2 // 5 if zones else rest // 2, 10), 34)
    return _Widths(address, customer, zones, rest - address, flags)


def heads(room: int) -> str:
    """The column heads for a list `room` wide."""
    widths = _widths(room)
    cells = (
        (fit("Property", widths.address), widths.address),
        (fit("Customer", widths.customer), widths.customer),
        (fit("Zones", widths.zones), widths.zones),
        (fit("Flushed", _FLUSHED), _FLUSHED),
        (fit("Next", widths.next), widths.next),
        ("Flags", widths.flags),
    )
    return _GAP.join(text for text, width in cells if width)


def line_content(line: BoardLine, room: int) -> Content:
    """A property's line for a list `room` wide."""
    widths = _widths(room)
    flushed = f"{line.flushed} of {line.zones}" if line.zones else "-"
    cells = (
        (line.address, widths.address, "bold"),
        (line.customer, widths.customer, ""),
        (str(line.zones or "-"), widths.zones, ""),
        (flushed, _FLUSHED, ""),
        (line.next, widths.next, ""),
        (line.flags, widths.flags, _flag_style(line)),
    )
    parts = [Content.styled(fit(text, width), style) for text, width, style in cells if width]
    return Content(_GAP).join(parts)


def _flag_style(line: BoardLine) -> str:
    if line.stops:
        return "$error bold"
    if line.fixes:
        return "$warning bold"
    return "$primary" if line.notes else "$success"


class BoardList(OptionList):
    """Lists properties. Enter opens one."""

    @dataclass
    class Open(Message):
        """Open this property."""

        line: BoardLine

    @dataclass
    class Moved(Message):
        """Another property is highlighted (None: the list is empty)."""

        line: BoardLine | None

    def __init__(self) -> None:
        """Empty until `show`."""
        super().__init__(id="board-list", compact=True, markup=False)
        self._shown: tuple[BoardLine, ...] = ()

    @property
    def line(self) -> BoardLine | None:
        """The property highlighted."""
        at = self.highlighted
        return self._shown[at] if at is not None and at < len(self._shown) else None

    def show(self, lines: Sequence[BoardLine], job_id: str | None = None) -> None:
        """List these, `job_id` (else the one highlighted before) highlighted."""
        before = self.line
        wanted = job_id or (before.job_id if before else None)
        self._shown = tuple(lines)
        self._fill()
        ids = [line.job_id for line in lines]
        self.highlighted = (ids.index(wanted) if wanted in ids else 0) if ids else None
        self.post_message(self.Moved(self.line))

    def _fill(self) -> None:
        at = self.highlighted
        room = (self.size.width or 80) - 3
        self.clear_options()
        self.add_options([Option(line_content(line, room)) for line in self._shown])
        if at is not None and at < len(self._shown):
            self.highlighted = at

    def on_resize(self, _event: events.Resize) -> None:
        """Fit the columns again."""
        self._fill()

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Tell which one."""
        event.stop()
        self.post_message(self.Moved(self.line))

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Enter: open it."""
        event.stop()
        if self.line is not None:
            self.post_message(self.Open(self.line))
