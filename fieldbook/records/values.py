"""Turn typed text, or a value from a file, into a value that a column can hold.

What can't be held is refused with one plain sentence.
"""

from __future__ import annotations

import re
from datetime import datetime
from itertools import pairwise
from typing import TypeVar

from fieldbook.records.days import read_clock, read_day
from fieldbook.records.fact import Fact
from fieldbook.records.printable import is_obeyed, printable
from fieldbook.trade.colours import parse_colour
from fieldbook.trade.pipe_words import class_among
from fieldbook.trade.shorthand import size_among
from fieldbook.trade.watering.clock_times import read_times, time_in_words, times_text
from fieldbook.trade.watering.day_pattern import days_text, read_days
from fieldbook.units import FLOW, PRESSURE, System, UnitError, finite, parse, show

Value = str | int | float | bool | None
Points = tuple[tuple[float, float], ...]
"""A curve: (gpm, psi) of each point, the flows rising."""
MOST_POINTS = 40
"""Points of a curve at most."""
_T = TypeVar("_T")

_TEXTS = ("text", "curve", "days", "times")
"""Kinds whose column holds text, empty where nothing is entered."""
_EXAMPLE = "5 3.5, 10 4, 20 6.1"
_PAIR = re.compile(r"([\d.]+\s*[^\d\s,:;.]*(?:\d/h)?)[\s:]+([\d.]+\s*[^\d,;]*)")
"""A flow and a loss, each with or without its unit, between them a blank or a colon."""
_YES = {"yes": True, "y": True, "no": False, "n": False}


class ValueRefusedError(ValueError):
    """One plain sentence that says why a column can't hold a value."""


def from_text(fact: Fact, text: str, system: System = "us") -> Value:
    """The value of a text that was typed into a cell; an empty text clears the cell.

    Raises ValueRefusedError with one sentence.
    """
    text = printable(text).strip()
    if not text:
        return "" if fact.kind in _TEXTS else None
    if fact.kind in ("amount", "curve"):
        return (_amount if fact.kind == "amount" else _curve)(fact, text, system)
    if fact.kind == "whole":
        if not (text.isascii() and text.lstrip("+").isdigit()):
            raise ValueRefusedError(f"{fact.label} takes a whole number such as 3.")
        # Twelve digits are over every limit already, and int() is slow on thousands of them.
        return _in_range(fact, int(text[:12]), system)
    if fact.kind == "choice":
        return _one_of(fact, text)
    if fact.kind in ("day", "clock"):
        return _when_typed(fact, text)
    return _yes_or_no(fact, text) if fact.kind == "tick" else from_file(fact, text, system)


def from_file(fact: Fact, value: object, system: System = "us") -> Value:
    """The value of a JSON value for a column: a number in our unit, or a string with a unit.

    Raises ValueRefusedError with one sentence.
    """
    if value is None:
        return "" if fact.kind in _TEXTS else None
    if fact.kind == "tick":
        return _of_type(fact, value, bool, "true or false")
    if fact.kind == "whole":
        if isinstance(value, bool) or not isinstance(value, int):
            raise ValueRefusedError(f"{fact.label} takes a whole number, not {_short(value)}.")
        return _in_range(fact, value, system)
    if fact.kind == "amount":
        return _amount(fact, value, system)
    return _text(fact, _of_type(fact, value, str, "text"))


def shown(fact: Fact, value: Value, system: System = "us") -> str:
    """A value as a person reads it; an empty text for what is not entered."""
    if value is None:
        return ""
    if fact.kind == "curve":
        return show_curve(str(value), system)
    if fact.kind == "amount" and fact.measure is not None and isinstance(value, int | float):
        return show(float(value), fact.measure, system)
    if fact.kind in ("clock", "times"):
        return _clock_shown(fact, str(value))
    if isinstance(value, bool):
        return "yes" if value else "no" if fact.either else "NO"
    return str(value)


def _clock_shown(fact: Fact, value: str) -> str:
    if fact.kind == "clock":
        return value.replace("T", " ")[:16]
    try:
        return ", ".join(map(time_in_words, read_times(value)))
    except ValueError:
        # Text of another laptop that is no time is shown as it is.
        return value


def _refuse_hostile(fact: Fact, text: str) -> None:
    """Refuse text from a file that is too long or holds a character that a terminal would obey."""
    if printable(text) != text:
        char = next(filter(is_obeyed, text))
        raise ValueRefusedError(
            f"{fact.label} holds the control or direction character U+{ord(char):04X}: remove it."
        )
    if len(text) > fact.longest:
        raise ValueRefusedError(f"{fact.label} is longer than {fact.longest} characters.")


def _text(fact: Fact, text: str) -> str:
    """A text from a file, as a column of this kind holds it."""
    _refuse_hostile(fact, text)
    if fact.kind == "choice" and text not in fact.choices:
        raise ValueRefusedError(f"{fact.label} takes one of {', '.join(fact.choices)}.")
    if fact.kind == "when":
        return _time(fact, text)
    if fact.kind in ("day", "clock"):
        return _when_typed(fact, text)
    if fact.kind == "curve":
        return str(_curve(fact, text, "us")) if text else ""
    if fact.kind in ("days", "times"):
        return _run_times(fact, text) if text else ""
    if fact.kind == "colour":
        try:
            return parse_colour(text)
        except ValueError as error:
            raise ValueRefusedError(str(error)) from error
    return text


