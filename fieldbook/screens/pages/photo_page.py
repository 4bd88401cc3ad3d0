"""The page of an attached file: a thumbnail of a photo, when and where it was taken, its path."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from rich.segment import Segment
from rich.style import Style
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.strip import Strip
from textual.widget import Widget
from textual.widgets import Static

from fieldbook.actions.files.photos import Pixel, thumbnail, why_not_drawn
from fieldbook.checks.desk.file_states import FileState
from fieldbook.languages.in_use import shown
from fieldbook.records.tables.attachments import Attachment
from fieldbook.screens.widgets.edge_lines import KeyLine
from fieldbook.screens.widgets.front_screen import FrontScreen

_COLUMNS, _ROWS = 60, 12


class Thumbnail(Widget):
    """A photo drawn with half blocks: each cell shows two pixels, one above the other."""

    def __init__(self, cells: list[list[tuple[Pixel, Pixel]]]) -> None:
        """`cells` are rows of (upper, lower) pixels, as `thumbnail` gives them."""
        super().__init__()
        self._cells = cells
        self.styles.height = len(cells)

    def render_line(self, y: int) -> Strip:
        """Draw one row of cells."""
        if y >= len(self._cells):
            return Strip.blank(self.size.width)
        return Strip(
            Segment("▀", Style(color=_rgb(upper), bgcolor=_rgb(lower)))
            for upper, lower in self._cells[y]
        )


def _rgb(pixel: Pixel) -> str:
    return f"rgb({pixel[0]},{pixel[1]},{pixel[2]})"


class PhotoPage(FrontScreen[None]):
    """Shows one attached file; o opens it in the system's viewer, Esc closes the page."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ("escape,enter,q", "dismiss(None)", "Back"),
        ("o", "outside", "Open outside"),
    ]

    def __init__(self, file: Attachment, state: FileState, outside: Callable[[], str]) -> None:
        """`outside` opens the file elsewhere; it returns why that failed, or an empty text."""
        super().__init__()
        self._file, self._state, self._outside = file, state, outside

    def compose(self) -> ComposeResult:
        """The picture, the words about it, the keys."""
        file = self._file
        with VerticalScroll(classes="dialog page"):
            yield Static(Content(file.name), classes="dialog-title")
            if not self._state.wrong:
                yield Thumbnail(thumbnail(self._state.path, _COLUMNS, _ROWS))
            yield Static(Content("\n".join(map(shown, self._words()))))
            yield Static(id="photo-refused", classes="bad", markup=False)
            yield KeyLine()

    def on_mount(self) -> None:
        """Name the keys."""
        self.query_one("#photo-refused").display = False
        self.query_one(KeyLine).show((("o", "open it outside"), ("Esc", "close")))

    def _words(self) -> list[str]:
        file = self._file
        lines = [
            "" if self._state.wrong else why_not_drawn(self._state.path),
            f"It is {self._state.wrong} beside the book." if self._state.wrong else "",
            f"Taken {file.taken_at}." if file.taken_at else "",
            f"Position {file.position} (north, east)." if file.position else "",
            file.note,
            f"Kept at {self._state.path}",
        ]
        return [line for line in lines if line]

    def action_outside(self) -> None:
        """Open the file with the system's viewer, or say why that failed."""
        why = self._outside()
        if why:
            refused = self.query_one("#photo-refused", Static)
            refused.display = True
            refused.update(Content(shown(why)))
