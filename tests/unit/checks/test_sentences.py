"""Every sentence that a crew may read of a record: short, whole, and without private words."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import datetime
from itertools import count
from typing import Any

import pytest
from any_jobs import any_job
from builders import TODAY, all_signed, bare_job, put, sound_job
from examples import examples, few_or_many
from hypothesis import HealthCheck, given

from fieldbook.actions.properties import demo_files
from fieldbook.actions.signing import why_not
from fieldbook.checks.next_step import LONGEST, next_step
from fieldbook.checks.progress.holds import BACKFILL, HOLDS, SIGN_OFFS, unmet
from fieldbook.checks.registry import verdicts
from fieldbook.checks.walk import steps_of
from fieldbook.jobfile.read import read_job
from fieldbook.records.base import facts_of
from fieldbook.records.fact import Fact
from fieldbook.records.loaded_job import FIELD_OF, TABLES, LoadedJob
from fieldbook.records.tables.job import Job

LONGEST_SENTENCE = 200
NOON = datetime(2026, 5, 10, 12)
PRIVATE = re.compile(r"\b(?:None|True|False|null|nan|inf)\b|[a-z]_[a-z]|[{}<>]|Finding|Missing\(")
"""Words of the program, which no crew knows."""


def sentences_of(text: str) -> list[str]:
    """A text as its sentences; a full stop inside a name or figure does not end one."""
    return re.split(r"(?<=[.]) (?=[A-Z])", text)


def assert_readable(text: str, typed: bool) -> None:
    """A text of sentences of at most 200 characters; `typed`: names in it are anything."""
    assert text.endswith("."), text
    assert "  " not in text, text
    assert not text.endswith(".."), text
    for sentence in sentences_of(text):
        assert len(sentence) <= LONGEST_SENTENCE, (len(sentence), sentence)
    assert typed or not PRIVATE.search(text), text


def assert_all_readable(job: LoadedJob, *, typed: bool = False) -> None:
    """Every flag, missing entry, hold, next step and refusal of a job."""
    answers = verdicts(job, TODAY)
    for flag in answers.flags:
        assert len(flag.sentence) <= LONGEST_SENTENCE, (len(flag.sentence), flag.sentence)
        assert len(flag.mend) <= LONGEST_SENTENCE, (len(flag.mend), flag.mend)
        for text in (flag.sentence, flag.mend):
            assert_readable(text, typed)
    for answer in answers.answers:
        for missing in answer.missing:
            assert_words(missing.words, typed)
    assert_readable(answers.headline, typed)
    for step in [*steps_of(job), next_step(job, answers, TODAY)]:
        assert_readable(step.sentence, typed)
        assert len(step.sentence) <= LONGEST, step.sentence
    stretches = [None, *(zone.id for zone in job.zones)]
    signs = [(BACKFILL, zone_id) for zone_id in stretches]
    for kind, zone_id in [*signs, *((kind, None) for kind in SIGN_OFFS)]:
        refusal = why_not(job, kind, zone_id, NOON, answers.answers)
        if refusal:
            assert_readable(refusal, typed)
        for held in unmet(job, kind, zone_id, NOON):
            for missing in held.missing:
                assert_words(missing.words, typed)


def assert_words(words: str, typed: bool) -> None:
    """Words that go into a sentence, such as "the static pressure"."""
    assert 3 < len(words) <= LONGEST_SENTENCE - 60, (len(words), words)
    assert not words.endswith(".") or words.endswith("..."), words
    assert "  " not in words
    assert typed or not PRIVATE.search(words), words


def demo_job(name: str) -> LoadedJob:
    """A demo property in memory."""
    path = next(path for path in demo_files() if path.stem == name)
    file = read_job(path.read_bytes())
    held: dict[str, Any] = {}
    for row in file.rows[1:]:
        values: dict[str, Any] = dict(row.values)
        made = TABLES[row.table](id=row.row_id, job_id=file.job_id, **values)
        once = TABLES[row.table].once
        held[FIELD_OF[row.table]] = made if once else (*held.get(FIELD_OF[row.table], ()), made)
    own: dict[str, Any] = dict(file.rows[0].values)
    return LoadedJob(job=Job(id=file.job_id, **own), **held)


@pytest.mark.parametrize("name", [path.stem for path in demo_files()])
def test_every_sentence_of_a_demo_property_is_readable(name: str) -> None:
    job = demo_job(name)
    assert_all_readable(job)
    for table in job.tables():
        assert_all_readable(put_nothing(job, table))


def put_nothing(job: LoadedJob, table: str) -> LoadedJob:
    """The job without the rows of a table."""
    changes: dict[str, Any] = {FIELD_OF[table]: None if TABLES[table].once else ()}
    return LoadedJob(**{"job": job.job, **_fields(job), **changes})


def _fields(job: LoadedJob) -> dict[str, Any]:
    held: dict[str, Any] = {}
    for table, rows in job.tables().items():
        held[FIELD_OF[table]] = (rows[-1] if rows else None) if TABLES[table].once else rows
    return held


def spoilt(fact: Fact) -> Iterator[object]:
    """Values that a column of a sound job may be changed to: none, the other tick, the limits."""
    yield None if fact.kind not in ("text", "hidden", "when") else ""
    if fact.kind == "tick":
        yield from (True, False)
    if fact.kind in ("amount", "whole"):
        yield from (
            (type(fact.low)(fact.low), fact.high)
            if fact.kind == "amount"
            else (
                int(fact.low),
                int(fact.high),
            )
        )
    if fact.kind == "choice":
        yield from fact.choices
    if fact.kind == "text":
        yield "a name of thirty characters in"
    if fact.kind in ("day", "clock", "when"):
        yield from ("2026-04-01T08:00", "2026-12-24T08:00")
    if fact.kind == "colour":
        yield from ("white", "violet/yellow")


LONG_NAMED = ("zone", "cable", "valve_box", "backflow_assembly", "locate_ticket", "utility_answer")


def long_named() -> LoadedJob:
    """The sound job, signed off, its things with names as long as sentences show them."""
    job = all_signed(sound_job(2, "metric"))
    for table in LONG_NAMED:
        for row in job.tables()[table]:
            facts = facts_of(type(row)).items()
            texts = {name: "W" * 30 for name, fact in facts if fact.kind == "text"}
            job = put(job, table, row.id, **texts)
    return job


@few_or_many("share", 6, 1)
@pytest.mark.parametrize("table", [*TABLES, ""])
def test_every_sentence_of_a_spoilt_job_is_readable(table: str, share: int) -> None:
    """One in `share` of the spoilt jobs is read, others of each table and column."""
    turn = count(len(table))
    for sound in (all_signed(sound_job()), long_named()):
        for row in sound.tables().get(table, ())[:1]:
            for column, fact in facts_of(type(row)).items():
                for value in spoilt(fact) if column != "job_id" else ():
                    if next(turn) % share:
                        continue
                    assert_all_readable(put(sound, table, row.id, **{column: value}))
    if not table:
        assert_all_readable(bare_job())
        assert_all_readable(sound_job(7))


@examples(30, list(HealthCheck))
@given(any_job())
def test_every_sentence_of_any_job_is_readable(job: LoadedJob) -> None:
    assert_all_readable(job, typed=True)


def test_every_hold_says_in_a_few_words_what_it_asks() -> None:
    assert [hold.number for hold in HOLDS] == list(range(1, len(HOLDS) + 1))
    for hold in HOLDS:
        assert len(hold.title) <= 80
        assert not hold.title.endswith(".")
        assert hold.source.endswith(".")
