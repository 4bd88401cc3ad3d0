"""A paper as a PDF, set by Typst, which comes as one wheel and needs no program of the system.

The PDF is tagged for screen readers as PDF/UA-1 (ISO 14289-1) asks.
"""

from __future__ import annotations

import json
from dataclasses import asdict
from functools import cache
from importlib.resources import files
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Literal

from fieldbook.papers.paper import Block, Cell, Code, Figure, Paper, Photo, Swatch, Table, Tags
from fieldbook.papers.printing.codes import code_svg
from fieldbook.papers.printing.printed_words import printed_words

if TYPE_CHECKING:
    from typst import Fonts

# Typst is an extra of 34 MB: it is imported when a PDF is asked for.
# ruff: noqa: PLC0415

Size = Literal["us-letter", "a4"]
_SERIF = "Libertinus Serif"
"""Comes with Typst, so that a page looks alike on every laptop."""
_SHORT, _LONG = 22, 90
"""Characters of a cell up to which a column is short, and beyond which none gets more room."""


class NoTypesettingError(Exception):
    """The package that sets PDFs is not installed."""


def pdf_page(paper: Paper, size: Size) -> bytes:
    """The PDF; raises NoTypesettingError where Typst is not installed."""
    try:
        import typst
    except ImportError as error:
        raise NoTypesettingError(
            "PDF needs the package typst: install it with pip install 'fieldbook[pdf]'. "
            "The HTML pages print as well."
        ) from error
    pictures: dict[str, bytes] = {}
    blocks = [_as_data(block, pictures) for block in paper.blocks]
    data = {
        "title": paper.title,
        "lines": paper.lines,
        "language": paper.language,
        "size": size,
        "font": _SERIF,
        "words": printed_words(paper.language),
        "blocks": blocks,
    }
    template = files("fieldbook.papers.printing").joinpath("templates/paper.typ").read_bytes()
    contents = {"paper.typ": template, "paper.json": json.dumps(data).encode(), **pictures}
    # Typst reads pictures from a folder; `root` keeps it from reading anything beside that.
    with TemporaryDirectory(prefix="fieldbook-pdf-") as folder:
        for name, content in contents.items():
            Path(folder, name).write_bytes(content)
        main = str(Path(folder, "paper.typ"))
        return typst.compile(
            main, root=folder, format="pdf", font_paths=_fonts(), pdf_standards="ua-1"
        )


@cache
def _fonts() -> Fonts:
    """Only the typefaces that come with Typst: looking through a laptop's own takes seconds."""
    import typst

    return typst.Fonts(include_system_fonts=False)


def _as_data(block: Block, pictures: dict[str, bytes]) -> dict[str, object]:
    """A block as JSON, with its pictures put among the files."""
    data: dict[str, object] = {"block": type(block).__name__}
    if isinstance(block, Figure | Photo | Code):
        return data | {"file": _kept(block, pictures), "alt": _alt(block), "caption": block.caption}
    if isinstance(block, Tags):
        tags = [
            {
                "title": tag.title,
                "lines": [_cell(line) for line in tag.lines],
                "file": _kept(tag.code, pictures) if tag.code else None,
                "caption": tag.code.caption if tag.code else "",
            }
            for tag in block.tags
        ]
        return data | {"tags": tags}
    if isinstance(block, Table):
        data["widths"] = _widths(block)
    return data | {
        name: sorted(value) if isinstance(value, frozenset) else value
        for name, value in asdict(block).items()
    }


def _widths(table: Table) -> list[int]:
    """The share of the width that each column gets; 0 is as wide as its longest cell.

    Short columns keep their width. Where none is long, the last column of words is stretched.
    """
    columns = zip(table.headers, *table.rows, strict=True)
    longest = [max(len(_text(cell)) for cell in column) for column in columns]
    shares = [0 if most <= _SHORT else min(most, _LONG) for most in longest]
    if not any(shares):
        words = [index for index in range(len(shares)) if index not in table.right]
        shares[words[-1] if words else -1] = 1
    return shares


def _text(cell: Cell) -> str:
    return cell.word if isinstance(cell, Swatch) else cell


def _cell(cell: object) -> object:
    """A cell as JSON: text as it is, a swatch as its fields."""
    return cell if isinstance(cell, str) else asdict(cell)  # type: ignore[call-overload]


def _alt(block: Figure | Photo | Code) -> str:
    return block.text if isinstance(block, Code) else block.alt


def _kept(block: Figure | Photo | Code, pictures: dict[str, bytes]) -> str:
    ending, content = "svg", b""
    if isinstance(block, Photo):
        ending, content = "jpg", block.jpeg
    else:
        svg = code_svg(block.text) if isinstance(block, Code) else block.svg
        content = svg.encode()
    name = f"picture-{len(pictures)}.{ending}"
    pictures[name] = content
    return name
