"""Partial jobs: only what is known is called sound, and nothing is asked before its work is there.

A partial job is a sound one, at any stage of its work, in which cells and whole tables are blank.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any, NamedTuple, get_args

from builders import (
    TODAY,
    all_signed,
    assembly,
    bare_job,
    checked,
    field_test,
    put,
    sound_job,
    sound_up_to,
    without,
)
from examples import examples
from hypothesis import HealthCheck, given
from hypothesis import strategies as st

from fieldbook.checks.looked import STAGES
from fieldbook.checks.progress.stages import stage_of
from fieldbook.checks.registry import CHECKS, verdicts
from fieldbook.checks.verdicts import Answer, Word
from fieldbook.records.base import columns_of
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.trade.backflow import AVB_KINDS, BACKFLOW_KINDS

WORDS = set(get_args(Word))
NAMES_A_ROW = {
    "id",
    "job_id",
    "entered_by",
    "entered_at",
    "number",
    "role",
    "kind",
    "name",
    "thing",
}
LINKS = {"zone_id", "cable_id", "run_id", "position", "after", "ticket_id", "assembly_id"}
"""Columns that tell which row it is: without them it is another row, not a blank in this one."""


class Cell(NamedTuple):
    """One entered cell of a job."""

    table: str
    row_id: str
    column: str


def entered(job: LoadedJob) -> list[Cell]:
    """Every cell of a job's work in which something is entered."""
    return [
        Cell(table, row.id, column)
        for table, rows in job.tables().items()
        if table not in ("sign_off", "job")
        for row in rows
        for column, value in row.values().items()
        if value not in (None, "") and column not in NAMES_A_ROW | LINKS
    ]


def blanked(job: LoadedJob, cells: Iterable[Cell]) -> LoadedJob:
    """The job with these cells blank."""
    for table, row_id, column in cells:
        blank: Any = None if columns_of(TABLES[table])[column].optional else ""
        job = put(job, table, row_id, **{column: blank})
    return job


def with_assembly(kind: str) -> LoadedJob:
    """The sound job with an assembly of another kind."""
    tests = () if kind in AVB_KINDS else (field_test(kind),)
    return replace(sound_job(1), backflow_assemblies=(assembly(kind),), backflow_tests=tests)


STARTS = (
    *(sound_up_to(stage, 1) for stage in STAGES),
    *(with_assembly(kind) for kind in BACKFLOW_KINDS if kind != "DC"),
    all_signed(sound_job(1)),
)
CELLS = {id(job): entered(job) for job in STARTS}


@st.composite
def partial_job(draw: st.DrawFn) -> LoadedJob:
    """A sound job with some cells and tables blank."""
    job = draw(st.sampled_from(STARTS))
    gone = draw(st.lists(st.sampled_from(sorted(TABLES)), max_size=3, unique=True))
    cells = draw(st.lists(st.sampled_from(CELLS[id(job)]), max_size=12, unique=True))
    return without(blanked(job, cells), *(table for table in gone if table != "job"))


@examples(80, list(HealthCheck))
@given(partial_job())
def test_every_answer_is_one_of_four_words_and_only_what_is_known_is_sound(job: LoadedJob) -> None:
    found = checked(job)
    assert {answer.word for answer in found.answers} <= WORDS
    for answer in found.answers:
        if answer.word == "sound":
            assert answer.missing == ()
            assert all(flag.severity == "note" for flag in answer.flags)
        if answer.word in ("not checked", "not due"):
            assert answer.missing
        for missing in answer.missing:
            assert missing.words.strip()
            assert missing.at.table in TABLES
    assert (found.headline == "") is False


def by_thing(answers: Iterable[Answer]) -> dict[tuple[str, str], Answer]:
    """Answers by check and thing."""
    return {(answer.check, answer.thing): answer for answer in answers if answer.thing}


@examples(80, list(HealthCheck))
@given(st.data())
def test_with_fewer_entries_nothing_becomes_sound(data: st.DataObject) -> None:
    """What was not sound for want of an entry is not sound with still fewer entries."""
    start = data.draw(st.sampled_from(STARTS))
    cells = data.draw(st.lists(st.sampled_from(CELLS[id(start)]), max_size=8, unique=True))
    more = data.draw(st.lists(st.sampled_from(CELLS[id(start)]), max_size=4, unique=True))
    some = blanked(start, cells)
    fewer = blanked(some, more)
    after = by_thing(verdicts(fewer, TODAY, None, "close").answers)
    for key, answer in by_thing(verdicts(some, TODAY, None, "close").answers).items():
        if answer.missing and key in after:
            assert after[key].word != "sound", (key, answer.missing, more)


ANSWERED_ELSEWHERE = {"rise_ft", "dug_from", "dug_until"}
"""A head's own elevation serves for a rise; without a day of digging today's ticket is asked."""


def test_a_blank_that_leaves_something_unchecked_is_asked_for_at_its_own_cell() -> None:
    wrong = set()
    for start in (sound_job(1), with_assembly("RP"), with_assembly("AVB")):
        before = by_thing(verdicts(start, TODAY, None, "close").answers)
        for cell in entered(start):
            after = by_thing(verdicts(blanked(start, [cell]), TODAY, None, "close").answers)
            for key, answer in after.items():
                if cell.column in ANSWERED_ELSEWHERE or key[0] == "positions":
                    continue
                if key in before and before[key].word == "sound" and answer.word == "not checked":
                    asked = {(one.at.table, one.at.row_id, one.at.column) for one in answer.missing}
                    if cell not in asked:
                        wrong.add((key, cell))
    assert wrong == set()


@examples(60, list(HealthCheck))
@given(partial_job())
def test_nothing_is_open_before_its_work_has_begun(job: LoadedJob) -> None:
    reached = STAGES.index(stage_of(job))
    due = {check.name: STAGES.index(check.due) for check in CHECKS}
    if not job.backfills:
        for answer in checked(job).not_checked:
            assert due[answer.check] <= reached, answer


def test_a_new_property_has_at_most_three_open_checks() -> None:
    assert checked(bare_job()).open_count <= 3
    assert checked(replace(bare_job(), zones=sound_job(3).zones)).open_count <= 3 + 2 * 3
