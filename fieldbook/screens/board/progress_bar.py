"""The board's bar of the five places, what runs out, and both in words. Light to import."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import TYPE_CHECKING

from textual.content import Content

from fieldbook.languages.in_use import say

if TYPE_CHECKING:
    from fieldbook.actions.board.board_row import BoardRow, PlaceState

BAR_WIDTH, WIDE_BAR = 6, 9
"""Five cells and room for the head, which is "Places"; and five cells with gaps between them."""
_NAMES = ("street", "boxes", "ground", "controller", "desk")
_CELLS: Mapping[PlaceState, tuple[str, str]] = {
    "nothing": ("·", "$secondary"),
    "begun": ("▄", "$warning bold"),
    "done": ("■", "$success bold"),
}
"""The glyph of each state and its style: the glyphs alone tell them apart, in any font."""
_SOON_DAYS, _FAR_DAYS = 7, 99

COLUMN_HELP = (
    "Places: one sign for each of street, valve boxes, ground, controller and desk.\n"
    "  ·  Nothing is entered there.\n"
    "  ▄  Begun, or a stop or fix stands there.\n"
    "  ■  Nothing is left to enter there.\n"
    "Next: the next thing to do.\n"
    "Runs out: the days until the first of these ends or falls due: marks of the locate ticket, "
    "permit, licence, test of the backflow assembly.\n"
    "Flags: what the checks found wrong (!), only noted (-) or lack an entry for (?). A stop: do "
    "not bury, do not energise.\n"
    "Open: how many checks are due and lack an entry; a wide screen says Not checked.\n"
    "Flushed: how many zones are flushed in every step."
)
"""What `?` says of the board's columns."""


def bar(row: BoardRow, width: int = BAR_WIDTH) -> Content:
    """A cell for each place: "·" nothing entered, "▄" begun, "■" done; "…" while not known."""
    if not row.known or not row.places:
        return Content("…".ljust(width))
    gap = Content(" " if width >= WIDE_BAR else "")
    cells = gap.join([Content.styled(*_CELLS[state]) for state in row.places])
    return cells + " " * (width - len(cells.plain))


def runs_out(row: BoardRow, today: date, *, named: bool) -> tuple[str, str]:
    """What runs out first and when, with its style; `named` says what it is too.

    "-" where nothing does within 99 days.
    """
    ends = row.runs_out
    if not row.known:
        return "…", ""
    if ends is None or ends.days(today) > _FAR_DAYS:
        return "-", ""
    days = ends.days(today)
    style = "$error bold" if days < 0 else "$warning bold" if days <= _SOON_DAYS else ""
    what = "test" if ends.is_test else ends.what
    when = say(ends.when(today))
    return f"{say(what)} {when}" if named else when, style


def in_words(row: BoardRow, today: date) -> str:
    """What runs out and how far the places are: "Ticket runs out today. Done: street."."""
    if not row.known:
        return ""
    ends = row.runs_out
    parts = [ends.sentence(today)] if ends is not None and ends.days(today) <= _FAR_DAYS else []
    for state, said in (("done", "Done"), ("begun", "Begun")):
        names = [name for name, is_at in zip(_NAMES, row.places, strict=False) if is_at == state]
        if names:
            parts.append(f"{said}: {', '.join(names)}")
    return " ".join(f"{part}." for part in parts)
