"""What a local authority may rule on: the key of each rule, its label and its kind of value."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from fieldbook.trade.backflow import BACKFLOW_KINDS
from fieldbook.trade.watering.law_reading import law_from_text

RuleKind = Literal["number", "yes or no", "words", "list", "watering"]
RuleValue = float | bool | str | tuple[str, ...]


@dataclass(frozen=True)
class RuleKey:
    """One rule. A number is in `unit`, from `low` to `high`.

    Words, or a list of them, are limited to `words` where any are given. Watering is the JSON text
    of a whole [watering] table, since its limits hold together.
    """

    label: str
    kind: RuleKind
    unit: str = ""
    low: float = 0.0
    high: float = 1000.0
    words: tuple[str, ...] = ()


_COUNTS = ("working", "calendar")
_SINCE = ("call", "mark", "start")
HAZARDS: Mapping[str, str] = {
    "no_hazard": "no other hazard",
    "chemicals": "chemicals injected",
    "septic": "a septic field",
    "second_source": "a second water source",
    "pump": "a pump after the assembly",
    "pump_before": "a pump before the assembly",
}
"""The hazards that decide which assemblies are allowed, by column, in words."""


DRAWN = (
    "shut-offs",
    "source",
    "backflow",
    "valves",
    "splices and wire paths",
    "controller",
    "sensors",
    "grounding",
    "main",
    "pumps",
    "filters",
    "quick couplers",
)
"""What a record drawing can be asked to show."""
WATERING = "watering"
REMOVED_KEYS = ("watering_days", "watering_hours", "hardscape_in")
"""Keys of older rule files: no check used them. Rows of them in older books are not read."""


def height_key(kind: str) -> str:
    """The key of the rule for the least height of a kind of backflow assembly."""
    return f"backflow_height_in.{kind.replace(' ', '_')}"


RULE_KEYS: Mapping[str, RuleKey] = {
    **{
        height_key(kind): RuleKey(f"Height of a {kind}", "number", "in", 0, 120)
        for kind in BACKFLOW_KINDS
        if kind not in ("DC", "RP")
    },
    "backflow_above_grade_in.RP": RuleKey("RP over the soil", "number", "in", 0, 120),
    "backflow_above_grade_most_in.RP": RuleKey("RP over the soil, most", "number", "in", 0, 120),
    "heads_measured": RuleKey("Heads are measured", "words", words=("retracted", "raised"), high=0),
    **{
        f"allowed.{name}": RuleKey(f"Assemblies allowed with {words}", "list", words=BACKFLOW_KINDS)
        for name, words in HAZARDS.items()
    },
    "avb_pressure_h": RuleKey("An AVB under pressure in 24 hours", "number", "h", 0, 24),
    "backflow_retest_months": RuleKey("Backflow is tested again after", "number", "months", 1, 120),
    "cover_in.mainline": RuleKey("Cover of the mainline", "number", "in", 0, 72),
    "cover_in.lateral": RuleKey("Cover of laterals", "number", "in", 0, 72),
    "cover_in.wire": RuleKey("Cover of wire", "number", "in", 0, 72),
    "cover_in.wire_driveway": RuleKey("Cover of wire under a driveway", "number", "in", 0, 72),
    "velocity_ft_s": RuleKey("Velocity in plastic pipe", "number", "ft/s", 1, 20),
    "velocity_ft_s.copper": RuleKey("Velocity in copper pipe", "number", "ft/s", 1, 20),
    "static_psi": RuleKey("Static pressure without a regulator", "number", "psi", 20, 200),
    "permit_required": RuleKey("A permit before digging", "yes or no"),
    "locate_wait_days": RuleKey("Notice before digging, in full days", "number", "days", 0, 30),
    "locate_wait_count": RuleKey("Days of notice are", "words", words=_COUNTS, high=0),
    "locate_expiry_days": RuleKey("Locate marks hold", "number", "days", 1, 365),
    "locate_expiry_count": RuleKey("Days the marks hold are", "words", words=_COUNTS, high=0),
    "locate_expiry_since": RuleKey("The marks hold from the", "words", words=_SINCE, high=0),
    "locate_expiry_first_day": RuleKey("That day counts as the first", "yes or no"),
    "locate_answers_required": RuleKey("Every utility answers before digging", "yes or no"),
    "override_dig": RuleKey("Digging before the ticket is clear may be overridden", "yes or no"),
    "override_service": RuleKey("Service before the backflow test may be overridden", "yes or no"),
    "tolerance_in": RuleKey("Hand digging beside a mark", "number", "in", 0, 120),
    "inspection_before_backfill": RuleKey("An inspection before backfill", "yes or no"),
    "pressure_test_psi": RuleKey("Pressure test at", "number", "psi", 0, 400),
    "pressure_test_min": RuleKey("Pressure test for", "number", "min", 0, 10000),
    "pressure_test_drop_psi": RuleKey("Pressure test may drop", "number", "psi", 0, 100),
    "rain_shutoff_required": RuleKey("A rain shut-off", "yes or no"),
    "breaker_removed_for_air": RuleKey("A vacuum breaker comes off before air", "yes or no"),
    "walk_through_required": RuleKey("The owner's walk-through before handover", "yes or no"),
    "walk_through_zone_min": RuleKey("Each zone is shown to the owner for", "number", "min", 0, 60),
    "punch_list_done": RuleKey("The punch list is done before handover", "yes or no"),
    "freeze_sensor_required": RuleKey("A freeze sensor", "yes or no"),
    "soil_sensor_required": RuleKey("A soil moisture sensor", "yes or no"),
    WATERING: RuleKey("Watering days and hours", "watering"),
    "record_drawing": RuleKey("The record drawing shows", "list", words=DRAWN),
}
"""Every rule, in the order in which the rules page lists them."""


def value_of(rule: RuleKey, raw: object) -> RuleValue:
    """The value of a rule as parsed from TOML or JSON.

    Raises ValueError, with words that go after the rule's key, for a value of another kind or out
    of the rule's limits.
    """
    if rule.kind == "yes or no":
        if not isinstance(raw, bool):
            raise ValueError("takes true or false")
        return raw
    if rule.kind == "number":
        return _number(rule, raw)
    if rule.kind == "list":
        if not isinstance(raw, list) or not all(isinstance(word, str) for word in raw):
            raise ValueError("takes a list of words")
        return tuple(raw)
    if not isinstance(raw, str):
        raise ValueError("takes words")
    if rule.kind == "watering":
        # Refuses what is no watering rule; jobs keep and compare the text itself.
        law_from_text(raw)
    return raw


def _number(rule: RuleKey, raw: object) -> float:
    # Python counts a bool as an int; a rule file does not.
    if isinstance(raw, bool) or not isinstance(raw, int | float):
        raise ValueError(f"takes a number in {rule.unit}")
    if not rule.low <= raw <= rule.high:
        raise ValueError(f"goes from {rule.low:g} to {rule.high:g} {rule.unit}, not {raw:g}")
    return float(raw)


def to_text(value: RuleValue) -> str:
    """A value as the JSON text that a job keeps."""
    return json.dumps(list(value) if isinstance(value, tuple) else value, ensure_ascii=False)


def from_text(key: str, text: str) -> RuleValue | None:
    """The value that a job keeps as text; None if the rule is not known or can't have it.

    The text may come from another laptop, so it can be anything.
    """
    rule = RULE_KEYS.get(key)
    if rule is None:
        return None
    try:
        return value_of(rule, json.loads(text))
    except ValueError:
        return None


def value_in_words(key: str, value: RuleValue) -> str:
    """A value as a sentence names it, with its unit."""
    if isinstance(value, bool):
        return "required" if value else "not required"
    if isinstance(value, tuple):
        return ", ".join(value) or "none"
    if isinstance(value, str):
        return "; ".join(law_from_text(value).lines()) if key == WATERING else value
    return f"{value:g} {RULE_KEYS[key].unit}".rstrip()
