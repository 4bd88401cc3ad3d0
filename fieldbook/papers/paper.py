"""A paper as blocks: headings, facts, tables, pictures, codes and lines to sign on.

A paper says what is on it; `printing` draws it as one HTML page or as a PDF. Text in a block is
plain text from the record: printing escapes it, and nothing in it is markup.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from fieldbook.languages.language_texts import Language


@dataclass(frozen=True)
class Swatch:
    """A colour with its word: `base` and `stripe` are "#rrggbb"; no stripe is None."""

    word: str
    base: str
    stripe: str | None = None


Cell = str | Swatch
"""What stands in one cell of a table, or is the value of a fact."""


@dataclass(frozen=True)
class Heading:
    """The title of a section."""

    text: str


@dataclass(frozen=True)
class Paragraph:
    """A few plain sentences; `kind` "source" is set small, as where a figure is from."""

    text: str
    kind: Literal["text", "source"] = "text"


@dataclass(frozen=True)
class Caution:
    """What may hurt someone, with its source."""

    text: str
    source: str = ""


@dataclass(frozen=True)
class Facts:
    """Labels with their values, in two columns."""

    rows: tuple[tuple[str, Cell], ...]


@dataclass(frozen=True)
class Table:
    """Rows under headers; `right` are the columns of numbers, counted from 0.

    `empty` is the sentence that stands instead where there is no row.
    """

    headers: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    right: frozenset[int] = frozenset()
    empty: str = "Nothing is recorded."


@dataclass(frozen=True)
class Checklist:
    """Things to do or to see, each with a box to tick by hand; `done` are ticked already."""

    items: tuple[str, ...]
    done: frozenset[int] = frozenset()


@dataclass(frozen=True)
class Figure:
    """A picture as an SVG document, with what it shows in words for those who can't see it."""

    svg: str
    alt: str
    caption: str = ""


@dataclass(frozen=True)
class Photo:
    """A photograph as the bytes of a JPEG."""

    jpeg: bytes
    alt: str
    caption: str = ""


@dataclass(frozen=True)
class Code:
    """A QR code that holds plain text; it needs no network to be read."""

    text: str
    caption: str


@dataclass(frozen=True)
class Signatures:
    """A line to sign on, with a date, for each of these people."""

    people: tuple[str, ...]


@dataclass(frozen=True)
class Tag:
    """A card to cut out, such as the tag of a valve box."""

    title: str
    lines: tuple[Cell, ...]
    code: Code | None = None


@dataclass(frozen=True)
class Tags:
    """Cards to cut out, several on a sheet of paper."""

    tags: tuple[Tag, ...]


@dataclass(frozen=True)
class NewPage:
    """What follows begins on a new page."""


Block = (
    Heading
    | Paragraph
    | Caution
    | Facts
    | Table
    | Checklist
    | Figure
    | Photo
    | Code
    | Signatures
    | Tags
    | NewPage
)


@dataclass(frozen=True)
class Paper:
    """One paper. `name` is its file name without an ending; `lines` stand under the title."""

    name: str
    title: str
    lines: tuple[str, ...]
    blocks: tuple[Block, ...]
    language: Language = "en"


def joined(name: str, title: str, lines: tuple[str, ...], papers: tuple[Paper, ...]) -> Paper:
    """Several papers as one, each on a page of its own under its title; all in one language."""
    blocks: list[Block] = []
    for paper in papers:
        blocks += [NewPage(), Heading(paper.title), *paper.blocks]
    return Paper(name, title, lines, tuple(blocks[1:]), papers[0].language)
