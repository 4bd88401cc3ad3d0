"""What a local authority may rule on: each rule's key, what it is, what kind of value it has."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from fieldbook.trade.backflow import BACKFLOW_KINDS

RuleKind = Literal["number", "yes or no", "words", "list"]
RuleValue = float | bool | str | tuple[str, ...]


@dataclass(frozen=True)
class RuleKey:
    """One rule. A number is in `unit`, from `low` to `high`; a list takes `words` only, if any."""

    label: str
    kind: RuleKind
    unit: str = ""
    low: float = 0.0
    high: float = 1000.0
    words: tuple[str, ...] = ()


_KINDS = tuple(BACKFLOW_KINDS)
_HAZARDS = {
    "no_hazard": "no other hazard",
    "chemicals": "chemicals injected",
    "septic": "a septic field",
    "second_source": "a second water source",
    "pump": "a pump",
}


def height_key(kind: str) -> str:
    """The key of the least height of a backflow kind."""
    return f"backflow_height_in.{kind.replace(' ', '_')}"


RULE_KEYS: Mapping[str, RuleKey] = {
    **{
        height_key(kind): RuleKey(f"Height of a {kind}", "number", "in", 0, 120)
        for kind in _KINDS
        if kind not in ("DC", "RP")
    },
    "backflow_above_grade_in.RP": RuleKey("RP over the soil", "number", "in", 0, 120),
    "heads_measured": RuleKey("Heads are measured", "words", words=("retracted", "raised"), high=0),
    **{
        f"allowed.{name}": RuleKey(f"Assemblies allowed with {words}", "list", words=_KINDS)
        for name, words in _HAZARDS.items()
    },
    "avb_pressure_h": RuleKey("An AVB under pressure in 24 hours", "number", "h", 0, 24),
    "backflow_retest_months": RuleKey("Backflow is tested again after", "number", "months", 1, 120),
    "cover_in.mainline": RuleKey("Cover of the mainline", "number", "in", 0, 72),
    "cover_in.lateral": RuleKey("Cover of laterals", "number", "in", 0, 72),
    "cover_in.wire": RuleKey("Cover of wire", "number", "in", 0, 72),
    "velocity_ft_s": RuleKey("Velocity in plastic pipe", "number", "ft/s", 1, 20),
    "static_psi": RuleKey("Static pressure without a regulator", "number", "psi", 20, 200),
    "permit_required": RuleKey("A permit before digging", "yes or no"),
    "locate_wait_days": RuleKey("Digging after the call", "number", "working days", 0, 30),
    "locate_expiry_days": RuleKey("Locate marks hold", "number", "days", 1, 365),
    "tolerance_in": RuleKey("Hand digging beside a mark", "number", "in", 0, 120),
    "inspection_before_backfill": RuleKey("An inspection before backfill", "yes or no"),
    "pressure_test_psi": RuleKey("Pressure test at", "number", "psi", 0, 400),
    "pressure_test_min": RuleKey("Pressure test for", "number", "min", 0, 10000),
    "pressure_test_drop_psi": RuleKey("Pressure test may drop", "number", "psi", 0, 100),
    "watering_days": RuleKey("Watering days", "words"),
    "watering_hours": RuleKey("Watering hours", "words"),
    "rain_shutoff_required": RuleKey("A rain shut-off", "yes or no"),
    "hardscape_in": RuleKey("Heads from paving", "number", "in", 0, 60),
    "record_drawing": RuleKey("The record drawing shows", "list"),
}
HAZARDS: Mapping[str, str] = _HAZARDS
"""The hazards that decide which assemblies are allowed, in words."""


def to_text(value: RuleValue) -> str:
    """The value as JSON."""
    return json.dumps(list(value) if isinstance(value, tuple) else value, ensure_ascii=False)


def from_text(key: str, text: str) -> RuleValue | None:
    """The value of a rule kept as text; None where it is none that the rule takes."""
    known = RULE_KEYS.get(key)
    try:
        held = json.loads(text)
    except ValueError:
        return None
    if known is None:
        return None
    if known.kind == "yes or no":
        return held if isinstance(held, bool) else None
    if known.kind == "number":
        number = isinstance(held, int | float) and not isinstance(held, bool)
        return float(held) if number and known.low <= held <= known.high else None
    if known.kind == "list":
        whole = isinstance(held, list) and all(isinstance(one, str) for one in held)
        return tuple(held) if whole else None
    return held if isinstance(held, str) else None


def said(key: str, value: RuleValue) -> str:
    """A value in words, with its unit."""
    if isinstance(value, bool):
        return "required" if value else "not required"
    if isinstance(value, tuple):
        return ", ".join(value) or "none"
    if isinstance(value, str):
        return value
    return f"{value:g} {RULE_KEYS[key].unit}".rstrip()
