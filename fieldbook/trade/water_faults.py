"""How often parts of a zone go wrong and what then shows: `water_faults.toml` as numbers.

Every figure there is common practice, no source. They rank what could explain the readings of a
zone and choose the next measurement; they prove nothing.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources
from typing import Literal, get_args

SOURCE = "Common practice, no source."
Sign = Literal["fine", "misting", "weak", "dry", "low", "short", "gush"]
"""What a crew notes of a head while the zone runs. short: a short or one-sided stream. low: it
does not come all the way up. gush: a solid column of water."""
SIGNS: tuple[Sign, ...] = get_args(Sign)
SignRow = Literal[
    "normal", "over", "weak", "starved", "dry", "clogged", "shut", "larger", "gone", "obstructed"
]
"""What the water does at a head. over: too much pressure. weak, starved: too little, and far too
little. clogged, shut: its nozzle lets too little through, or nothing. gone: its nozzle is."""
SIGN_ROWS: tuple[SignRow, ...] = get_args(SignRow)
Show = Literal["wet_spot", "others_weak", "meter_moves", "weeping"]
SHOWS: tuple[Show, ...] = get_args(Show)
_ADDS_UP = 1e-6


@dataclass(frozen=True)
class CauseWords:
    """A kind of fault in words; `caution` names the danger of looking, or is empty."""

    words: str
    look: str
    caution: str = ""


def cause_words(causes: Mapping[str, Mapping[str, object]]) -> dict[str, CauseWords]:
    """The words of each cause, as a table of causes in TOML gives them."""
    return {
        cause: CauseWords(str(row["words"]), str(row["look"]), str(row.get("caution", "")))
        for cause, row in causes.items()
    }


@dataclass(frozen=True)
class WaterFaults:
    """Chances from 0 to 1, each over 0; minutes; standard deviations.

    chance: by kind of fault, for each place where it could be. sign: by what the water does at a
    head, how often each sign is noted. shows: how often a sign shows with its cause, and without.
    """

    chance: Mapping[str, float]
    words: Mapping[str, CauseWords]
    sign: Mapping[SignRow, Mapping[Sign, float]]
    shows: Mapping[Show, tuple[float, float]]
    minutes: Mapping[str, float]
    doubt: Mapping[str, float]


@lru_cache
def water_faults() -> WaterFaults:
    """The figures that ship with fieldbook."""
    file = resources.files("fieldbook.trade").joinpath("water_faults.toml")
    return parse_water_faults(file.read_text("utf-8"))


def parse_water_faults(text: str) -> WaterFaults:
    """Read the figures from TOML. Raises ValueError, naming the figure that can't be."""
    data = tomllib.loads(text)
    chance = {kind: float(row["chance"]) for kind, row in data["cause"].items()}
    words = cause_words(data["cause"])
    sign = {row: _sign_row(row, data["sign"][row]) for row in SIGN_ROWS}
    shows = {
        one: (float(data["shows"][one]["with"]), float(data["shows"][one]["without"]))
        for one in SHOWS
    }
    minutes = {name: float(value) for name, value in data["minutes"].items()}
    doubt = {name: float(value) for name, value in data["doubt"].items()}
    _check_chances(chance, shows)
    for name, value in (*minutes.items(), *doubt.items()):
        if not 0.0 < value < 1000.0:
            raise ValueError(f"The figure of {name} is {value:g}: it must be above zero.")
    return WaterFaults(chance, words, sign, shows, minutes, doubt)


def _sign_row(row: SignRow, given: Mapping[str, float]) -> Mapping[Sign, float]:
    found: dict[Sign, float] = {sign: float(given[sign]) for sign in SIGNS}
    if min(found.values()) <= 0.0 or abs(sum(found.values()) - 1.0) > _ADDS_UP:
        raise ValueError(f"The chances of sign.{row} must each be above zero and add up to 1.")
    return found


def _check_chances(chance: Mapping[str, float], shows: Mapping[Show, tuple[float, float]]) -> None:
    figures = [*chance.items()]
    figures += [(name, value) for name, pair in shows.items() for value in pair]
    for name, value in figures:
        # A chance of 1 would make the opposite impossible, whatever else is read.
        if not 0.0 < value < 1.0:
            raise ValueError(f"The chance of {name} is {value:g}: give one over 0 and under 1.")
