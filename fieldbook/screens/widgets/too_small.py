"""What is shown instead of a screen while the terminal is smaller than any screen is drawn for."""

from __future__ import annotations

from textual.content import Content
from textual.geometry import Size
from textual.screen import Screen
from textual.widgets import Static

from fieldbook.languages.in_use import say

LEAST = Size(60, 18)
"""Columns and lines for which every screen is laid out and tested."""


class TooSmall(Static):
    """One line with the size that is needed. It covers the screen, which stays as it is below."""

    def __init__(self) -> None:
        """Empty until `fit_screen`."""
        super().__init__(markup=False)


def fit_screen(screen: Screen[object], size: Size) -> None:
    """Cover a screen while the terminal is too small, and uncover it once it is not."""
    covers = screen.query_children(TooSmall)
    if size.width >= LEAST.width and size.height >= LEAST.height:
        covers.remove()
        return
    cover = covers.first() if covers else TooSmall()
    needs = f"{LEAST.width}x{LEAST.height}"
    needed = f"fieldbook needs {needs}; this is {size.width}x{size.height}."
    cover.update(Content(say(needed)))
    if not covers:
        screen.mount(cover)
