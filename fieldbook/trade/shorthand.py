"""How crews write sizes and nozzles: 1 1/4, 1.25 or 1 1/4" for a size, 15H for a nozzle.

A nozzle's letters say how much of a circle it waters and the number before them its radius in
feet: 15H waters a half circle of 15 ft (trade shorthand; from memory, no source).
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from fieldbook.units import straight

ARCS_DEG: Mapping[str, float] = {
    "Q": 90.0,
    "T": 120.0,
    "H": 180.0,
    "TT": 240.0,
    "TQ": 270.0,
    "F": 360.0,
}
"""Degrees watered: quarter, third, half, two thirds, three quarters, full (from memory)."""
NOZZLE_EXAMPLE = "15H: radius 15 ft, half a circle"
LARGEST_RADIUS_FT = 200.0
"""The longest radius that the record takes for a sprinkler head."""

_INCHES = re.compile(r"(?:\s*(?:\"|in\.?|inch|inches))?", re.I)
_SIZE = re.compile(
    r"(?:(\d{1,2})(?:\s*-\s*|\s+))?(\d{1,2})/(\d{1,2})|(\d{1,2}(?:\.\d{1,4})?|\.\d{1,4})"
)
_NOZZLE = re.compile(r"(\d{1,3}(?:\.\d)?)\s*-?\s*(TT|TQ|[QTHF])", re.I)
_LIKE_NOZZLE = re.compile(r"\d{1,3}(?:\.\d+)?\s*-?\s*[a-z]{1,2}", re.I)


@dataclass(frozen=True)
class Nozzle:
    """What a nozzle's shorthand says: its radius in ft, and the arc it waters in degrees."""

    radius_ft: float
    arc_deg: float


def read_size(text: str) -> Fraction | None:
    """A nominal size in inches from 1 1/4, 1-1/4, 1.25, 1 1/4" or 1-1/4 in; None for any other."""
    text = straight(text)
    match = _SIZE.match(text)
    if match is None or not _INCHES.fullmatch(text[match.end() :]):
        return None
    whole, top, under, plain = match.groups()
    if plain is not None:
        return Fraction(plain)
    # 11/4 is more likely a slip for 1 1/4 than a size of 2-3/4: it is not guessed at.
    if int(under) == 0 or int(top) >= int(under):
        return None
    return int(whole or 0) + Fraction(int(top), int(under))


def size_among(text: str, sizes: Iterable[str]) -> str | None:
    """The one of these nominal sizes that was typed in any of the ways of `read_size`."""
    known, wanted = list(sizes), read_size(text)
    # A list of whole numbers, such as wire gauges, is no list of sizes in inches.
    if wanted is None or not any("/" in size for size in known):
        return None
    return next((size for size in known if read_size(size) == wanted), None)


def read_nozzle(text: str) -> Nozzle | None:
    """The nozzle that was typed, such as 15H or 12 tq; None for any other text."""
    match = _NOZZLE.fullmatch(text.strip())
    if match is None or not 0 < float(match[1]) <= LARGEST_RADIUS_FT:
        return None
    return Nozzle(float(match[1]), ARCS_DEG[match[2].upper()])


def looks_like_nozzle(text: str) -> bool:
    """Whether a text is a number and a letter or two, so that a nozzle was probably meant."""
    return _LIKE_NOZZLE.fullmatch(text.strip()) is not None


def write_nozzle(nozzle: Nozzle) -> str:
    """The shorthand of a nozzle, such as 15H; an empty text where no letters stand for its arc."""
    letters = next((word for word, arc in ARCS_DEG.items() if arc == nozzle.arc_deg), "")
    return f"{nozzle.radius_ft:g}{letters}" if letters else ""
