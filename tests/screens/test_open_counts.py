"""The counts on the tabs are those of the sheets, which are not built to count them."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import product
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from builders import bare_job, sound_job
from examples import few_or_many

from fieldbook.actions.properties import fill_demo
from fieldbook.checks.next_step import next_step_at
from fieldbook.checks.registry import check
from fieldbook.records.base import PLACES, Place, Record, facts_of, new_id
from fieldbook.records.fact import Fact
from fieldbook.records.loaded_job import FIELD_OF, TABLES, LoadedJob
from fieldbook.screens.sheets import BUILDERS, COUNTS
from fieldbook.screens.sheets.sheet import Count
from fieldbook.store.book import Book

_NOT_ON_SHEETS = ("sign_off", "rule")


@cache
def demo_jobs() -> tuple[LoadedJob, ...]:
    with TemporaryDirectory() as folder, Book(Path(folder) / "demo.sqlite") as book:
        fill_demo(book)
        return tuple(book.load(job.id) for job in book.jobs())


def counts(job: LoadedJob) -> dict[str, Count]:
    return {place: COUNTS[place](job) for place in PLACES}


def built(job: LoadedJob) -> dict[str, Count]:
    return {place: BUILDERS[place](job, "us").count() for place in PLACES}


def some_value(pick: random.Random, fact: Fact, job: LoadedJob) -> object:
    """A value that a column of this kind may hold, often None."""
    if pick.random() < 0.3:
        return "" if fact.kind == "text" else None
    if fact.links_to:
        rows = [row.id for rows in job.tables().values() for row in rows]
        return pick.choice([*rows, "no such row"])
    values: dict[str, list[Any]] = {
        "text": ["A", "1", "lawn"],
        "tick": [True, False, None],
        "choice": list(fact.choices),
        "whole": [1, 2, 3, 7],
        "amount": [0.5, 12.0],
        "colour": ["red", "blue", "white"],
        "day": ["2026-05-01"],
        "clock": ["2026-05-01T14:30"],
    }
    return pick.choice(values.get(fact.kind, [None]))


def edited(pick: random.Random, job: LoadedJob) -> LoadedJob:
    """The job with one row added, removed or changed in one column."""
    table = pick.choice([table for table in TABLES if table not in _NOT_ON_SHEETS])
    record = TABLES[table]
    rows = list(job.tables()[table])
    facts = {
        column: fact
        for column, fact in facts_of(record).items()
        if column != "job_id" and (fact.kind not in ("hidden", "when") or fact.links_to)
    }
    deed = pick.choice(("add", "change", "change", "change", "remove"))
    if deed == "add" or not rows:
        values = {column: some_value(pick, facts[column], job) for column in facts}
        rows.append(row_of(record, job, new_id(), values))
    else:
        index = pick.randrange(len(rows))
        if deed == "remove":
            del rows[index]
        else:
            column = pick.choice(list(facts))
            value = some_value(pick, facts[column], job)
            rows[index] = row_of(record, job, rows[index].id, {column: value}, rows[index])
    held: Any = tuple(rows)
    if record.once:
        held = rows[-1] if rows else None
    changes: dict[str, Any] = {FIELD_OF[table]: held}
    return replace(job, **changes)


def row_of(
    record: type[Record],
    job: LoadedJob,
    row_id: str,
    values: dict[str, object],
    old: Record | None = None,
) -> Record:
    held: dict[str, Any] = old.values() if old is not None else {}
    return record(**{**held, **values, "id": row_id, "job_id": job.job.id})


def jobs() -> Iterator[LoadedJob]:
    yield bare_job()
    yield sound_job()
    yield from demo_jobs()


def test_the_counts_of_whole_jobs_are_those_of_their_sheets() -> None:
    seen = [counts(job) for job in jobs()]
    assert seen == [built(job) for job in jobs()]
    assert len({tuple(found.values()) for found in seen}) > 3


@few_or_many("seeds_and_edits", (range(1), 20), (range(20), 60))
def test_the_counts_of_jobs_edited_at_random_are_those_of_their_sheets(
    seeds_and_edits: tuple[range, int],
) -> None:
    seeds, edits = seeds_and_edits
    for seed, start in product(seeds, jobs()):
        pick, job = random.Random(seed), start
        for _ in range(edits):
            job = edited(pick, job)
            assert counts(job) == built(job)


@pytest.mark.parametrize("place", PLACES)
def test_the_next_step_and_the_mend_of_a_flag_are_cells_of_the_sheet(place: Place) -> None:
    for job in jobs():
        rows = {(cell.at.table, cell.at.row_id) for cell in BUILDERS[place](job, "us").cells()}
        cells = {cell.at for cell in BUILDERS[place](job, "us").cells()}
        step = next_step_at(job, place)
        if step is not None and step.at is not None:
            assert step.at in cells
        for finding in check(job):
            if finding.place == place:
                assert (finding.at.table, finding.at.row_id) in rows, finding
