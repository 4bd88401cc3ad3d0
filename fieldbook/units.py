"""The only place where other units are converted to ours and back.

Inside the program and in the book a quantity is a float in the trade's unit (psi, gpm, ft, in,
ohm, V, A, minutes, degrees, gal). This module reads what a person types ("62", "3.1 bar",
"18 ft 6 in") into that unit and writes it back for a job shown in US or metric units.
Factors: NIST Special Publication 811, Appendix B (psi, gallon, foot, inch); 231 in3 a gallon.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from typing import Literal, NamedTuple

System = Literal["us", "metric"]

_KPA = 6.894757293168361
_LITRE = 3.785411784
_M = 0.3048
PSI_PER_FT = 0.433
"""psi in one foot of water (International Plumbing Code, Appendix E, E103.2.2)."""


class UnitError(ValueError):
    """One plain sentence that says what was wrong with a typed quantity."""


class Measure(NamedTuple):
    """A kind of quantity: our unit, the metric unit shown, and every unit that may be typed.

    `factors` maps the spelling of a unit to how many of our unit it is. A quantity is written with
    `decimals` places in our unit, with `metric_decimals` in the metric one.
    """

    name: str
    ours: str
    metric: str
    factors: Mapping[str, float]
    decimals: int = 2
    metric_decimals: int = 2

    def unit(self, system: System) -> str:
        """The unit that a job of this system shows and expects."""
        return self.metric if system == "metric" else self.ours


PRESSURE = Measure(
    "pressure",
    "psi",
    "bar",
    {
        "psi": 1.0,
        "kpa": 1 / _KPA,
        "bar": 100 / _KPA,
        "mbar": 0.1 / _KPA,
        "mpa": 1000 / _KPA,
        "ft head": PSI_PER_FT,
        "m head": PSI_PER_FT / _M,
    },
    1,
    2,
)
FLOW = Measure(
    "flow",
    "gpm",
    "L/min",
    {
        "gpm": 1.0,
        "gph": 1 / 60,
        "l/min": 1 / _LITRE,
        "lpm": 1 / _LITRE,
        "l/s": 60 / _LITRE,
        "l/h": 1 / _LITRE / 60,
        "m3/h": 1000 / 60 / _LITRE,
    },
    2,
    2,
)
_FEET = {"ft": 1.0, "'": 1.0, "in": 1 / 12, '"': 1 / 12, "m": 1 / _M, "cm": 0.01 / _M}
LENGTH = Measure("length", "ft", "m", {**_FEET, "mm": 0.001 / _M, "yd": 3.0}, 2, 3)
SHORT_LENGTH = Measure(
    "short length",
    "in",
    "mm",
    {"in": 1.0, '"': 1.0, "ft": 12.0, "'": 12.0, "mm": 1 / 25.4, "cm": 1 / 2.54, "m": 100 / 2.54},
    2,
    1,
)
RESISTANCE = Measure("resistance", "ohm", "ohm", {"ohm": 1.0, "ohms": 1.0, "kohm": 1000.0}, 1, 1)
VOLTAGE = Measure("voltage", "V", "V", {"v": 1.0, "vac": 1.0, "mv": 0.001}, 1, 1)
CURRENT = Measure("current", "A", "A", {"a": 1.0, "ma": 0.001}, 3, 3)
HOURS = Measure("time", "h", "h", {"h": 1.0, "hr": 1.0, "min": 1 / 60}, 1, 1)
MINUTES = Measure(
    "time", "min", "min", {"min": 1.0, "s": 1 / 60, "sec": 1 / 60, "h": 60.0, "hr": 60.0}, 1, 1
)
SECONDS = Measure("time", "s", "s", {"s": 1.0, "sec": 1.0, "min": 60.0}, 1, 1)
ANGLE = Measure("angle", "deg", "deg", {"deg": 1.0, "°": 1.0}, 0, 0)
COORDINATE = Measure("coordinate", "deg", "deg", {"deg": 1.0, "°": 1.0}, 6, 6)
"""Latitude or longitude: a sixth decimal is about 4 in."""
RATIO = Measure("number", "", "", {"": 1.0}, 2, 2)
_CFM = {"cfm": 1.0, "scfm": 1.0, "l/s": 1 / 0.4719474, "m3/h": 0.5885778}
AIR_VOLUME = Measure("volume of air", "ft³", "L", {"ft³": 1.0, "l": 1 / 28.316847}, 2, 0)
"""1 ft3 is 28.316847 L (NIST Special Publication 811)."""
AIR_FLOW = Measure("flow of air", "cfm", "L/s", _CFM, 1, 1)
"""Free air: 1 ft3/min is 0.4719474 L/s (NIST Special Publication 811)."""
PRICE = Measure("price", "", "", {"": 1.0}, 2, 2)
"""Money in the currency of the firm's price list, which names none."""
VELOCITY = Measure("velocity", "ft/s", "m/s", {"ft/s": 1.0, "m/s": 1 / _M}, 1, 2)
RATE = Measure("rate", "in/h", "mm/h", {"in/h": 1.0, "mm/h": 1 / 25.4, "cm/h": 1 / 2.54}, 2, 1)
"""How fast water falls on the ground: precipitation, intake."""
WIND = Measure(
    "wind",
    "mph",
    "km/h",
    {"mph": 1.0, "km/h": 1 / 1.609344, "m/s": 3.6 / 1.609344, "kn": 1.852 / 1.609344},
    1,
    1,
)
CATCH = Measure("catch", "mL", "mL", {"ml": 1.0, "cc": 1.0, "l": 1000.0}, 1, 1)
"""What a catch can holds; measuring cans are marked in mL everywhere."""
VOLUME = Measure("volume", "gal", "L", {"gal": 1.0, "l": 1 / _LITRE, "qt": 0.25}, 2, 1)

