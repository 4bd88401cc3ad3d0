"""What a crew is likely to note, by what the water does: at each head, and of the whole zone."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from fieldbook.diagnosis.fault_axes import Axis, Cause
from fieldbook.diagnosis.fault_bench import FIRST_HEAD, Changed, FaultBench, Signature
from fieldbook.diagnosis.zone_parts import ZoneReadings
from fieldbook.trade.water_faults import SIGNS, Show, Sign, SignRow, WaterFaults

Weights = Mapping[SignRow, float]
"""How much of each row of the table of signs applies, adding up to 1."""
_WEAK, _STARVED, _DRY = (0.88, 0.60), (0.40, 0.20), (0.08, 0.02)
"""Of the pressure that a head has in the zone as it should be: from where to where a sign fades in.
Common practice, no source."""
_OVER = (1.35, 1.8)
"""Of the pressure that its nozzle is rated at."""
_OF_SHARED = ("shared part loses", "street loses", "street pressure", "more before the valve")


def weights_by_pressure(psi: float, usual_psi: float, rated_psi: float | None) -> Weights:
    """What the water does at a head with nothing wrong, that has `usual_psi` as recorded."""
    part = psi / usual_psi if usual_psi > 0.0 else 1.0
    dry = _faded(part, *_DRY) if psi > 0.0 else 1.0
    starved = _faded(part, *_STARVED) * (1.0 - dry)
    weak = _faded(part, *_WEAK) * (1.0 - dry - starved)
    rest = 1.0 - dry - starved - weak
    over = 0.0
    if rated_psi is not None:
        over = rest * (1.0 - _faded(psi / rated_psi, _OVER[1], _OVER[0]))
    return {"dry": dry, "starved": starved, "weak": weak, "over": over, "normal": rest - over}


def _faded(part: float, none: float, whole: float) -> float:
    """0 from `none` up, 1 from `whole` down, straight between them."""
    return min(max((none - part) / (none - whole), 0.0), 1.0)


def weights_at_fault(cause: Cause, severity: float) -> Weights | None:
    """What the water does at the head that has the fault; None where its pressure decides."""
    match cause.kind:
        case "blocked" | "too_small":
            shut = min(max((severity - 0.7) / 0.25, 0.0), 1.0)
            clear = min(max((0.35 - severity) / 0.25, 0.0), 1.0)
            return {"shut": shut, "normal": clear, "clogged": 1.0 - shut - clear}
        case "too_large":
            return {"larger": 1.0}
        case "missing":
            return {"gone": 1.0}
        case "obstructed":
            return {"obstructed": 1.0}
        case _:
            return None


def chances_of(table: WaterFaults, weights: Weights) -> dict[Sign, float]:
    """How often each sign is noted."""
    return {
        sign: sum(weight * table.sign[row][sign] for row, weight in weights.items() if weight)
        for sign in SIGNS
    }


class SignBook:
    """The signs of one zone: their chance under each fault."""

    def __init__(self, table: WaterFaults, bench: FaultBench) -> None:
        """The usual pressures are those of the record's own supply."""
        self.table, self.parts = table, bench.parts
        usual = bench.solve(Changed(supply=bench.recorded)) or bench.base
        self._usual = dict(zip(bench.parts.heads, usual[FIRST_HEAD:], strict=True))
        self._caps = {name: head.regulated_psi for name, head in bench.heads.items()}

    def weights(self, head: str, psi: float) -> Weights:
        """What the water does at a head at a pressure, with nothing wrong at the head itself."""
        cap = self._caps[head]
        usual = self._usual[head]
        if cap is not None:
            psi, usual = min(psi, cap), min(usual, cap)
        return weights_by_pressure(psi, usual, self.parts.rated_psi.get(head))

    def at_heads(self, signature: Signature, readings: ZoneReadings) -> dict[str, float]:
        """By head, the log of the chance of the sign noted there, with nothing wrong there."""
        found = {}
        for number, head in enumerate(self.parts.heads):
            sign = readings.signs.get(head)
            if sign is not None:
                weights = self.weights(head, signature[FIRST_HEAD + number])
                found[head] = math.log(chances_of(self.table, weights)[sign])
        return found

    def at_fault(self, cause: Cause, severity: float, readings: ZoneReadings) -> float | None:
        """The log of the chance of the sign at the faulty head; None where it is as usual."""
        sign = readings.signs.get(cause.place)
        weights = weights_at_fault(cause, severity)
        if sign is None or weights is None:
            return None
        return math.log(chances_of(self.table, weights)[sign])

    def best_misfit(self, readings: ZoneReadings) -> float:
        """-2 log of the chance of the signs at heads, each as likely as any row makes it."""
        rows = self.table.sign.values()
        return sum(
            -2.0 * math.log(max(row[sign] for row in rows)) for sign in readings.signs.values()
        )

    def elsewhere(self, faults: Sequence[tuple[Axis, Cause]], readings: ZoneReadings) -> float:
        """The log of the chance of what was seen of the ground, other zones, meter and weeping."""
        leaks, total = leak_places(faults), 0.0
        # A walk along all trenches also says where the ground is dry.
        for place in readings.wet | (leaks if readings.ground else frozenset()):
            total += self._shown("wet_spot", place in leaks, place in readings.wet)
        others, meter, weeping = readings.others, readings.meter_off, readings.weeping
        seen: dict[Show, bool | None] = {
            "others_weak": None if others is None else others == "weak",
            "meter_moves": None if meter is None else meter == "moves",
            "weeping": None if weeping is None else weeping == "never stops",
        }
        for what, shown in seen.items():
            if shown is not None:
                caused = any(causes_show(axis, cause, what) for axis, cause in faults)
                total += self._shown(what, caused, shown)
        return total

    def _shown(self, what: Show, caused: object, seen: object) -> float:
        chance = self.table.shows[what][0 if caused else 1]
        return math.log(chance if seen else 1.0 - chance)


def causes_show(axis: Axis, cause: Cause, what: Show) -> bool:
    """Whether a fault makes other zones weak, the meter move with all off, or a head weep."""
    if what == "others_weak":
        return axis.change in _OF_SHARED
    return cause.kind == "seat" or (what == "meter_moves" and cause.kind == "main_leak")


def leak_places(faults: Sequence[tuple[Axis, Cause]]) -> frozenset[str]:
    """The heads and pipes at which faults would wet the ground."""
    return frozenset(cause.place for _, cause in faults if cause.kind in ("leak", "missing"))
