"""Whether painted text can be read: the contrast of every word with its background."""

from __future__ import annotations

from collections.abc import Iterator

from crew import Crew
from rich.color import Color, ColorType
from rich.segment import Segment
from textual.command import CommandPalette
from textual.geometry import Region


def in_front(crew: Crew) -> Region:
    """The part of the screen that can be read: all of it, or the palette over a dimmed screen."""
    if isinstance(crew.app.screen, CommandPalette):
        return crew.app.screen.query_one("#--container").region
    return crew.app.screen.region


def painted(crew: Crew) -> Iterator[Segment]:
    """Every painted segment of the part that can be read."""
    region = in_front(crew)
    strips = crew.app.screen._compositor.render_strips()
    for strip in strips[region.y : region.bottom]:
        yield from strip.crop(region.x, region.right)


def contrast(front: tuple[int, int, int], back: tuple[int, int, int]) -> float:
    """Contrast ratio of WCAG 2.2, 1.4.3: (L1 + 0.05) / (L2 + 0.05)."""

    def luminance(rgb: tuple[int, int, int]) -> float:
        parts = [one / 255 for one in rgb]
        red, green, blue = (
            one / 12.92 if one <= 0.04045 else ((one + 0.055) / 1.055) ** 2.4 for one in parts
        )
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    one, other = luminance(front), luminance(back)
    return (max(one, other) + 0.05) / (min(one, other) + 0.05)


def rgb(colour: Color | None) -> tuple[int, int, int]:
    """The colour of a segment as RGB; it must be set, or the terminal would choose it."""
    assert colour is not None
    assert colour.type is ColorType.TRUECOLOR
    triplet = colour.get_truecolor()
    return triplet.red, triplet.green, triplet.blue


def legible(segment: Segment) -> bool:
    """Whether a segment has a contrast of 4.5:1, or has no text."""
    if not any(char.isalnum() for char in segment.text):
        return True
    assert segment.style is not None
    front, back = rgb(segment.style.color), rgb(segment.style.bgcolor)
    if segment.style.reverse:
        front, back = back, front
    return contrast(front, back) >= 4.5
