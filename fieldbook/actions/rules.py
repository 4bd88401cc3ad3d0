"""Choose a firm's rule set for a job, and compare the job with another set.

Rule files are TOML, in the folder "rules" beside the book. The chosen rules are copied into the
job, so that every laptop checks it against the same ones.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.common.job_rules import rules_of
from fieldbook.checks.finding import Finding
from fieldbook.checks.registry import verdicts
from fieldbook.checks.verdicts import Answer, Verdicts
from fieldbook.records.base import natural_id
from fieldbook.records.ids import once_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.local_rules import RuleRow
from fieldbook.store.changes import Change, Put, Remove
from fieldbook.trade.rules.editions import (
    GENERIC,
    LocalRule,
    RuleFileError,
    RuleSet,
    generic,
    in_force,
    parse_rules,
    resolved,
)
from fieldbook.trade.rules.keys import RULE_KEYS, WATERING, to_text, value_in_words
from fieldbook.trade.rules.locating import starter_sets
from fieldbook.trade.watering.place_laws import places

FOLDER = "rules"
_LARGEST = 1_000_000


@dataclass(frozen=True)
class KnownSets:
    """The editions that could be read, and a sentence for each file that could not."""

    sets: tuple[RuleSet, ...]
    refused: tuple[str, ...]

    def names(self, on: date) -> list[str]:
        """The sets in force on a day: the generic one, the firm's own, the starters by state."""
        shipped = [rule_set.name for rule_set in starter_sets()]
        held = sorted(name for name in in_force(self.sets, on) if name != GENERIC)
        return [GENERIC, *sorted(held, key=lambda name: name in shipped)]


def known_sets(book_path: Path) -> KnownSets:
    """The starter sets that are shipped, and every rule file beside a book, which wins by name."""
    sets: list[RuleSet] = list(starter_sets())
    refused: list[str] = []
    for path in sorted((book_path.parent / FOLDER).glob("*.toml")):
        try:
            if path.stat().st_size > _LARGEST:
                raise RuleFileError("Line 1: the file is larger than a rule file can be.")
            sets.append(parse_rules(path.read_text("utf-8")))
        except (OSError, UnicodeDecodeError) as error:
            refused.append(f"{path.name} can't be read ({error}).")
        except RuleFileError as error:
            refused.append(f"{path.name}: {error}")
    return KnownSets(tuple(sets), tuple(refused))


def choose_rules(open_job: OpenJob, name: str, on: date | None = None) -> None:
    """Copy the rules of a set into the job, as one act; only those unlike the generic set.

    `on` is the day whose edition counts, today unless given. Raises RefusedError where no set has
    that name.
    """
    job, changes = open_job.job, list[Change]()
    dropped = {row.key: row for row in job.rules}
    for key, rule in _resolved(open_job, name, on or date.today()).items():
        if generic().rules.get(key) == rule:
            continue
        dropped.pop(key, None)
        row_id = _rule_id(job, key)
        for column, value in _columns(rule).items():
            changes.append(Put("rule", row_id, column, value, {"key": key}))
    watering = dropped.get(WATERING)
    if watering is not None and watering.set_name in places():
        # The published rule of a place was chosen beside the rule set, and stays.
        del dropped[WATERING]
    changes += [Remove("rule", row.id) for row in dropped.values()]
    row_id = job.local_rules.id if job.local_rules else once_id(job.job.id, "local_rules")
    changes.append(Put("local_rules", row_id, "rule_set", "" if name == GENERIC else name))
    open_job.commit(changes, f"rule set {name}")


def _rule_id(job: LoadedJob, key: str) -> str:
    return natural_id(job.job.id, "rule", key)


def _columns(rule: LocalRule) -> Mapping[str, str]:
    """A rule as the columns of its row."""
    return {"value": to_text(rule.value), "source": rule.source, "set_name": rule.set_name}


def _resolved(open_job: OpenJob, name: str, on: date) -> dict[str, LocalRule]:
    """The rules of a set on a day, those it inherits too. Raises RefusedError."""
    known = known_sets(open_job.book.path)
    try:
        return resolved(name, known.sets, on)
    except RuleFileError as error:
        broken = f" {known.refused[0]}" if known.refused else ""
        raise RefusedError(f"{error}{broken}") from error


@dataclass(frozen=True)
class Difference:
    """One rule that differs: its label, its value in the job and in the other set, its source."""

    label: str
    here: str
    there: str
    source: str


@dataclass(frozen=True)
class Comparison:
    """A job under another rule set: the rules that differ, the flags that would come and go.

    `opened` are the things that would not be checked there though they are here, with what they
    would lack; `settled` those that are not checked here alone.
    """

    name: str
    differences: tuple[Difference, ...]
    come: tuple[Finding, ...]
    go: tuple[Finding, ...]
    opened: tuple[Answer, ...]
    settled: tuple[Answer, ...]


def compare(open_job: OpenJob, name: str, on: date | None = None) -> Comparison:
    """Check the job under another rule set; nothing is kept.

    `on` as in `choose_rules`. Raises RefusedError where no set has that name.
    """
    day = on or date.today()
    here, there = rules_of(open_job.job), _resolved(open_job, name, day)
    differences = tuple(
        _difference(key, here[key], rule)
        for key, rule in there.items()
        if here[key].value != rule.value
    )
    now, then = verdicts(open_job.job, day), verdicts(_under(open_job.job, there), day)
    return Comparison(
        name,
        differences,
        _unlike(then.flags, now.flags),
        _unlike(now.flags, then.flags),
        _open_only_in(then, now),
        _open_only_in(now, then),
    )


def _difference(key: str, here: LocalRule, there: LocalRule) -> Difference:
    label = RULE_KEYS[key].label
    return Difference(
        label, value_in_words(key, here.value), value_in_words(key, there.value), there.source
    )


def _under(job: LoadedJob, rules: Mapping[str, LocalRule]) -> LoadedJob:
    """The job with these rules in place of its own."""
    rows = tuple(
        RuleRow(id=_rule_id(job, key), job_id=job.job.id, key=key, **_columns(rule))
        for key, rule in rules.items()
    )
    return replace(job, rules=rows)


def _open_only_in(these: Verdicts, those: Verdicts) -> tuple[Answer, ...]:
    """The answers that lack an entry in one, and lack less or nothing in the other."""
    known = {(one.check, one.thing): set(one.missing) for one in those.not_checked}
    return tuple(
        answer
        for answer in these.not_checked
        if not set(answer.missing) <= known.get((answer.check, answer.thing), set())
    )


def _unlike(findings: tuple[Finding, ...], others: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """The flags whose code and sentence are in none of the others."""
    known = {(other.code, other.sentence) for other in others}
    return tuple(flag for flag in findings if (flag.code, flag.sentence) not in known)
