"""What a diagnosis takes: the zone's network with the part that each link plays, and the readings.

Pressures are in psi, flows in gpm. Everything is frozen. Errors are standard deviations.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

from fieldbook.trade.water_faults import Sign
from fieldbook.water import Network

# What is read is off by no more than its stated error in 95 of 100 readings.
_PER_95 = 1.96
Others = Literal["fine", "weak"]
Meter = Literal["still", "moves"]
Weeping = Literal["stops", "never stops"]


@dataclass(frozen=True)
class ZoneParts:
    """A zone's network, and which of its links and nodes play which part.

    The network has the record's static pressure. gauge: the node of the tap at which static and
    running pressure are read. before: the links from there to the zone's valve, which other zones
    share. assembly: whether a backflow assembly is among them. valve, filter and regulator: links.
    laterals: the zone's pipes behind its valve. heads: its sprinkler heads. rated_psi: what a
    head's nozzle is rated at, where known.
    """

    network: Network
    gauge: str
    before: tuple[str, ...]
    assembly: bool
    valve: str
    laterals: tuple[str, ...]
    heads: tuple[str, ...]
    filter: str | None = None
    regulator: str | None = None
    rated_psi: Mapping[str, float] = field(default_factory=dict)


class Measured(NamedTuple):
    """A reading in psi or gpm, and its standard deviation."""

    value: float
    sigma: float

    @classmethod
    def within(cls, value: float, error: float) -> Measured:
        """A reading that is off by at most `error` in 95 of 100 cases."""
        return cls(value, max(error, 1e-6) / _PER_95)


@dataclass(frozen=True)
class ZoneReadings:
    """What was read and seen of a zone that runs; None and empty for what was not.

    static: at the tap with everything off. running: at the same tap while the zone runs. flow: by
    the meter. heads: pressure at the inlet of heads, by name. signs: what was noted of heads.
    wet: heads or lateral pipes at whose end the ground is wet. ground: all trenches were walked,
    so that other ground is dry. others: how other zones ran. meter_off: the meter with all off.
    weeping: the lowest head after the zone shut; None where it did not weep or nobody looked.
    """

    static: Measured | None = None
    running: Measured | None = None
    flow: Measured | None = None
    heads: Mapping[str, Measured] = field(default_factory=dict)
    signs: Mapping[str, Sign] = field(default_factory=dict)
    wet: frozenset[str] = frozenset()
    ground: bool = False
    others: Others | None = None
    meter_off: Meter | None = None
    weeping: Weeping | None = None

    @property
    def empty(self) -> bool:
        """Whether nothing was read or seen."""
        return self == ZoneReadings()
