"""Rule sets from TOML files: what a jurisdiction sets, what it inherits, and from which day on.

    name = "Springfield"                 # how a job chooses it
    effective = 2026-01-01               # in force from this day
    inherits = "generic"                 # the set that gives every rule it does not set
    authority = "City of Springfield, plumbing division"

    [rules."cover_in.mainline"]
    value = 14
    source = "City code 15.01.840"

Every rule has a value and its source; `keys` says what each takes. The days and hours of watering
are a table of their own, [watering], which `fieldbook.trade.watering.law_reading` explains. Nothing
here is law: the authority having jurisdiction decides.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from difflib import get_close_matches
from functools import lru_cache
from importlib import resources

from fieldbook.trade.rules.keys import (
    REMOVED_KEYS,
    RULE_KEYS,
    WATERING,
    RuleKey,
    RuleValue,
    value_of,
)
from fieldbook.trade.watering.law_reading import law_of, text_of

GENERIC = "generic"
_TOP = {"name", "effective", "inherits", "authority", "rules", WATERING}
_LONGEST = 400


class RuleFileError(ValueError):
    """A rule file that is wrong: one sentence with the line and how to mend it."""


@dataclass(frozen=True)
class LocalRule:
    """One rule: its value, its source, and the name of the set that gives it."""

    key: str
    value: RuleValue
    source: str
    set_name: str


@dataclass(frozen=True)
class RuleSet:
    """One edition of a set, with its own rules by key, those it inherits left out."""

    name: str
    effective: date
    inherits: str
    authority: str
    rules: Mapping[str, LocalRule]


def parse_rules(text: str) -> RuleSet:
    """Read a rule file. Raises RuleFileError, which names the line, for a file that is wrong."""
    document = _parse_toml(text)
    for key in document:
        if key not in _TOP:
            raise _error(text, key, f"{key} is no part of a rule file: remove it")
    name, effective = document.get("name"), document.get("effective")
    if not isinstance(name, str) or not name.strip() or not name.isprintable():
        raise _error(text, "name", 'name is missing: write name = "..."')
    if not isinstance(effective, date):
        raise _error(text, "effective", "effective takes a day such as 2026-01-01")
    inherits = document.get("inherits", "" if name == GENERIC else GENERIC)
    authority = document.get("authority", "")
    if not isinstance(inherits, str) or not isinstance(authority, str):
        raise _error(text, "inherits", "inherits and authority take words")
    tables = document.get("rules", {})
    if not isinstance(tables, dict):
        raise _error(text, "rules", 'rules are tables: write [rules."cover_in.mainline"]')
    rules = {key: _rule(text, name, key, table) for key, table in tables.items()}
    if WATERING in document:
        rules[WATERING] = _watering(text, name, document[WATERING])
    return RuleSet(name.strip(), effective, inherits, authority, rules)


def _parse_toml(text: str) -> dict[str, object]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        # "Invalid value (at line 6, column 9)": the line goes first, as in every other sentence.
        words = re.sub(r" \(at (line \d+)[^)]*\)", "", str(error))
        found = re.search(r"at line (\d+)", str(error))
        line = found[1] if found else str(text.count("\n") + 1)
        raise RuleFileError(f"Line {line}: {words[:1].lower()}{words[1:]}.") from error


def _watering(text: str, name: str, table: object) -> LocalRule:
    """The watering rule of a set: its whole table is one value, since its limits hold together."""
    try:
        return LocalRule(WATERING, text_of(table), law_of(table).source, name)
    except ValueError as error:
        raise _error(text, WATERING, f"{WATERING} {error}") from error


def _rule(text: str, name: str, key: str, table: object) -> LocalRule:
    rule = RULE_KEYS.get(key)
    if key in REMOVED_KEYS:
        raise _error(text, key, f"{key} is no rule any more, since no check used it: remove it")
    if rule is None:
        near = get_close_matches(key, RULE_KEYS, n=3, cutoff=0.0)
        raise _error(text, key, f"{key[:60]} is no rule here: did you mean {' or '.join(near)}")
    if not isinstance(table, dict) or set(table) - {"value", "source"}:
        raise _error(text, key, f"{key} takes a value and a source, nothing else")
    source = table.get("source")
    if not isinstance(source, str) or not source.strip() or len(source) > _LONGEST:
        raise _error(text, key, f"{key} needs its source: the code and section, or who says so")
    try:
        value = value_of(rule, table.get("value"))
        _check_words(rule, value)
    except ValueError as error:
        raise _error(text, key, f"{key} {error}") from error
    return LocalRule(key, value, source.strip(), name)


def _check_words(rule: RuleKey, value: RuleValue) -> None:
    """Refuse words that can't be shown, or are not among those that a rule is limited to."""
    if isinstance(value, bool | float):
        return
    for word in (value,) if isinstance(value, str) else value:
        if not word.isprintable() or len(word) > _LONGEST:
            raise ValueError(f"takes words of at most {_LONGEST} characters")
        if rule.words and word not in rule.words:
            raise ValueError(f"takes {', '.join(rule.words)}, not {word[:40]}")


def _error(text: str, key: str, words: str) -> RuleFileError:
    """The error, with the number of the line that names the key."""
    begins = (f'[rules."{key}"]', f"[rules.{key}]", f"[{key}]", f"{key} ", f"{key}=", f'"{key}"')
    for number, line in enumerate(text.splitlines(), start=1):
        if line.strip().startswith(begins):
            return RuleFileError(f"Line {number}: {words}.")
    return RuleFileError(f"Line 1: {words}.")


@lru_cache(maxsize=1)
def generic() -> RuleSet:
    """The generic set, which is shipped; every other set inherits from it in the end."""
    shipped = resources.files("fieldbook.trade.rules").joinpath("generic.toml")
    return parse_rules(shipped.read_text("utf-8"))


def in_force(sets: Iterable[RuleSet], on: date) -> dict[str, RuleSet]:
    """For each name of a set, the newest edition that is in force on a day."""
    found: dict[str, RuleSet] = {}
    for edition in sorted(sets, key=lambda edition: edition.effective):
        if edition.effective <= on:
            found[edition.name] = edition
    return found


def resolved(name: str, sets: Sequence[RuleSet], on: date) -> dict[str, LocalRule]:
    """Every rule of a set by key, with those it inherits.

    Raises RuleFileError if a set on the way is not in force on that day, or inherits from itself.
    """
    known = {GENERIC: generic(), **in_force(sets, on)}
    chain: list[RuleSet] = []
    at = name
    while at:
        if at not in known:
            after = f", which {chain[-1].name} inherits from" if chain else ""
            raise RuleFileError(f"No rule set {at}{after} is in force on {on.isoformat()}.")
        if known[at] in chain:
            raise RuleFileError(f"The rule set {at} inherits from itself.")
        chain.append(known[at])
        at = known[at].inherits
    found: dict[str, LocalRule] = {}
    # The generic set first, so that a set's own rules replace those it inherits.
    for rule_set in reversed(chain):
        found.update(rule_set.rules)
    return found
