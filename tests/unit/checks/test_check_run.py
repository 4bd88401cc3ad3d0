"""All checks together, on arbitrary jobs: no exception, whole flags, stops first."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from any_jobs import DAYS, any_job
from builders import JOB, TODAY, bare_job, pressure_tested, put, signed_off, sound_job, without
from examples import examples
from hypothesis import HealthCheck, given
from hypothesis import strategies as st

from fieldbook.checks.registry import check, counts, flags_hold_until, verdicts
from fieldbook.checks.severity import SEVERITIES
from fieldbook.records.base import PLACES, facts_of
from fieldbook.records.ids import backfill_id, flush_id, once_id, valve_id
from fieldbook.records.loaded_job import FIELD_OF, TABLES, LoadedJob

DATED = ("day", "clock", "when")


@examples(120, list(HealthCheck))
@given(any_job())
def test_no_job_makes_a_check_raise_and_every_flag_is_complete(job: LoadedJob) -> None:
    answers = verdicts(job, TODAY)
    findings = answers.flags
    for finding in findings:
        assert finding.code
        assert finding.source
        assert finding.at.table in TABLES
        assert finding.at.row_id
    ranks = [(SEVERITIES.index(f.severity), PLACES.index(f.place)) for f in findings]
    assert ranks == sorted(ranks)
    assert sum(counts(findings).values()) == len(findings)


@given(st.lists(st.sampled_from(sorted(TABLES)), unique=True))
def test_a_sound_job_without_some_tables_has_no_flags(gone: list[str]) -> None:
    """What is not entered yet is no flag, unless a signature, a wire or a trench relies on it."""
    job = put(sound_job(), "locate_ticket", "ticket-1", dug_from=None, dug_until=None)
    job = without(job, "backfill", "terminal", *gone)
    assert check(job, TODAY) == ()


@pytest.mark.parametrize("day", DAYS)
@pytest.mark.parametrize("table", sorted(TABLES))
def test_no_date_makes_a_check_fail(table: str, day: str) -> None:
    """A date of another program may lie where a week before or after it is no date at all."""
    columns = [name for name, fact in facts_of(TABLES[table]).items() if fact.kind in DATED]
    held: Any = TABLES[table](id="a", job_id=JOB, **dict.fromkeys(columns, day))
    changes: dict[str, Any] = {FIELD_OF[table]: held if TABLES[table].once else (held,)}
    job = replace(sound_job(), **changes)
    assert isinstance(check(job, TODAY), tuple)
    assert flags_hold_until(job, TODAY) >= TODAY


def test_a_new_and_a_sound_property_have_no_flags() -> None:
    assert check(bare_job(), TODAY) == ()
    assert check(signed_off(sound_job(6)), TODAY) == ()


def test_checking_twice_gives_the_same_flags_stops_first() -> None:
    job = put(sound_job(), "supply", once_id(JOB, "supply"), static_psi=95.0)
    test = pressure_tested(None, start_psi=96.0, end_psi=95.0)
    job = replace(job, pressure_tests=(test,))
    job = put(job, "valve", valve_id("zone-1"), splice_waterproof=False)
    job = put(job, "flush", flush_id("zone-1"), ran_clear=False)
    job = put(job, "backfill", backfill_id(JOB, "zone-2"), heads_plumb=False)
    job = signed_off(job)
    findings = check(job, TODAY)
    assert findings == check(job, TODAY)
    assert [(f.severity, f.place) for f in findings] == [
        ("stop", "ground"),
        ("stop", "ground"),
        ("fix", "street"),
        ("fix", "boxes"),
        ("fix", "ground"),
        ("fix", "ground"),
    ]
    assert counts(findings) == {"stop": 2, "fix": 4, "note": 0}
