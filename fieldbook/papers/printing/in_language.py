"""A paper in another language: what its blocks say, and the words in its pictures.

Papers put their own sentences into the language while they are made. What they show of the checks
and the drawings is English until here: it is looked up as it stands, also as a sentence with
blanks. What is entered, and a citation, is in no catalogue and stays as it is.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import fields, is_dataclass, replace
from html import escape, unescape
from typing import TypeVar, cast

from fieldbook.languages.in_use import speaking
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.paper import Code, Figure, Paper, Paragraph, Swatch

Say = Callable[[str], str]
_T = TypeVar("_T")
_KEPT = {
    Paper: ("name", "language"),
    Paragraph: ("kind",),
    Swatch: ("base", "stripe"),
    Figure: ("svg",),
    Code: ("text",),
}
"""What is no word: names of files, colours of a screen; what a code holds is made in words."""
_IN_SVG = re.compile(r'(?<=>)[^<>]+(?=</text>)|(?<=aria-label=")[^"]*')


def in_language(paper: Paper, say: Say) -> Paper:
    """The paper with every word of ours as `say` has it."""
    return _said(paper, say)


def in_its_language(
    source: PaperSource, make: Callable[[PaperSource], Iterable[Paper]]
) -> list[Paper]:
    """The papers that `make` makes, with their pictures, in the language of their source."""
    with speaking(source.language, source.entered):
        return [in_language(paper, source.shown) for paper in make(source)]


def _said(part: _T, say: Say) -> _T:
    """A block, or a part of one, with each text in it said; pictures in bytes stay."""
    if isinstance(part, str):
        return cast(_T, say(part))
    if isinstance(part, tuple):
        return cast(_T, tuple(_said(one, say) for one in part))
    if not is_dataclass(part) or isinstance(part, type):
        return part
    said = {
        field.name: _said(getattr(part, field.name), say)
        for field in fields(part)
        if field.name not in _KEPT.get(type(part), ())
    }
    if isinstance(part, Figure):
        said["svg"] = _IN_SVG.sub(lambda found: _escaped(found[0], say), part.svg)
    return replace(part, **said)


def _escaped(text: str, say: Say) -> str:
    """A text of an SVG document; it keeps its length there, also where its words are longer."""
    return escape(say(unescape(text)), quote=True)
