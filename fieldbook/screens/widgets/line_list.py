"""A list whose highlight stops at both ends, and the words of a list that fit what is typed."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from rich.segment import Segment
from rich.style import Style
from textual.strip import Strip
from textual.widgets import OptionList

_MARK = "> "
Reads = Callable[[str], str | None]
"""Gives the word of a list that a typed text means though it is written otherwise, or None."""


class LineList(OptionList):
    """A list that stops at both ends, its highlighted line marked and in one colour.

    Textual's own goes on at its other end: a key held down then never comes to rest. Its highlight
    is a tint, which is not seen in glare, and leaves the colours of words as they are.
    """

    def render_line(self, y: int) -> Strip:
        """Draw a line; the highlighted one, while keys come here, with a mark before it."""
        strip = super().render_line(y)
        style = self.get_component_rich_style("option-list--option-highlighted")
        if not self.has_focus or not _is_drawn_on(strip, style):
            return strip
        own = Style(color=style.color, bgcolor=style.bgcolor, bold=True)
        # Added to what is there: a click finds its line by the meta data of the style.
        whole = Strip([Segment(part.text, (part.style or own) + own) for part in strip])
        if y > 0 and _is_drawn_on(super().render_line(y - 1), style):
            return whole
        marked = Segment(_MARK, next(iter(whole)).style)
        return Strip.join([Strip([marked]), whole.crop(len(_MARK))])

    def action_cursor_down(self) -> None:
        """Down, as far as the last line."""
        if self.highlighted is None or self.highlighted + 1 < self.option_count:
            super().action_cursor_down()

    def action_cursor_up(self) -> None:
        """Up, as far as the first line."""
        if self.highlighted is None or self.highlighted > 0:
            super().action_cursor_up()

    def action_page_down(self) -> None:
        """Down by a page; nothing while the list has no room, as Textual then knows no lines."""
        if self.scrollable_content_region:
            super().action_page_down()  # type: ignore[no-untyped-call]

    def action_page_up(self) -> None:
        """Up by a page; nothing while the list has no room."""
        if self.scrollable_content_region:
            super().action_page_up()  # type: ignore[no-untyped-call]


def _is_drawn_on(strip: Strip, style: Style) -> bool:
    """Whether a line has the background of the highlight."""
    first = next(iter(strip), None)
    return first is not None and first.style is not None and first.style.bgcolor == style.bgcolor


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