AREA = Measure(
    "area",
    "ft²",
    "m²",
    {"ft²": 1.0, "sqft": 1.0, "acre": 43560.0, "acres": 43560.0, "m²": 1 / _M**2, "sqm": 1 / _M**2},
    0,
    1,
)
EMITTER_FLOW = Measure(
    "emitter flow",
    "gph",
    "L/h",
    {"gph": 1.0, "gpm": 60.0, "l/h": 1 / _LITRE, "lph": 1 / _LITRE, "l/min": 60 / _LITRE},
    2,
    2,
)
WATERING_RATE = Measure("rate", "in/h", "mm/h", {"in/h": 1.0, "mm/h": 1 / 25.4}, 2, 1)

# Both patterns are compiled when first used, by `re` itself: the solver imports this module for a
# constant, and compiling would take most of its time.
_PART = (
    r"(?i)\s*([+-]?)\s*(?:(\d+)[ -](\d+)/(\d+)|(\d+)/(\d+)|(\d+(?:\.\d*)?|\.\d+)(e[+-]?\d+)?)\s*"
)
_SPELLINGS = {"feet": "ft", "foot": "ft", "inch": "in", "inches": "in", "metres": "m", "ω": "ohm"}
_STRAIGHT = {"\u2019": "'", "\u2032": "'", "\u201d": '"', "\u2033": '"', "''": '"', "\u2044": "/"}
_STRAIGHT |= {"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8"}
"""Marks and fractions as some keyboards and spreadsheets write them, and how they are read."""
_FEET_WORDS = ("'", "ft", "feet", "foot")
_INCHES_IN_FOOT = 12
_DRAWN_INCHES = r"^-\s*(?=\d)"
"""The dash of 12'-6", as drawings write feet and inches: it is no minus."""
_LONGEST = 60


def parse(text: str, measure: Measure, system: System = "us") -> float:
    """Read a typed quantity into our unit of `measure`.

    A number without a unit is in the unit that the job's system shows. Lengths may be compound
    ("18 ft 6 in", 18'6", 18' 6, 18'-6") or fractional ("3/4 in", "1-1/2 in", 6½ in).
    Raises UnitError with one sentence that names the unit expected.
    """
    wanted = f"a {measure.name} such as {_example(measure, system)}"
    if len(text) > _LONGEST:
        raise UnitError(f"That is too long for {wanted}.")
    if not text.strip():
        raise UnitError(f"Type {wanted}.")
    if measure in (AREA, AIR_VOLUME):
        # A unit ends before a digit elsewhere, as in 12'6.
        text = text.replace("ft2", "ft²").replace("m2", "m²").replace("ft3", "ft³")
    parts = _parts(text, wanted)
    if len(parts) > 1 and measure not in (LENGTH, SHORT_LENGTH):
        raise UnitError(f"“{text.strip()}” holds more than one number: type {wanted}.")
    sign = -1.0 if parts[0].negative else 1.0
    total = sum(part.number * _factor(part.unit, measure, system) for part in parts)
    return finite(sign * total, wanted)


