"""A list whose highlight stops at both ends, and the words of a list that fit what is typed."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from textual.widgets import OptionList

Reads = Callable[[str], str | None]
"""Gives the word of a list that a typed text means though it is written otherwise, or None."""


class LineList(OptionList):
    """Textual's own list goes on at its other end: a key held down then never comes to rest."""

    def action_cursor_down(self) -> None:
        """Down, as far as the last line."""
        if self.highlighted is None or self.highlighted + 1 < self.option_count:
            super().action_cursor_down()

    def action_cursor_up(self) -> None:
        """Up, as far as the first line."""
        if self.highlighted is None or self.highlighted > 0:
            super().action_cursor_up()


def fitting_lines(words: Sequence[str], typed: str, reads: Reads | None = None) -> list[int]:
    """The indexes of the words that fit what is typed, the likeliest first.

    First the word that is meant, then those that begin with it, then those with a part that does,
    then those that hold it anywhere.
    """
    wanted = typed.strip().casefold()
    meant = reads(typed) if reads is not None and wanted else None

    def rank(word: str) -> int | None:
        folded = word.casefold()
        tests = (
            folded == wanted or word == meant,
            folded.startswith(wanted),
            any(part.startswith(wanted) for part in folded.replace("/", " ").split()),
            wanted in folded,
        )
        return next((no for no, met in enumerate(tests) if met), None)

    ranked = [(rank(word), no) for no, word in enumerate(words)]
    return [no for _, no in sorted((place, no) for place, no in ranked if place is not None)]
