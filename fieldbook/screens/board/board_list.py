"""The board's list: a row for each property, read a page at a time as it comes into view."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar, Protocol

from rich.segment import Segment
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Region, Size, Spacing
from textual.message import Message
from textual.scroll_view import ScrollView
from textual.strip import Strip
from textual.visual import Padding, Visual

from fieldbook.screens.board.columns import board_room, row_content

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fieldbook.actions.board.board_row import BoardRow

_PAGE = 32
"""Rows that are read at once."""
_MOST_PAGES = 40
"""Pages that are kept in memory."""
_MARGIN = Spacing(0, 1, 0, 2)
_MARK = "> "
"""Before the row that is highlighted: in glare a colour alone is not seen."""
_MOVES = {
    "up": "step(-1)",
    "down": "step(1)",
    "pageup": "leaf(-1)",
    "pagedown": "leaf(1)",
    "home": "edge(False)",
    "end": "edge(True)",
}


class Listing(Protocol):
    """The properties listed: those of the open book, those found, or a first page of them."""

    def __len__(self) -> int:
        """How many there are."""

    def window(self, first: int, most: int) -> Sequence[BoardRow]:
        """At most `most` rows from the index `first`, which counts from 0."""

    def index_of(self, job_id: str) -> int | None:
        """The index of a property; None when it is not listed."""


class BoardList(ScrollView, can_focus=True):
    """Lists properties and highlights one of them.

    Textual's own lists hold a widget or a string for every row, which takes seconds for ten
    thousand properties. This one holds only the pages that were in view and draws line by line.
    """

    ALLOW_SELECT = False
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(key, action, show=False) for key, action in _MOVES.items()
    ]
    COMPONENT_CLASSES: ClassVar[set[str]] = {
        f"board-list--{part}" for part in ("line", "here", "under-mouse")
    }

    class Opened(Message):
        """The property highlighted is to be opened."""

    @dataclass
    class Moved(Message):
        """Another property is highlighted (None: the list is empty)."""

        row: BoardRow | None

    def __init__(self) -> None:
        """Empty until `show`."""
        super().__init__(id="board-list")
        self._listing: Listing | None = None
        self._pages: dict[int, Sequence[BoardRow]] = {}
        self._count = self._index = 0
        self._under_mouse: int | None = None

    @property
    def row(self) -> BoardRow | None:
        """The row of the property highlighted."""
        return self._row_at(self._index)

    @property
    def stale_in_view(self) -> list[str]:
        """The ids of the jobs in view whose rows are still to be made."""
        top = int(self.scroll_offset.y)
        rows = (self._row_at(index) for index in range(top, top + self.size.height))
        return [row.job_id for row in rows if row is not None and not (row.known or row.elsewhere)]

    def show(self, listing: Listing, job_id: str | None = None, *, stay: bool = True) -> None:
        """List these properties, `job_id` highlighted, else the one that was highlighted before.

        Where that one is not listed the highlight stays at its index, or goes to the top.
        """
        before = self.row
        wanted = job_id or (before.job_id if before else None)
        self._listing, self._count = listing, len(listing)
        self._pages.clear()
        self.virtual_size = Size(self.size.width, self._count)
        index = listing.index_of(wanted) if wanted is not None else None
        self._highlight(index if index is not None else self._index if stay else 0)
        self.refresh()

    def forget_top(self) -> None:
        """Let the highlight stay at the top, whatever is listed there next, if it is there now."""
        if self._index == 0:
            self._listing, self._count = None, 0
            self._pages.clear()

    def reread(self) -> None:
        """Read the rows in view again after some were made anew; the highlight stays on its job."""
        before, count = self.row, self._count
        if self._listing is None:
            return
        self._pages.clear()
        self._count = len(self._listing)
        index = self._listing.index_of(before.job_id) if before else None
        if index not in (None, self._index) or count != self._count:
            self.virtual_size = Size(self.size.width, self._count)
            self._highlight(self._index if index is None else index)
        self.refresh()

    def _row_at(self, index: int) -> BoardRow | None:
        """The row at an index; its page is read if it is not held."""
        if self._listing is None or not 0 <= index < self._count:
            return None
        number, offset = divmod(index, _PAGE)
        if number not in self._pages:
            while len(self._pages) >= _MOST_PAGES:
                # A dict keeps the order of insertion: its first page is the one read longest ago.
                del self._pages[next(iter(self._pages))]
            self._pages[number] = self._listing.window(number * _PAGE, _PAGE)
        page = self._pages[number]
        return page[offset] if offset < len(page) else None

    # drawing

    def render_line(self, y: int) -> Strip:
        """Draw one line of the view."""
        index = y + int(self.scroll_offset.y)
        part = "here" if index == self._index else ""
        part = part or ("under-mouse" if index == self._under_mouse else "")
        names = ["board-list--line", *([f"board-list--{part}"] if part else [])]
        style, width = self.get_visual_style(*names), self.scrollable_content_region.width
        row = self._row_at(index)
        if row is None:
            return Strip.blank(width, self.get_visual_style("board-list--line").rich_style)
        here = index == self._index
        drawn = Padding(row_content(row, board_room(self.size.width), here=here), _MARGIN)
        strip = Visual.to_strips(self, drawn, width, 1, style)[0]
        strip = strip.extend_cell_length(width, style.rich_style)
        if not here:
            return strip
        return Strip.join([Strip([Segment(_MARK, style.rich_style)]), strip.crop(len(_MARK))])

    def on_resize(self, _event: events.Resize) -> None:
        """Fit the columns again and keep the highlight in view."""
        self.virtual_size = Size(self.size.width, self._count)
        self._bring_into_view()

    def _repaint(self, *indexes: int | None) -> None:
        """Draw these rows again, no others."""
        top, width = int(self.scroll_offset.y), self.size.width
        lines = [index - top for index in indexes if index is not None]
        seen = [y for y in lines if 0 <= y < self.size.height]
        if seen:
            self.refresh(*(Region(0, y, width, 1) for y in seen))

    # moving

    def _highlight(self, index: int) -> None:
        """Highlight the row at an index, or the nearest there is, and report it."""
        before, self._index = self._index, max(min(index, self._count - 1), 0)
        self._bring_into_view()
        self._repaint(before, self._index)
        self.post_message(self.Moved(self.row))

    def _bring_into_view(self) -> None:
        row = Region(0, self._index, self.scrollable_content_region.width, 1)
        self.scroll_to_region(row, force=True, animate=False, immediate=True)

    def action_step(self, rows: int) -> None:
        """Move a row up or down, as far as the first and the last."""
        if self._count:
            self._highlight(self._index + rows)

    def action_leaf(self, pages: int) -> None:
        """Move a screen up or down."""
        self._highlight(self._index + pages * self.scrollable_content_region.height)

    def action_edge(self, end: bool) -> None:
        """Move to the first property or the last."""
        self._highlight(self._count - 1 if end else 0)

    # the mouse

    def on_click(self, event: events.Click) -> None:
        """Open the property that is pointed at."""
        index = event.y + int(self.scroll_offset.y)
        if self._row_at(index) is not None:
            self._highlight(index)
            self.post_message(self.Opened())

    def on_mouse_move(self, event: events.MouseMove) -> None:
        """Mark the row under the mouse."""
        self._point_at(event.y + int(self.scroll_offset.y))

    def on_leave(self, _event: events.Leave) -> None:
        """Unmark the row: the mouse is elsewhere."""
        self._point_at(None)

    def _point_at(self, index: int | None) -> None:
        before, self._under_mouse = self._under_mouse, index
        if before != index:
            self._repaint(before, index)