class _Part(NamedTuple):
    """One number of a typed quantity, whether it carried a minus, and its unit as it was typed."""

    number: float
    negative: bool
    unit: str


def _parts(text: str, wanted: str) -> list[_Part]:
    """The numbers of a quantity with their units; of several each needs its own."""
    parts: list[_Part] = []
    rest = straight(text)
    while rest:
        part, rest = _part(text, rest, parts[0].unit if len(parts) == 1 else "", wanted)
        if part.negative and parts:
            raise UnitError(f"“{text.strip()}” has a sign in the middle: type {wanted}.")
        if not part.unit and (parts or rest):
            raise UnitError(f"“{text.strip()}” has a number without its unit: type {wanted}.")
        parts.append(part)
    return parts


def _part(text: str, rest: str, before: str, wanted: str) -> tuple[_Part, str]:
    """The next number with its unit, and what follows; `before` is the unit of a first part."""
    if before == "'":
        rest = re.sub(_DRAWN_INCHES, "", rest)
    match = re.match(_PART, rest)
    if match is None:
        raise UnitError(f"“{text.strip()}” is not {wanted}.")
    number, negative = _number(match, text, wanted)
    unit, rest = _take_unit(rest[match.end() :])
    if not (unit or rest) and before in _FEET_WORDS and number < _INCHES_IN_FOOT:
        # 12' 6 is 12 ft 6 in: nobody writes feet and then a bare number of anything else.
        unit = "in"
    return _Part(number, negative, unit), rest


def straight(text: str) -> str:
    """The text with curly feet and inch marks made straight, and ½ written as 1/2."""
    for sign, written in _STRAIGHT.items():
        text = text.replace(sign, written)
    return text.strip()


def finite(value: float, wanted: str = "a number") -> float:
    """The value, if it is a number; raises UnitError for NaN and infinity."""
    if not math.isfinite(value):
        raise UnitError(f"That is not {wanted}.")
    return value


def show(value: float | None, measure: Measure, system: System = "us", *, unit: bool = True) -> str:
    """A quantity in our unit, written in the unit of `system`; an empty text for None."""
    if value is None:
        return ""
    name = measure.unit(system)
    places = measure.metric_decimals if system == "metric" else measure.decimals
    number = f"{value / measure.factors[name.lower()]:.{places}f}"
    if "." in number:
        number = number.rstrip("0").rstrip(".")
    number = "0" if number == "-0" else number
    return f"{number} {name}".rstrip() if unit else number


def _number(match: re.Match[str], text: str, wanted: str) -> tuple[float, bool]:
    """The value of one number in the text, and whether it carried a minus."""
    sign, whole, top, under, top_only, under_only, plain, power = match.groups()
    if plain is not None:
        number = float(plain + (power or ""))
    else:
        bottom = int(under or under_only)
        if bottom == 0:
            raise UnitError(f"“{text.strip()}” divides by zero: type {wanted}.")
        number = int(whole or 0) + int(top or top_only) / bottom
    return number, sign == "-"


def _take_unit(rest: str) -> tuple[str, str]:
    """Split a leading unit word off the rest of the text."""
    match = re.match(r"\s*([^\d\s+.\-][^\d\s+\-]*(?:\s+head)?(?:3/h)?)?\s*", rest)
    assert match is not None
    return (match.group(1) or "").strip().lower(), rest[match.end() :]


def _factor(word: str, measure: Measure, system: System) -> float:
    """How many of our unit one `word` is; no word means the unit that the system shows."""
    if not word:
        return measure.factors[measure.unit(system).lower()]
    word = _SPELLINGS.get(word, word)
    if word not in measure.factors:
        known = ", ".join(name for name in measure.factors if name.isascii() and name not in "'\"")
        raise UnitError(f"“{word}” is no unit of {measure.name}: use {known}.")
    return measure.factors[word]


def _example(measure: Measure, system: System) -> str:
    """A quantity as it could be typed, for a refusal."""
    number = {"pressure": "62", "flow": "12", "length": "18.5"}.get(measure.name, "12")
    if measure is PRESSURE and system == "metric":
        number = "4.2"
    return f"{number} {measure.unit(system)}".rstrip()


def fixed(value: float, measure: Measure, system: System = "us") -> str:
    """A quantity as `show` writes it, without its unit and always with the same decimals.

    For columns of figures, where the decimal points stand under each other.
    """
    places = measure.metric_decimals if system == "metric" else measure.decimals
    return f"{value / measure.factors[measure.unit(system).lower()]:.{places}f}"
