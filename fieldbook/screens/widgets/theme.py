"""The two themes: dusk for the cab, glare for the sun.

WCAG 2.2, 1.4.3 asks for a contrast of 4.5:1; a test measures every cell of text on every screen.
"""

from __future__ import annotations

from textual.message import Message
from textual.theme import Theme

# One accent says "here you act": titles, keys, the cell under the cursor, what is still to be
# filled in. Green, amber and red are kept for what is proven, in doubt and wrong.
DUSK = Theme(
    name="dusk",
    primary="#7fc0ea",
    secondary="#a9b3ab",
    accent="#7fc0ea",
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
    primary="#0a3f7a",
    secondary="#4a4a42",
    accent="#0a3f7a",
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
