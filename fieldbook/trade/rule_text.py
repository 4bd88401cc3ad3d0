"""A rule's value as text, as it is kept in the book and shown."""

from __future__ import annotations

import json

from fieldbook.trade.rules.keys import RULE_KEYS, RuleValue


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
