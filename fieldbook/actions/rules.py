"""Choose a firm's rule set for a job, and compare the job with another set.

Rule files are TOML, in the folder “rules” beside the book. The rules chosen are kept with the job,
so that it is held to the same ones on every laptop.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.common.job_rules import rules_of
from fieldbook.checks.finding import Finding
from fieldbook.checks.registry import check
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
from fieldbook.trade.rules.keys import RULE_KEYS, to_text, value_in_words

FOLDER = "rules"
_LARGEST = 1_000_000


@dataclass(frozen=True)
class KnownSets:
    """The editions that could be read, and a sentence for each file that could not."""

    sets: tuple[RuleSet, ...]
    refused: tuple[str, ...]

    def names(self, on: date) -> list[str]:
        """The sets in force on a day, the generic one first."""
        return [GENERIC, *sorted(name for name in in_force(self.sets, on) if name != GENERIC)]


def known_sets(book_path: Path) -> KnownSets:
    """Every rule file beside a book."""
    sets: list[RuleSet] = []
    refused: list[str] = []
    for path in sorted((book_path.parent / FOLDER).glob("*.toml")):
        try:
            if path.stat().st_size > _LARGEST:
                raise RuleFileError("Line 1: the file is larger than a rule file can be.")
            sets.append(parse_rules(path.read_text("utf-8")))
        except (OSError, UnicodeDecodeError) as why:
            refused.append(f"{path.name} can't be read ({why}).")
        except RuleFileError as why:
            refused.append(f"{path.name}: {why}")
    return KnownSets(tuple(sets), tuple(refused))


def choose_rules(open_job: OpenJob, name: str, on: date | None = None) -> None:
    """Hold the job to a rule set, as one act. Raises RefusedError with one sentence."""
    rules = _resolved(open_job, name, on or date.today())
    job_id = open_job.job_id
    had = {row.key: row for row in open_job.job.rules}
    changes: list[Change] = []
    for key, rule in rules.items():
        row_id = natural_id(job_id, "rule", key)
        plain = generic().rules.get(key)
        if plain == rule:
            continue
        had.pop(key, None)
        for column, value in (
            ("value", to_text(rule.value)),
            ("source", rule.source),
            ("set_name", rule.set_name),
        ):
            changes.append(Put("rule", row_id, column, value, {"key": key}))
    changes += [Remove("rule", row.id) for row in had.values()]
    chosen = "" if name == GENERIC else name
    row_id = (
        open_job.job.local_rules.id if open_job.job.local_rules else once_id(job_id, "local_rules")
    )
    changes.append(Put("local_rules", row_id, "rule_set", chosen))
    open_job.keep(changes, f"rule set {name}")


def _resolved(open_job: OpenJob, name: str, on: date) -> dict[str, LocalRule]:
    known = known_sets(open_job.book.path)
    try:
        return resolved(name, known.sets, on)
    except RuleFileError as why:
        broken = f" {known.refused[0]}" if known.refused else ""
        raise RefusedError(f"{why}{broken}") from why


@dataclass(frozen=True)
class Difference:
    """One rule that differs: its label, the value here, the value there, and the source there."""

    label: str
    here: str
    there: str
    source: str


@dataclass(frozen=True)
class Comparison:
    """A job held to another set: the rules that differ, the flags that would come and go."""

    name: str
    differences: tuple[Difference, ...]
    come: tuple[Finding, ...]
    go: tuple[Finding, ...]


def compare(open_job: OpenJob, name: str, on: date | None = None) -> Comparison:
    """Hold the job to another set without keeping it. Raises RefusedError with one sentence."""
    day = on or date.today()
    there = _resolved(open_job, name, day)
    here = rules_of(open_job.job)
    differences = tuple(
        Difference(
            RULE_KEYS[key].label,
            value_in_words(key, here[key].value),
            value_in_words(key, rule.value),
            rule.source,
        )
        for key, rule in there.items()
        if here[key].value != rule.value
    )
    now, then = check(open_job.job, day), check(_held_to(open_job.job, there), day)
    before, after = {_mark(one) for one in now}, {_mark(one) for one in then}
    return Comparison(
        name,
        differences,
        tuple(one for one in then if _mark(one) not in before),
        tuple(one for one in now if _mark(one) not in after),
    )


def _held_to(job: LoadedJob, rules: dict[str, LocalRule]) -> LoadedJob:
    rows = tuple(
        RuleRow(
            id=natural_id(job.job.id, "rule", key),
            job_id=job.job.id,
            key=key,
            value=to_text(rule.value),
            source=rule.source,
            set_name=rule.set_name,
        )
        for key, rule in rules.items()
    )
    return replace(job, rules=rows)


def _mark(finding: Finding) -> tuple[str, str]:
    return finding.code, finding.sentence
