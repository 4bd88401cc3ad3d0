"""Stored text on the screen, always literally: the two ways widgets need it."""

from __future__ import annotations

from rich.cells import cell_len, set_cell_size
from rich.text import Text
from textual.content import Content


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
