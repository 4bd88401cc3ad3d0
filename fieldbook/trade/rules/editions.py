"""A jurisdiction's rules from a TOML file, inheriting from another set, in force from a day on.

    name = "Springfield"                 # how a job chooses it
    effective = 2026-01-01               # in force from this day
    inherits = "generic"                 # whatever it does not say is taken from there
    authority = "City of Springfield, plumbing division"

    [rules."cover_in.mainline"]
    value = 14
    source = "City code 15.01.840"

Every rule has a value and its source; what each takes is in `rule_keys`. Nothing here is law: the
authority having jurisdiction decides.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from importlib import resources

from fieldbook.trade.rules.keys import RULE_KEYS, RuleKey, RuleValue

GENERIC = "generic"
_TOP = {"name", "effective", "inherits", "authority", "rules"}
_LONGEST = 400


class RuleFileError(ValueError):
    """One sentence: what is wrong, on which line, and how to mend it."""


@dataclass(frozen=True)
class LocalRule:
    """One rule as it holds: its value, its source, the set that says so."""

    key: str
    value: RuleValue
    source: str
    set_name: str


@dataclass(frozen=True)
class RuleSet:
    """One edition of a set: its own rules by key."""

    name: str
    effective: date
    inherits: str
    authority: str
    rules: Mapping[str, LocalRule]


def parse_rules(text: str) -> RuleSet:
    """Read a rule file. Raises RuleFileError with the line."""
    try:
        held = tomllib.loads(text)
    except tomllib.TOMLDecodeError as why:
        said = re.sub(r" \(at (line \d+)[^)]*\)", "", str(why))
        found = re.search(r"at line (\d+)", str(why))
        line = found[1] if found else str(text.count("\n") + 1)
        raise RuleFileError(f"Line {line}: {said[:1].lower()}{said[1:]}.") from why
    for key in held:
        if key not in _TOP:
            raise _at(text, key, f"{key} is no part of a rule file: remove it")
    name, effective = held.get("name"), held.get("effective")
    if not isinstance(name, str) or not name.strip() or not name.isprintable():
        raise _at(text, "name", 'name is missing: write name = "..."')
    if not isinstance(effective, date):
        raise _at(text, "effective", "effective takes a day such as 2026-01-01")
    inherits = held.get("inherits", "" if name == GENERIC else GENERIC)
    authority = held.get("authority", "")
    if not isinstance(inherits, str) or not isinstance(authority, str):
        raise _at(text, "inherits", "inherits and authority take words")
    rules = held.get("rules", {})
    if not isinstance(rules, dict):
        raise _at(text, "rules", 'rules are tables: write [rules."cover_in.mainline"]')
    read = {key: _rule(text, name, key, one) for key, one in rules.items()}
    return RuleSet(name.strip(), effective, inherits, authority, read)


def _rule(text: str, name: str, key: str, held: object) -> LocalRule:
    known = RULE_KEYS.get(key)
    if known is None:
        raise _at(text, key, f"{key[:60]} is no rule here: use one of {', '.join(RULE_KEYS)}")
    if not isinstance(held, dict) or set(held) - {"value", "source"}:
        raise _at(text, key, f"{key} takes a value and a source, nothing else")
    source = held.get("source")
    if not isinstance(source, str) or not source.strip() or len(source) > _LONGEST:
        raise _at(text, key, f"{key} needs its source: the code and section, or who says so")
    return LocalRule(key, _value(text, key, known, held.get("value")), source.strip(), name)


def _value(text: str, key: str, known: RuleKey, held: object) -> RuleValue:
    if known.kind == "yes or no":
        if not isinstance(held, bool):
            raise _at(text, key, f"{key} takes true or false")
        return held
    if known.kind == "number":
        if isinstance(held, bool) or not isinstance(held, int | float):
            raise _at(text, key, f"{key} takes a number in {known.unit}")
        if not known.low <= held <= known.high:
            span = f"{known.low:g} to {known.high:g} {known.unit}"
            raise _at(text, key, f"{key} goes from {span}, not {held:g}")
        return float(held)
    wanted = known.kind == "list"
    listed: list[object] = held if isinstance(held, list) else [held]
    words = [one for one in listed if isinstance(one, str) and _plain(one)]
    if wanted != isinstance(held, list) or len(words) < len(listed):
        raise _at(text, key, f"{key} takes {'a list of words' if wanted else 'words'}")
    for one in words:
        if known.words and one not in known.words:
            raise _at(text, key, f"{key} takes {', '.join(known.words)}, not {one[:40]}")
    return tuple(words) if wanted else words[0]


def _plain(word: str) -> bool:
    return word.isprintable() and len(word) <= _LONGEST


def _at(text: str, key: str, said: str) -> RuleFileError:
    """The error, with the line that names the key."""
    begins = (f'[rules."{key}"]', f"[rules.{key}]", f"{key} ", f"{key}=", f'"{key}"')
    for number, line in enumerate(text.splitlines(), start=1):
        if line.strip().startswith(begins):
            return RuleFileError(f"Line {number}: {said}.")
    return RuleFileError(f"Line 1: {said}.")


@lru_cache(maxsize=1)
def generic() -> RuleSet:
    """The plainly generic set that is shipped."""
    shipped = resources.files("fieldbook.trade.rules").joinpath("generic.toml")
    return parse_rules(shipped.read_text("utf-8"))


def in_force(sets: Iterable[RuleSet], on: date) -> dict[str, RuleSet]:
    """Of each name the newest edition that is in force on a day."""
    found: dict[str, RuleSet] = {}
    for one in sorted(sets, key=lambda one: one.effective):
        if one.effective <= on:
            found[one.name] = one
    return found


def resolved(name: str, sets: Sequence[RuleSet], on: date) -> dict[str, LocalRule]:
    """Every rule of a set with what it inherits. Raises RuleFileError for a chain that breaks."""
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
    for one in reversed(chain):
        found.update(one.rules)
    return found
