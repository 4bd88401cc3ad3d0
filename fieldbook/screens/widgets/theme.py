"""The two themes: dusk for the cab, glare for the sun.

WCAG 2.2, 1.4.3 asks for a contrast of 4.5:1; a test measures every cell of text on every screen.
"""

from __future__ import annotations

from textual.message import Message
from textual.theme import Theme

DUSK = Theme(
    name="dusk",
    primary="#7cc4a8",
    secondary="#c9b27c",
    accent="#e0a458",
    foreground="#e9e4d8",
    background="#1b1f1d",
    surface="#232a27",
    panel="#2d3632",
    success="#8fc98a",
    warning="#e6b455",
    error="#ff8f7a",
    dark=True,
)
GLARE = Theme(
    name="glare",
    primary="#0b4f3a",
    secondary="#5b4300",
    accent="#7a3b00",
    foreground="#000000",
    background="#ffffff",
    surface="#f4f2ec",
    panel="#e4e0d4",
    success="#0f5a1c",
    warning="#6b4700",
    error="#9c1400",
    dark=False,
)
THEMES = (DUSK, GLARE)


class ThemeWanted(Message):
    """The other theme is wanted."""
