"""Stored text on the screen, always literally: the two ways widgets need it."""

from __future__ import annotations

from rich.cells import cell_len, set_cell_size
from rich.text import Text
from textual.content import Content

_WIDEST_PAGE, _PAGE_FRAME = 106, 7
"""A page's width in the stylesheet, and what border, padding and scrollbar take of it."""


def content(text: str) -> Content:
    """For Static, Label, notify, OptionList: never read as markup."""
    return Content(text)


def rich_text(text: str) -> Text:
    """For what Rich draws: tables on standard output."""
    return Text(text)


def fit(text: str, width: int) -> str:
    """Exactly `width` terminal cells of the text, an ellipsis where it is cut."""
    if cell_len(text) <= width:
        return set_cell_size(text, width)
    return set_cell_size(text, width - 1) + "…" if width > 1 else set_cell_size(text, width)


def page_width(terminal: int) -> int:
    """The cells that a page's text has on a terminal so wide."""
    return min(terminal, _WIDEST_PAGE) - _PAGE_FRAME
