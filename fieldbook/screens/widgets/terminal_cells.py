"""What fits into the cells of a terminal: texts of an exact width, colour swatches. No Textual."""

from __future__ import annotations

from rich.cells import cell_len, set_cell_size

from fieldbook.trade.colours import pattern

_WIDEST_PAGE, _PAGE_FRAME = 106, 7
"""A page's width in style.tcss, and what its border, padding and scrollbar take of that."""
_NEAR_BLACK, _NEAR_WHITE = 0x30, 0xE0
_GRAY = "#8c8c8c"


def fit(text: str, width: int) -> str:
    """Exactly `width` terminal cells of the text, with an ellipsis where it is cut."""
    # len() is wrong here: a Chinese character takes two cells, a combining accent none.
    if cell_len(text) <= width:
        return set_cell_size(text, width)
    return set_cell_size(text, width - 1) + "…" if width > 1 else set_cell_size(text, width)


def right(text: str, width: int) -> str:
    """Exactly `width` terminal cells, the text at their right end, as figures stand in a column."""
    return " " * (width - cell_len(text)) + text if cell_len(text) <= width else fit(text, width)


def page_width(terminal: int) -> int:
    """How many cells a page's text has on a terminal `terminal` cells wide."""
    return min(terminal, _WIDEST_PAGE) - _PAGE_FRAME


def blocks(swatch: tuple[str, str | None]) -> list[tuple[str, str, str]]:
    """A swatch (base and stripe, as #rrggbb) as two blocks: character, colour, colour behind it.

    The second block has the stripe's colour; without a stripe, a pattern that belongs to the base
    colour alone. Near black and near white are hatched over gray, to show on either theme.
    """
    base, stripe = swatch
    return [_block(base), _block(stripe) if stripe else (pattern(base), base, _GRAY)]


def _block(colour: str) -> tuple[str, str, str]:
    levels = [int(colour[start : start + 2], 16) for start in (1, 3, 5)]
    hatched = max(levels) < _NEAR_BLACK or min(levels) > _NEAR_WHITE
    return ("▓", colour, _GRAY) if hatched else ("█", colour, colour)
