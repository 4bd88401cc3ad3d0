"""The board's list: one line a property, read by the page as it comes into view."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Region, Size, Spacing
from textual.message import Message
from textual.scroll_view import ScrollView
from textual.strip import Strip
from textual.visual import Padding, Visual

from fieldbook.screens.board.columns import line_content

if TYPE_CHECKING:
    from fieldbook.actions.board.board import Listing
    from fieldbook.actions.board.board_row import BoardRow

_PAGE = 32
"""Lines that are read at once."""
_MOST_HELD = 40
"""Pages that are kept in memory."""
_MARGIN = Spacing(0, 1, 0, 1)
_MOVES = {
    "up": "step(-1)",
    "down": "step(1)",
    "pageup": "leaf(-1)",
    "pagedown": "leaf(1)",
    "home": "edge(False)",
    "end": "edge(True)",
    "enter": "open",
}


class BoardList(ScrollView, can_focus=True):
    """Lists properties. Enter opens one. It holds only the pages that were looked at."""

    ALLOW_SELECT = False
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(key, action, show=False) for key, action in _MOVES.items()
    ]
    COMPONENT_CLASSES: ClassVar[set[str]] = {
        f"board-list--{part}" for part in ("line", "here", "under-mouse")
    }

    @dataclass
    class Open(Message):
        """Open this property."""

        line: BoardRow

    @dataclass
    class Moved(Message):
        """Another property is highlighted (None: the list is empty)."""

        line: BoardRow | None

    def __init__(self) -> None:
        """Empty until `show`."""
        super().__init__(id="board-list")
        self._lines: Listing | None = None
        self._pages: dict[int, list[BoardRow]] = {}
        self._count = self._at = 0
        self._mouse: int | None = None

    @property
    def line(self) -> BoardRow | None:
        """The property highlighted."""
        return self._line_at(self._at)

    @property
    def unknown(self) -> list[str]:
        """The jobs in view whose lines are still to be made."""
        top = int(self.scroll_offset.y)
        seen = (self._line_at(at) for at in range(top, top + self.size.height))
        return [line.job_id for line in seen if line is not None and not line.known]

    def show(self, lines: Listing, job_id: str | None = None, *, stay: bool = True) -> None:
        """List these, `job_id` (else the one highlighted before) highlighted.

        Where that one is gone the highlight stays at its place, or goes to the top.
        """
        before = self.line
        wanted = job_id or (before.job_id if before else None)
        self._lines, self._count = lines, len(lines)
        self._pages.clear()
        self.virtual_size = Size(self.size.width, self._count)
        place = lines.index_of(wanted) if wanted is not None else None
        self._go(place if place is not None else self._at if stay else 0)
        self.refresh()

    def renew(self) -> None:
        """Lines were made anew: read those in view again, the highlight on its property."""
        before, count = self.line, self._count
        if self._lines is None:
            return
        self._pages.clear()
        self._count = len(self._lines)
        place = self._lines.index_of(before.job_id) if before else None
        if place not in (None, self._at) or count != self._count:
            self.virtual_size = Size(self.size.width, self._count)
            self._go(self._at if place is None else place)
        self.refresh()

    # reading

    def _line_at(self, at: int) -> BoardRow | None:
        """The line at a place, its page read if it is not held."""
        if self._lines is None or not 0 <= at < self._count:
            return None
        number, offset = divmod(at, _PAGE)
        if number not in self._pages:
            while len(self._pages) >= _MOST_HELD:
                del self._pages[next(iter(self._pages))]
            self._pages[number] = self._lines.window(number * _PAGE, _PAGE)
        page = self._pages[number]
        return page[offset] if offset < len(page) else None

    # drawing

    def render_line(self, y: int) -> Strip:
        """Draw one line of the view."""
        at = y + int(self.scroll_offset.y)
        part = "here" if at == self._at else "under-mouse" if at == self._mouse else ""
        names = ["board-list--line", *([f"board-list--{part}"] if part else [])]
        style, width = self.get_visual_style(*names), self.scrollable_content_region.width
        line = self._line_at(at)
        if line is None:
            return Strip.blank(width, self.get_visual_style("board-list--line").rich_style)
        drawn = Padding(line_content(line, (self.size.width or 80) - 3), _MARGIN)
        strips = Visual.to_strips(self, drawn, width, 1, style)
        return strips[0].extend_cell_length(width, style.rich_style)

    def on_resize(self, _event: events.Resize) -> None:
        """Fit the columns again, the highlight kept in view."""
        self.virtual_size = Size(self.size.width, self._count)
        self._bring_into_view()

    def _paint(self, *places: int | None) -> None:
        """Draw these lines again, no others."""
        top, width = int(self.scroll_offset.y), self.size.width
        seen = [at - top for at in places if at is not None and top <= at < top + self.size.height]
        if seen:
            self.refresh(*(Region(0, y, width, 1) for y in seen))

    # moving

    def _go(self, at: int) -> None:
        """Highlight the line at a place, the nearest there is, and tell which."""
        before, self._at = self._at, max(min(at, self._count - 1), 0)
        self._bring_into_view()
        self._paint(before, self._at)
        self.post_message(self.Moved(self.line))

    def _bring_into_view(self) -> None:
        row = Region(0, self._at, self.scrollable_content_region.width, 1)
        self.scroll_to_region(row, force=True, animate=False, immediate=True)

    def action_step(self, by: int) -> None:
        """A line up or down; past an end to the other one."""
        if self._count:
            self._go((self._at + by) % self._count)

    def action_leaf(self, by: int) -> None:
        """A screen up or down."""
        self._go(self._at + by * self.scrollable_content_region.height)

    def action_edge(self, end: bool) -> None:
        """The first property or the last."""
        self._go(self._count - 1 if end else 0)

    def action_open(self) -> None:
        """Enter: open the one highlighted."""
        if self.line is not None:
            self.post_message(self.Open(self.line))

    # the mouse

    def on_click(self, event: events.Click) -> None:
        """Open the property that is pointed at."""
        at = event.y + int(self.scroll_offset.y)
        if self._line_at(at) is not None:
            self._go(at)
            self.action_open()

    def on_mouse_move(self, event: events.MouseMove) -> None:
        """Mark the line under the mouse."""
        self._point_at(event.y + int(self.scroll_offset.y))

    def on_leave(self, _event: events.Leave) -> None:
        """None is under the mouse."""
        self._point_at(None)

    def _point_at(self, at: int | None) -> None:
        before, self._mouse = self._mouse, at
        if before != at:
            self._paint(before, at)
