"""How wide text is in a proportional font, so that labels on paper can be kept apart.

The widths are those of Helvetica in thousandths of its size (Adobe's published font metrics, from
memory). `textLength` in the SVG makes any other font as wide.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from rich.cells import cell_len

from fieldbook.languages.in_use import shown

_WIDTHS = {
    222: "'ijl",
    278: " !,./:;I[]\\ft|",
    333: '()-`r"',
    389: "*",
    500: "Jckssvxyz",
    556: "0123456789#$?_LTFabdeghnopqu",
    584: "+<=>~",
    667: "ABEKPSVXY&",
    722: "CDHNRUw",
    778: "GOQ",
    833: "Mm",
    889: "%",
    944: "W",
    1015: "@",
}
_BY_CHAR = {char: width for width, chars in _WIDTHS.items() for char in chars}
_CELL = 600
"""A character that is not in the table, by its cells in a terminal."""


def text_width(text: str, size: float) -> float:
    """The width of a text in the unit of its size."""
    return sum(_BY_CHAR.get(char, _CELL * cell_len(char)) for char in text) * size / 1000


def wrapped(text: str, most: float, measure: Callable[[str], float]) -> Iterator[str]:
    """The lines of a text in the language in use, each of which measures at most `most`.

    A word that is too long for a line is broken where it must.
    """
    line = ""
    for word in shown(text).split():
        longer = f"{line} {word}".lstrip()
        if line and measure(longer) > most:
            yield line
            longer = word
        while measure(longer) > most and len(longer) > 1:
            fits = len(longer) - 1
            while fits > 1 and measure(longer[:fits]) > most:
                fits -= 1
            yield longer[:fits]
            longer = longer[fits:]
        line = longer
    if line:
        yield line
