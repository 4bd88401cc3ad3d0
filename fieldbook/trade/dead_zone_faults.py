"""Why a zone does not run, and what each test then shows: `dead_zone_faults.toml` as numbers.

Every figure there is common practice, no source. They rank causes and choose the next test.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources

from fieldbook.trade.water_faults import CauseWords, cause_words

OTHER = "other"
"""The row of every cause that a test does not name."""
_ADDS_UP = 1e-6


@dataclass(frozen=True)
class DeadTest:
    """A test: its words, its minutes, its danger, and how often it shows what, by cause."""

    words: str
    minutes: float
    caution: str
    shows: Mapping[str, Mapping[str, float]]

    def row(self, cause: str) -> Mapping[str, float]:
        """How often it shows what where this is the cause."""
        return self.shows.get(cause, self.shows[OTHER])


@dataclass(frozen=True)
class DeadZoneFaults:
    """The causes with their chances beside each other and their words, and the tests."""

    chance: Mapping[str, float]
    words: Mapping[str, CauseWords]
    tests: Mapping[str, DeadTest]


@lru_cache
def dead_zone_faults() -> DeadZoneFaults:
    """The figures that ship with fieldbook."""
    file = resources.files("fieldbook.trade").joinpath("dead_zone_faults.toml")
    return parse_dead_zone_faults(file.read_text("utf-8"))


def parse_dead_zone_faults(text: str) -> DeadZoneFaults:
    """Read the figures from TOML. Raises ValueError, naming the figure that can't be."""
    data = tomllib.loads(text)
    chance = {cause: float(row["chance"]) for cause, row in data["cause"].items()}
    for cause, value in chance.items():
        if not 0.0 < value <= 1.0:
            raise ValueError(f"The chance of {cause} is {value:g}: give one over 0 and up to 1.")
    words = cause_words(data["cause"])
    tests = {name: _test(name, row, chance) for name, row in data["test"].items()}
    return DeadZoneFaults(chance, words, tests)


def _test(name: str, row: Mapping[str, object], causes: Mapping[str, float]) -> DeadTest:
    shows = row["shows"]
    assert isinstance(shows, Mapping)
    if OTHER not in shows or not set(shows) <= {OTHER, *causes}:
        raise ValueError(f"Test {name} needs a row “{OTHER}”, and rows of known causes alone.")
    for cause, chances in shows.items():
        if set(chances) != set(shows[OTHER]) or min(chances.values()) <= 0.0:
            raise ValueError(f"Test {name}, {cause}: give each outcome a chance above zero.")
        if abs(sum(chances.values()) - 1.0) > _ADDS_UP:
            raise ValueError(f"Test {name}, {cause}: its chances must add up to 1.")
    minutes = row["minutes"]
    if not isinstance(minutes, int | float) or minutes <= 0:
        raise ValueError(f"Test {name}: its minutes must be above zero.")
    return DeadTest(str(row["words"]), float(minutes), str(row.get("caution", "")), shows)
