"""Starter rule sets for locating, one a state, and the days that a ticket's rules give.

`locating.toml` beside this file holds what each state's notification centre or statute says, with
the words that were read. The ticket in hand and the centre's own dates govern: public holidays are
not known here.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache
from importlib import resources
from typing import Any, Literal

from fieldbook.trade.rules.editions import GENERIC, LocalRule, RuleSet
from fieldbook.trade.rules.keys import RuleValue

Count = Literal["working", "calendar"]

READ_ON = date(2026, 11, 26)
"""The day on which the pages were read; the sets are in force from it."""
_FULL_DAYS = "full working days after the day of the call, the stricter reading"
_SATURDAY = 5


@dataclass(frozen=True)
class TicketLife:
    """How long a ticket or its marks hold: `days`, counted from a day that may itself count."""

    days: int
    count: Count
    first_day_counts: bool = False

    def last_day(self, since: date) -> date:
        """The last day on which the marks hold. The first day counts as day 1, or as day 0."""
        left = self.days - 1 if self.first_day_counts else self.days
        if self.count == "calendar":
            return since + timedelta(days=left)
        return after_working_days(since, left)


def after_working_days(since: date, days: int) -> date:
    """The day that is so many working days (Monday to Friday) after a day."""
    found = since
    while days > 0:
        found += timedelta(days=1)
        days -= found.weekday() < _SATURDAY
    return found


def first_day_to_dig(called: date, wait_days: int, count: Count) -> date:
    """The first day after so many full days of notice; the day of the call is not one of them."""
    if count == "calendar":
        return called + timedelta(days=wait_days + 1)
    return after_working_days(called, wait_days + 1)


def set_name(state: str) -> str:
    """The name under which a job chooses a state's starter set."""
    return f"{state}, locating only"


@lru_cache(maxsize=1)
def starter_sets() -> tuple[RuleSet, ...]:
    """One rule set a state: its locating rules, everything else from the generic set."""
    file = resources.files("fieldbook.trade.rules").joinpath("locating.toml")
    states: list[dict[str, Any]] = tomllib.loads(file.read_text("utf-8"))["state"]
    return tuple(_rule_set(state) for state in states)


def _rule_set(state: Mapping[str, Any]) -> RuleSet:
    """A state's set; each figure carries the words it was read from and how they were read."""
    name = set_name(state["name"])
    read = f"{state['law']}, read {READ_ON.isoformat()}"
    rules = {key: LocalRule(key, value, f"{read}: {said}", name) for key, value, said in _of(state)}
    authority = f"{state['name']}: its notification centre decides"
    return RuleSet(name, READ_ON, GENERIC, authority, rules)


def _of(state: Mapping[str, Any]) -> Iterator[tuple[str, RuleValue, str]]:
    """Each rule of a state: key, value, and what was read."""
    days, words = state["wait"]
    yield "locate_wait_days", float(days), f"“{words}”, taken as {_FULL_DAYS}."
    yield "locate_wait_count", "working", f"“{words}”."
    if "life" in state:
        days, count, since, first_day, words = state["life"]
        yield "locate_expiry_days", float(days), f"“{words}”."
        yield "locate_expiry_count", count, f"“{words}”."
        yield "locate_expiry_since", since, f"“{words}”."
        yield "locate_expiry_first_day", first_day, f"“{words}”."
    if "zone" in state:
        inches, words = state["zone"]
        yield "tolerance_in", float(inches), f"“{words}”, on each side of the mark."
    if "answers" in state:
        yield "locate_answers_required", True, f"“{state['answers']}”."
