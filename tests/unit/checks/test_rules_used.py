"""Every rule that a jurisdiction may set is read by some check; a removed one says so."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import datetime

import pytest
from builders import (
    all_signed,
    assembly,
    checked,
    codes,
    field_test,
    put,
    ruled,
    sound_job,
    without,
)
from seasons.season_jobs import closed

from fieldbook.checks.common import job_rules
from fieldbook.checks.progress.holds import SIGN_OFFS, unmet
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.trade.backflow import AVB_KINDS, BACKFLOW_KINDS
from fieldbook.trade.rules.editions import LocalRule, RuleFileError, parse_rules
from fieldbook.trade.rules.keys import REMOVED_KEYS, RULE_KEYS

NOW = datetime(2026, 5, 10, 12)


class Watched(Mapping[str, LocalRule]):
    """The rules of a job, and the keys of those that were looked up."""

    def __init__(self, rules: Mapping[str, LocalRule], read: set[str]) -> None:
        """Watch `rules`."""
        self._rules, self._read = rules, read

    def __getitem__(self, key: str) -> LocalRule:
        """The rule, noted as read."""
        self._read.add(key)
        return self._rules[key]

    def __iter__(self) -> Iterator[str]:
        """The keys, not noted."""
        return iter(self._rules)

    def __len__(self) -> int:
        """How many rules there are."""
        return len(self._rules)


def many_jobs() -> Iterator[LoadedJob]:
    """Jobs that between them hold every kind of assembly, hazard, test and trench."""
    for kind in BACKFLOW_KINDS:
        tests = () if kind in AVB_KINDS else (field_test(kind),)
        yield replace(sound_job(1), backflow_assemblies=(assembly(kind),), backflow_tests=tests)
    base = sound_job(1)
    assert base.supply is not None
    for hazard in ("chemicals", "septic", "second_source", "pump"):
        yield put(base, "supply", base.supply.id, **{hazard: True})
    yield put(base, "supply", base.supply.id, pump=True, pump_side="before the assembly")
    yield put(base, "cable", "cable-1", under_driveway=True)
    yield closed(base, breaker_off=None)
    yield put(base, "locate_ticket", "ticket-1", clear_on=None)
    yield put(base, "locate_ticket", "ticket-1", dug_from="2026-04-10")
    yield put(base, "programme", "A", name="A", days="Mon", starts="05:00")
    signed = all_signed(without(base, "backflow_test", "utility_answer"))
    override = {"override_by": "Al Boss", "override_reason": "seen by me"}
    rows = [
        row.with_values(**override, overridden="hold 2, hold 9, hold 12, hold 13")
        for row in signed.sign_offs
    ]
    yield replace(signed, sign_offs=tuple(rows))


def test_every_rule_is_read_by_some_check(monkeypatch: pytest.MonkeyPatch) -> None:
    read: set[str] = set()
    real = job_rules.rules_of
    monkeypatch.setattr(job_rules, "rules_of", lambda job: Watched(real(job), read))
    for job in many_jobs():
        checked(job)
        for kind in ("backfill", *SIGN_OFFS):
            unmet(job, kind, None, NOW)
    assert set(RULE_KEYS) - read == set()


@pytest.mark.parametrize("key", REMOVED_KEYS)
def test_a_rule_file_that_names_a_removed_rule_is_refused_in_a_plain_sentence(key: str) -> None:
    text = (
        'name = "Springfield"\neffective = 2026-01-01\n'
        f'[rules."{key}"]\nvalue = 4\nsource = "Code 1"\n'
    )
    with pytest.raises(RuleFileError) as why:
        parse_rules(text)
    said = str(why.value)
    assert said == f"Line 3: {key} is no rule any more, since no check used it: remove it."
    assert len(said) <= 200


def test_an_unknown_rule_names_those_that_are_near() -> None:
    text = 'name = "S"\neffective = 2026-01-01\n[rules."cover_in.main"]\nvalue = 4\nsource = "1"\n'
    with pytest.raises(RuleFileError, match=r"did you mean cover_in\.mainline or ") as why:
        parse_rules(text)
    assert len(str(why.value)) <= 200


@pytest.mark.parametrize("key", REMOVED_KEYS)
def test_a_row_of_a_removed_rule_in_an_older_book_is_not_read(key: str) -> None:
    job = ruled(sound_job(1), key, "any")
    assert codes(job) == []
    assert key not in job_rules.rules_of(job)
