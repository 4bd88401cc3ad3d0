"""All checks together, on arbitrary jobs: no exception, short whole sentences, stops first."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from builders import JOB, TODAY, bare_job, pressure_tested, put, signed_off, sound_job, without
from examples import examples
from hypothesis import HealthCheck, given
from hypothesis import strategies as st

from fieldbook.checks.finding import SEVERITIES
from fieldbook.checks.next_step import next_step
from fieldbook.checks.registry import check, counts, flags_hold_until, verdicts
from fieldbook.records.base import PLACES, Record, facts_of
from fieldbook.records.ids import backfill_id, flush_id, once_id, valve_id
from fieldbook.records.loaded_job import FIELD_OF, TABLES, LoadedJob

IDS = ("a", "b", "c", "zone-1", "zone-2", "cable-1")
WORDS = ("", "white", "red", "[/]", "1", "PVB", "pvc sch 40", "zone", "common", "master", "x" * 400)
DAYS = ("0001-01-01", "1900-01-02", "2026-05-01T14:30", "2026-02-31", "9999-12-31T23:59")
LONGEST_SENTENCE = 400
DATED = ("day", "clock", "when")


def values_of(record: type[Record], column: str) -> st.SearchStrategy[Any]:
    """Any value of a column's type, sound or absurd about equally often."""
    fact = facts_of(record).get(column)
    kinds = str(record.model_fields[column].annotation)
    blank = st.none() if "None" in kinds else st.just("")
    if "float" in kinds:
        return blank | st.floats() | st.sampled_from((0.0, 1.0, 30.0, 1e308, -5.0))
    if "bool" in kinds:
        return blank | st.booleans()
    if "int" in kinds:
        return blank | st.integers(-3, 12) | st.integers()
    words = st.sampled_from((*WORDS, *DAYS)) | st.text(max_size=60)
    if fact is not None and fact.choices:
        words |= st.sampled_from(fact.choices)
    if fact is not None and fact.links_to:
        words |= st.sampled_from(IDS)
    return blank | words


def rows_of(record: type[Record]) -> st.SearchStrategy[Any]:
    """Rows of a table with any of its columns filled."""
    own = [name for name in record.model_fields if name not in ("id", "job_id")]
    columns = {name: values_of(record, name) for name in own}
    return st.builds(
        lambda row_id, held: record(id=row_id, job_id=JOB, **held),
        st.sampled_from(IDS),
        st.fixed_dictionaries({}, optional=columns),
    )


TABLE_ROWS = {name: rows_of(record) for name, record in TABLES.items()}


@st.composite
def any_job(draw: st.DrawFn) -> LoadedJob:
    """A job of arbitrary rows, or a sound one with arbitrary rows put among its own."""
    job = draw(st.sampled_from((bare_job(), sound_job(), sound_job(2, "metric"))))
    for table in draw(st.lists(st.sampled_from(sorted(TABLES)), max_size=6, unique=True)):
        new = tuple(draw(st.lists(TABLE_ROWS[table], min_size=1, max_size=4)))
        held: Any = new[0] if TABLES[table].once else (*job.tables()[table], *new)
        changes: dict[str, Any] = {FIELD_OF[table]: held}
        job = replace(job, **changes)
    return job


@examples(120, list(HealthCheck))
@given(any_job())
def test_no_job_makes_a_check_raise_and_every_flag_is_complete(job: LoadedJob) -> None:
    answers = verdicts(job, TODAY)
    findings = answers.flags
    for finding in findings:
        assert 10 < len(finding.sentence) <= LONGEST_SENTENCE, finding.sentence
        assert finding.sentence.endswith(".")
        assert 10 < len(finding.mend) <= LONGEST_SENTENCE, finding.mend
        assert finding.code
        assert finding.source
        assert finding.at.table in TABLES
        assert finding.at.row_id
    ranks = [(SEVERITIES.index(f.severity), PLACES.index(f.place)) for f in findings]
    assert ranks == sorted(ranks)
    assert sum(counts(findings).values()) == len(findings)
    step = next_step(job, answers, TODAY)
    assert step.sentence.endswith(".")
    assert len(step.sentence) <= LONGEST_SENTENCE


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
