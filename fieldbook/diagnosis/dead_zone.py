"""Rank why a zone does not run, from tests of its wire, its valve and its water.

Each cause has a chance beside the others, which the wire map may raise; every test that was made
multiplies it by how often it shows that. The next test is the one that is expected to tell most
for its minutes.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from fieldbook.trade.dead_zone_faults import DeadTest, DeadZoneFaults, dead_zone_faults
from fieldbook.wiring import Meaning

FOUND_FROM = 0.6
_LEAST_BITS = 0.02
MOST_V = 30.0
LEAST_V = 19.0
"""An output of 24 V AC shows 19 to 27 V (superintendents' journal, 2016)."""
_OHMS: Mapping[Meaning, str] = {
    "sound": "sound",
    "open": "open",
    "short": "short",
    "two coils": "short",
    "low": "short",
    "high": "high",
}


@dataclass(frozen=True)
class DeadReadings:
    """What was tested of a zone that does not run: by the name of a test, what it showed.

    leads_elsewhere: the chance, by the wire map, that its wire is under another terminal; None
    while the map does not say. common_open, no_supply: whether the wire map names the common, or
    the controller and its supply, as what several terminals share.
    """

    shown: Mapping[str, str] = field(default_factory=dict)
    leads_elsewhere: float | None = None
    common_open: bool = False
    no_supply: bool = False


@dataclass(frozen=True)
class DeadTestNext:
    """A test to make, and the bits expected of it."""

    name: str
    test: DeadTest
    bits: float


@dataclass(frozen=True)
class DeadZone:
    """Why a zone does not run: causes with their chances, likeliest first, and tests to make."""

    ranked: tuple[tuple[str, float], ...]
    nexts: tuple[DeadTestNext, ...]

    @property
    def found(self) -> bool:
        """Whether one cause is likely enough to be called what is wrong."""
        return self.ranked[0][1] >= FOUND_FROM


def ohms_shown(meaning: Meaning) -> str:
    """What a judged reading counts as in the table of tests."""
    return _OHMS[meaning]


def volts_shown(volts: float) -> str:
    """Whether a reading in volts AC shows an output that is on."""
    return "there" if volts >= LEAST_V else "none"


def why_dead(readings: DeadReadings, table: DeadZoneFaults | None = None) -> DeadZone:
    """Rank the causes. Raises KeyError for a test or an outcome that the table does not have."""
    table = dead_zone_faults() if table is None else table
    weights = _priors(readings, table)
    for name, shown in readings.shown.items():
        weights = {
            cause: weight * table.tests[name].row(cause)[shown] for cause, weight in weights.items()
        }
    total = sum(weights.values())
    ranked = sorted(
        ((cause, weight / total) for cause, weight in weights.items()),
        key=lambda one: (-one[1], one[0]),
    )
    nexts = [
        DeadTestNext(name, test, bits)
        for name, test in table.tests.items()
        if name not in readings.shown and (bits := _bits(dict(ranked), test)) >= _LEAST_BITS
    ]
    nexts.sort(key=lambda one: (-one.bits / one.test.minutes, one.name))
    return DeadZone(tuple(ranked), tuple(nexts))


# The wire map judges several terminals together, so what it names is far likelier than usual.
_BY_MAP = 20.0


def _priors(readings: DeadReadings, table: DeadZoneFaults) -> dict[str, float]:
    found = dict(table.chance)
    chance = readings.leads_elsewhere
    if chance is not None:
        # The map's own chance stands for the usual one, beside all that is not the map's subject.
        rest = sum(found.values()) - found["swapped"]
        known = min(max(chance, 0.001), 0.99)
        found["swapped"] = rest * known / (1.0 - known)
    if readings.common_open:
        found["common"] *= _BY_MAP
    if readings.no_supply:
        found["supply"] *= _BY_MAP
    return found


def _bits(chances: Mapping[str, float], test: DeadTest) -> float:
    """The information in bits that a test is expected to give about the cause."""
    outcomes: dict[str, float] = {}
    within = 0.0
    for cause, chance in chances.items():
        for shown, part in test.row(cause).items():
            outcomes[shown] = outcomes.get(shown, 0.0) + chance * part
            within -= chance * part * math.log2(part)
    return max(-sum(one * math.log2(one) for one in outcomes.values() if one > 0.0) - within, 0.0)