def _run_times(fact: Fact, text: str) -> str:
    """The days or start times of a typed or stored text, in one way of writing them."""
    try:
        return days_text(read_days(text)) if fact.kind == "days" else times_text(read_times(text))
    except ValueError as error:
        raise ValueRefusedError(f"{fact.label} takes {error}.") from error


def _curve(fact: Fact, text: str, system: System) -> Value:
    try:
        return write_curve(read_curve(text, system))
    except UnitError as error:
        raise ValueRefusedError(f"{fact.label}: {error}") from error


def _when_typed(fact: Fact, text: str) -> str:
    """A typed day ("today", 2026-05-01) or time ("now", 14:30, 2026-05-01 14:30)."""
    try:
        return read_day(text) if fact.kind == "day" else read_clock(text)
    except ValueError as error:
        raise ValueRefusedError(f"{fact.label} takes {error}.") from error


def _time(fact: Fact, text: str) -> str:
    try:
        datetime.fromisoformat(text)
    except ValueError as error:
        raise ValueRefusedError(
            f"{fact.label} takes a time such as 2026-05-01T10:00:00-05:00."
        ) from error
    return text


def _yes_or_no(fact: Fact, text: str) -> bool:
    if text.lower() not in _YES:
        raise ValueRefusedError(f"{fact.label} takes yes or no.")
    return _YES[text.lower()]


def _amount(fact: Fact, value: object, system: System) -> Value:
    """A quantity from a number in our unit, or from text with a unit."""
    assert fact.measure is not None
    try:
        if isinstance(value, str):
            number = parse(value, fact.measure, system)
        elif isinstance(value, bool) or not isinstance(value, int | float):
            raise ValueRefusedError(f"{fact.label} takes a number, not {_short(value)}.")
        else:
            number = finite(float(value))
    except OverflowError as error:
        raise ValueRefusedError(f"{fact.label} is far too large a number.") from error
    except UnitError as error:
        raise ValueRefusedError(f"{fact.label}: {error}") from error
    return _in_range(fact, number, system)


def _in_range(fact: Fact, number: float, system: System) -> Value:
    """Refuse a number outside the column's limits."""
    if fact.low <= number <= fact.high:
        return number
    if fact.measure is None:
        raise ValueRefusedError(f"{fact.label} goes from {fact.low:g} to {fact.high:g}.")
    low, high = show(fact.low, fact.measure, system), show(fact.high, fact.measure, system)
    raise ValueRefusedError(f"{fact.label} goes from {low} to {high}.")


def _one_of(fact: Fact, text: str) -> str:
    """The choice that was typed in full or by its first letters."""
    wanted = text.casefold()
    for choice in fact.choices:
        if choice.casefold() == wanted:
            return choice
    size = size_among(text, fact.choices)
    if size is not None:
        return size
    pipe_class = class_among(text, fact.choices)
    if pipe_class is not None:
        return pipe_class
    possible = [choice for choice in fact.choices if choice.casefold().startswith(wanted)]
    if len(possible) == 1:
        return possible[0]
    raise ValueRefusedError(f"{fact.label} takes one of {', '.join(possible or fact.choices)}.")


def _of_type(fact: Fact, value: object, kind: type[_T], wanted: str) -> _T:
    """The value, if it is of this type; `wanted` names the type to the crew."""
    if not isinstance(value, kind):
        raise ValueRefusedError(f"{fact.label} takes {wanted}, not {_short(value)}.")
    return value


def _short(value: object) -> str:
    """A value from a file, short enough and safe to put in a sentence."""
    text = printable(repr(value))
    return text if len(text) <= 40 else text[:37] + "..."


def read_curve(text: str, system: System = "us") -> Points:
    """The (gpm, psi) points of a typed curve. Raises UnitError with one sentence."""
    points = [_pair(part, system) for part in re.split(r"[,;]", text) if part.strip()]
    if not 1 <= len(points) <= MOST_POINTS:
        raise UnitError(f"Type flow and loss in pairs, at most {MOST_POINTS}: {_EXAMPLE}.")
    for (before, _), (after, _) in pairwise(points):
        if after <= before:
            raise UnitError(f"The flows must rise from pair to pair, as in {_EXAMPLE}.")
    return tuple(points)


def write_curve(points: Points) -> str:
    """The curve as text in gpm and psi, as it is stored."""
    return ", ".join(f"{gpm:.6g} {psi:.6g}" for gpm, psi in points)


def show_curve(stored: str, system: System = "us") -> str:
    """A stored curve in the job's units, as it could be typed again."""
    if system == "us" or not stored:
        return stored
    pairs = (
        (show(gpm, FLOW, system, unit=False), show(psi, PRESSURE, system, unit=False))
        for gpm, psi in read_curve(stored)
    )
    return ", ".join(f"{flow} {loss}" for flow, loss in pairs)


def _pair(part: str, system: System) -> tuple[float, float]:
    match = _PAIR.fullmatch(part.strip())
    if match is None:
        raise UnitError(f"“{part.strip()[:30]}” is no flow and loss: type pairs, {_EXAMPLE}.")
    gpm, psi = parse(match[1], FLOW, system), parse(match[2], PRESSURE, system)
    if gpm > 1000 or psi > 300:
        raise UnitError("A flow goes up to 1000 gpm and a loss up to 300 psi.")
    return gpm, psi
