"""A page to read over a place or the board: lines that are drawn for the width there is."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from fieldbook.actions.keymap import FUNCTION_KEYS, KeyWords
from fieldbook.languages.in_use import shown
from fieldbook.papers.picture import Line, Piece, Role
from fieldbook.screens.widgets.dialogs import CLOSE_KEYS
from fieldbook.screens.widgets.edge_lines import KeyLine
from fieldbook.screens.widgets.front_screen import FrontScreen
from fieldbook.screens.widgets.terminal_cells import blocks, page_width

Draw = Callable[[int], Iterable[Content]]
"""Gives the page's lines for a width in cells."""
TITLE, FAINT, CAUTION = "$primary bold", "$secondary", "$warning"
STYLES: Mapping[Role, str] = {
    "": "",
    "title": TITLE,
    "strong": "$foreground bold",
    "faint": FAINT,
    "good": "$success bold",
    "tight": "$warning bold",
    "wrong": "$error bold",
}
"""How each part of a picture is shown in the colours of the theme."""


class Page(FrontScreen[None]):
    """Shows what `draw` gives; Esc, Enter, q or any function key closes it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        (",".join(("escape", "enter", "q", *FUNCTION_KEYS)), "dismiss(None)", "Back")
    ]

    def __init__(self, draw: Draw) -> None:
        """`draw` is called again for every width."""
        super().__init__()
        self._draw = draw

    def compose(self) -> ComposeResult:
        """Lay out one text that scrolls."""
        with VerticalScroll(classes="dialog page"):
            yield Static(id="page", markup=False)
            yield KeyLine()

    def keys(self) -> KeyWords:
        """The keys that its foot names."""
        return CLOSE_KEYS

    def on_mount(self) -> None:
        """Name its keys."""
        self.query_one(KeyLine).show(self.keys())

    def on_resize(self) -> None:
        """Draw for the width there is."""
        lines = self._draw(page_width(self.app.size.width))
        self.query_one("#page", Static).update(joined(lines))


def title(text: str) -> Content:
    """A heading of a page."""
    return Content.styled(text, TITLE)


def joined(lines: Iterable[Content]) -> Content:
    """The lines one under the other in the language in use, as one text for a widget."""
    return Content("\n").join([_said(line) for line in lines])


def _said(line: Content) -> Content:
    """A line in one style in the language in use; a line of a picture keeps its columns."""
    if len(line.spans) > 1:
        return line
    text = shown(line.plain)
    return Content.assemble((text, line.spans[0].style)) if line.spans else Content(text)


def styled(line: Line) -> Content:
    """A line of a picture in the colours of the theme, its swatches in their own."""
    return Content.assemble(*(part for piece in line for part in _parts(piece)))


def _parts(piece: Piece) -> list[tuple[str, str]]:
    if piece.swatch is None:
        return [(piece.text, STYLES[piece.role])]
    drawn = [(char, f"{fore} on {back}") for char, fore, back in blocks(piece.swatch)]
    return [*drawn, (f" {piece.text}", STYLES[piece.role])]
