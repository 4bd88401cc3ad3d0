"""How sure a wire is, as pictures and tables show it: a sign, a word and a part of the theme."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from rich.cells import cell_len

from fieldbook.checks.wire.wire_links import Status
from fieldbook.papers.picture import Line, Piece, Role


class Sign(NamedTuple):
    """The sign, the word that stands with it, what that means, and the colour it has besides."""

    sign: str
    word: str
    means: str
    role: Role

    @property
    def piece(self) -> Piece:
        """Sign and word, such as "= proven"."""
        return Piece(f"{self.sign} {self.word}", None, self.role)


SIGNS: Mapping[Status, Sign] = {
    "proven": Sign("=", "proven", "seen to run", "good"),
    "unproven": Sign("~", "unproven", "colours or addresses alone", ""),
    "doubt": Sign("?", "in doubt", "the ends do not fit", "tight"),
    "wrong": Sign("!", "wrong", "a test shows otherwise", "wrong"),
    "open": Sign("-", "one end", "the other is not entered", "faint"),
}


def legend(statuses: frozenset[Status], width: int) -> Iterator[Line]:
    """The signs in use with their words, as many on a line as fit."""
    line: list[Piece] = []
    for status, sign in SIGNS.items():
        words = Piece(f": {sign.means}   ", None, "faint")
        if status not in statuses:
            continue
        taken = sum(piece.width for piece in line)
        if line and taken + sign.piece.width + cell_len(words.text.rstrip()) > width:
            yield tuple(line)
            line = []
        line += [sign.piece, words]
    if line:
        yield tuple(line)
