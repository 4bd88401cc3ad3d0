"""A paper as one HTML page that needs nothing else: pictures and codes are part of it."""

from __future__ import annotations

import base64
from functools import cache

from jinja2 import Environment, PackageLoader, StrictUndefined, Template

from fieldbook.papers.paper import Cell, Code, Figure, Paper, Photo, Swatch
from fieldbook.papers.printing.codes import code_svg
from fieldbook.papers.printing.printed_words import printed_words

_LONG_WORD = 24
"""Characters of a word from which on it may be broken."""


def html_page(paper: Paper) -> str:
    """The page; it loads nothing, also not from this laptop."""
    return _template().render(paper=paper, words=printed_words(paper.language))


@cache
def _template() -> Template:
    environment = Environment(
        loader=PackageLoader("fieldbook.papers.printing"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters["kind"] = lambda block: type(block).__name__
    environment.filters["picture"] = _picture
    environment.filters["swatch"] = lambda cell: isinstance(cell, Swatch)
    environment.filters["long"] = _has_long_word
    return environment.get_template("paper.html")


def _has_long_word(cell: Cell) -> bool:
    """Whether a cell holds a word that must be broken, lest its column be wider than the page."""
    words = cell.word if isinstance(cell, Swatch) else cell
    return any(len(word) > _LONG_WORD for word in words.split())


def _picture(block: Figure | Photo | Code) -> str:
    """The address of a picture, which holds the picture itself.

    An SVG inside an <img> can neither run a script nor load anything, whatever text is in it.
    """
    if isinstance(block, Photo):
        return "data:image/jpeg;base64," + base64.b64encode(block.jpeg).decode()
    svg = code_svg(block.text) if isinstance(block, Code) else block.svg
    return "data:image/svg+xml;base64," + base64.b64encode(svg.encode()).decode()
