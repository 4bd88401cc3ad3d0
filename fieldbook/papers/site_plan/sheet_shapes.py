"""What the sheet of the plan is made of, as SVG: signs, lines, and text of a known width."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape

from fieldbook.papers.site_plan.label_places import Box, Point
from fieldbook.papers.site_plan.plan import MarkKind
from fieldbook.papers.text_widths import text_width

INK, GRAY = "#000000", "#555555"
SMALL, NORMAL, LARGE = 9.5, 11.0, 16.0
"""Sizes of text in units of the drawing."""
LEADING = 1.25
REACH = 6.0
"""How far a mark reaches from its middle."""


def small_width(text: str) -> float:
    """The width of a text of the smallest size."""
    return text_width(text, SMALL)


def draw_shape(kind: MarkKind, at: Point) -> str:
    """The sign of a mark, the same on the map and in the legend."""
    x, y = at
    r = REACH - 1
    white = f'fill="#ffffff" stroke="{INK}" stroke-width="1.4"'
    match kind:
        case "corner":
            return f'<path d="M{x:.1f} {y - r:.1f}L{x + r:.1f} {y + r:.1f}H{x - r:.1f}Z"/>'
        case "box":
            return f'<rect x="{x - r:.1f}" y="{y - r:.1f}" width="{2 * r:g}" height="{2 * r:g}"/>'
        case "head":
            return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{r - 1:g}" {white}/>'
        case "end":
            return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{r - 2:g}"/>'
        case "splice":
            way = f"M{x - r:.1f} {y - r:.1f}l{2 * r:g} {2 * r:g}m0 {-2 * r:g}l{-2 * r:g} {2 * r:g}"
            return f'<path d="{way}" stroke="{INK}" stroke-width="2"/>'
        case "other":
            way = f"M{x:.1f} {y - r:.1f}l{r:g} {r:g}l{-r:g} {r:g}l{-r:g} {-r:g}Z"
            return f'<path d="{way}" {white}/>'


def draw_label(box: Box, text: str, size: float, *, bold: bool) -> Iterator[str]:
    """A text on white, so that the lines behind it do not run through it."""
    wide, high = box.right - box.left, box.bottom - box.top
    yield (
        f'<rect x="{box.left:.1f}" y="{box.top:.1f}" width="{wide:.1f}" height="{high:.1f}" '
        'fill="#ffffff"/>'
    )
    inset = (wide - text_width(text, size)) / 2
    yield from draw_text(box.left + inset, box.top + size, text, size, bold=bold)


def draw_line(start: Point, end: Point, style: str) -> str:
    """A straight line; `style` holds its attributes, such as 'stroke-width="3"'."""
    stroke = "" if "stroke=" in style else f'stroke="{INK}" '
    (x, y), (to_x, to_y) = start, end
    return f'<path d="M{x:.1f} {y:.1f}L{to_x:.1f} {to_y:.1f}" {stroke}{style}/>'


def draw_text(
    x: float, baseline: float, text: str, size: float, *, bold: bool = False, most: float = 9999.0
) -> Iterator[str]:
    """A text as wide as `text_width` says, or squeezed to `most`."""
    if text.strip():
        weight = ' font-weight="bold"' if bold else ""
        length = min(text_width(text, size), most)
        yield (
            f'<text x="{x:.1f}" y="{baseline:.1f}" font-size="{size:g}"{weight} '
            f'textLength="{length:.1f}" lengthAdjust="spacingAndGlyphs">{escape(text)}</text>'
        )
