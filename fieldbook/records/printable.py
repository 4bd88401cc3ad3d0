"""Which characters of a text a terminal would obey rather than show, and a text without them.

It imports no table and no fact, so that a command that only prints starts at once.
"""

from __future__ import annotations

import unicodedata

# Marks that turn the direction of a line of text round; Unicode files them among "format".
_BIDI = frozenset("\u200e\u200f\u061c\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
# Control characters, lone halves of a pair, private use, and separators of lines and paragraphs.
_OBEYED = ("Cc", "Cs", "Co", "Zl", "Zp")


def printable(text: str) -> str:
    """The text without the control and direction characters that a terminal would obey."""
    # Nearly every text: all of ASCII that is printable is shown, and this is 50 times as fast.
    if text.isascii() and text.isprintable():
        return text
    spaced = "".join(" " if char in "\t\r\n" else char for char in text)
    return "".join(char for char in spaced if not is_obeyed(char))


def is_obeyed(char: str) -> bool:
    """Whether a terminal would obey a character rather than show it."""
    return char in _BIDI or unicodedata.category(char) in _OBEYED
