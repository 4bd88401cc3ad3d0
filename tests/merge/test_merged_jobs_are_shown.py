"""Whatever laptops did to one property: checks, sheets, papers and questions bear the merge."""

from __future__ import annotations

import json
import random
import tempfile
from collections.abc import Callable, Iterator, Sequence
from functools import cache
from pathlib import Path

import pytest
from laptops import Laptop
from two_books import all_entries

from fieldbook.actions.conflicts import settling
from fieldbook.actions.conflicts.question import Question
from fieldbook.actions.job_files import import_file
from fieldbook.actions.properties import demo_files
from fieldbook.actions.rows import whole_removal
from fieldbook.checks.next_step import next_step_at
from fieldbook.checks.registry import check
from fieldbook.checks.water.zone_status import zone_statuses
from fieldbook.jobfile.write import write_job
from fieldbook.papers.zone_water.zone_sheet import zone_svg
from fieldbook.records.base import PLACES, Record, facts_of, new_id
from fieldbook.records.fact import Fact
from fieldbook.records.ids import head_id
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.records.values import Value
from fieldbook.screens.pages.plan_page import plan_page_lines
from fieldbook.screens.pages.question_lines import question_lines
from fieldbook.screens.pages.wire_page import wire_lines
from fieldbook.screens.sheets import BUILDERS
from fieldbook.store.book import Book
from fieldbook.store.changes import Add, Change, Put, Remove
from fieldbook.store.journal.entry import Entry
from fieldbook.store.load import load_job

_STAMPS = ("job_id", "entered_by", "entered_at")
REMOVABLE = ("zone", "valve_box", "cable", "pipe_run", "backflow_assembly", "conductor", "tie")


@cache
def demo_entries() -> tuple[Entry, ...]:
    """The entries of every demo property."""
    with tempfile.TemporaryDirectory() as folder, Book(Path(folder) / "book.sqlite") as book:
        for path in demo_files():
            import_file(book, path, "DEMO")
        return tuple(all_entries(book))


def job_of(laptop: Laptop, job_id: str) -> LoadedJob:
    with laptop.book.begin():
        return load_job(laptop.book, job_id)


def some_row(pick: random.Random, job: LoadedJob, tables: tuple[str, ...]) -> tuple[str, Record]:
    rows = [(table, row) for table in tables for row in job.tables()[table]]
    return pick.choice(rows)


def removes(pick: random.Random, job: LoadedJob) -> list[Change]:
    return whole_removal(job, [some_row(pick, job, REMOVABLE)])


def removes_one_row(pick: random.Random, job: LoadedJob) -> list[Change]:
    """Remove one row alone, as another program might."""
    table, row = some_row(pick, job, tuple(one for one in TABLES if one != "sign_off"))
    return [Remove(table, row.id)]


def changes_a_cell(pick: random.Random, job: LoadedJob) -> list[Change]:
    table, row = some_row(pick, job, tuple(one for one in TABLES if one != "sign_off"))
    known = {one: fact for one, fact in facts_of(type(row)).items() if one not in _STAMPS}
    column, fact = pick.choice(list(known.items()))
    return [Put(table, row.id, column, some_value(pick, job, fact))]


def some_value(pick: random.Random, job: LoadedJob, fact: Fact) -> Value:
    number = float(pick.choice((fact.low, fact.high, min(max(3.0, fact.low), fact.high))))
    rows = [one.id for one in job.tables().get(fact.links_to, ())]
    by_kind: dict[str, Sequence[Value]] = {
        "amount": (number,),
        "whole": (int(number),),
        "choice": (*fact.choices, None),
        "tick": (True, False, None),
        "colour": ("red", "blue", "white", None),
        "link": (*rows, new_id(), None),
        "hidden": (*rows, new_id()) if fact.links_to else ("",),
        "day": ("2026-05-04", None),
        "clock": (None,),
        "text": ("[/]", "B", ""),
    }
    return pick.choice(by_kind.get(fact.kind, ("",)))


def renumbers(pick: random.Random, job: LoadedJob) -> list[Change]:
    if not job.zones:
        return []
    return [Put("zone", pick.choice(job.zones).id, "number", pick.randint(1, 5))]


def adds(pick: random.Random, job: LoadedJob) -> list[Change]:
    number = len(job.zones) + 1
    zone_id = pick.choice([*(one.id for one in job.zones), None])
    run = new_id()
    return pick.choice(
        [
            [Add("zone", new_id(), {"number": number, "name": "[b]"})],
            [Add("valve_box", new_id(), {"name": "B"})],
            [Add("cable", new_id(), {"name": "2"})],
            [
                Add("pipe_run", run, {"zone_id": zone_id, "number": 1, "after": 1}),
                Add("head", head_id(run), {"run_id": run, "kind": "spray"}),
            ],
        ]
    )


ACTS: tuple[Callable[[random.Random, LoadedJob], list[Change]], ...] = (
    removes,
    removes,
    removes_one_row,
    changes_a_cell,
    changes_a_cell,
    changes_a_cell,
    renumbers,
    adds,
)


def merged(pick: random.Random) -> tuple[list[Laptop], str]:
    """Two or three laptops that changed one property apart and then exchanged; its id."""
    laptops = [Laptop("AB"), Laptop("CD", -3), Laptop("EF", 3)][: pick.choice((2, 2, 3))]
    for laptop in laptops:
        laptop.receive(demo_entries())
    job_id = pick.choice(sorted({one.job_id for one in demo_entries()}))
    for laptop in laptops:
        for _ in range(pick.randint(1, 8)):
            act(pick, laptop, job_id)
    exchange(laptops)
    return laptops, job_id


def act(pick: random.Random, laptop: Laptop, job_id: str) -> None:
    changes = pick.choice(ACTS)(pick, job_of(laptop, job_id))
    if changes:
        laptop.act(job_id, changes)


def exchange(laptops: list[Laptop]) -> None:
    everything = {one.id: one for laptop in laptops for one in laptop.entries()}
    for laptop in laptops:
        laptop.receive(everything.values())


def shown(job: LoadedJob) -> Iterator[object]:
    """Everything that a crew can open of a property."""
    yield check(job)
    for place in PLACES:
        yield next_step_at(job, place)
        for system in ("us", "metric"):
            yield BUILDERS[place](job, system).count().open
    for width in (50, 99):
        yield list(wire_lines(job, width))
        yield list(plan_page_lines(job, width, 12))
        for standing in zone_statuses(job):
            yield zone_svg(job, standing, width=width)
        for question in settling.questions(job, "here"):
            yield list(question_lines(question, width))
    yield json.loads(write_job(job))


@pytest.mark.parametrize("seed", range(24))
def test_a_merged_property_is_shown_whole(seed: int) -> None:
    laptops, job_id = merged(random.Random(seed))
    for _ in shown(job_of(laptops[0], job_id)):
        pass


def answers(question: Question) -> list[tuple[Change, ...]]:
    return [option.changes for option in question.options]


@pytest.mark.parametrize("seed", range(24))
def test_laptops_converge_after_choices_made_apart_and_undone(seed: int) -> None:
    pick = random.Random(1000 + seed)
    laptops, job_id = merged(pick)
    for _ in range(3):
        for laptop in laptops:
            for _ in range(pick.randint(0, 4)):
                asked = settling.questions(job_of(laptop, job_id), "here")
                open_ = [one for one in asked if one.options]
                if open_:
                    laptop.act(job_id, pick.choice(answers(pick.choice(open_))))
                if pick.random() < 0.4:
                    laptop.undo(job_id)
            laptop.check_latest_versions()
        exchange(laptops)
        for laptop in laptops[1:]:
            assert laptop.tables() == laptops[0].tables()
            assert laptop.conflicts() == laptops[0].conflicts()
    for _ in shown(job_of(laptops[0], job_id)):
        pass


def conflicts_and_rows(laptop: Laptop, job_id: str) -> tuple[object, object]:
    """Every conflict with its versions, and every row without who entered it last.

    The version "changed" is left out: beside a removal it may name a later change than before.
    """
    job = job_of(laptop, job_id)
    rows = json.loads(write_job(job))
    text = json.dumps(rows, indent=1).splitlines()
    kept = [line for line in text if '"entered_' not in line and '"signed_at' not in line]
    conflicts = {
        (one.table, one.row_id, one.column, one.kind): [
            version for version in one.versions if version.value != "changed"
        ]
        for one in job.conflicts
    }
    return conflicts, kept


@pytest.mark.parametrize("seed", range(24))
def test_an_undone_choice_opens_the_conflict_with_every_version(seed: int) -> None:
    pick = random.Random(3000 + seed)
    laptops, job_id = merged(pick)
    laptop = laptops[0]
    before = conflicts_and_rows(laptop, job_id)
    for question in settling.questions(job_of(laptop, job_id), "here"):
        for changes in answers(question):
            laptop.act(job_id, changes)
            laptop.undo(job_id)
            assert conflicts_and_rows(laptop, job_id) == before, question
    exchange(laptops)
    assert conflicts_and_rows(laptops[1], job_id) == before


@pytest.mark.parametrize("seed", range(12))
def test_once_every_question_is_answered_none_is_left(seed: int) -> None:
    pick = random.Random(2000 + seed)
    laptops, job_id = merged(pick)
    laptop = laptops[0]
    for _ in range(200):
        asked = [one for one in settling.questions(job_of(laptop, job_id), "here") if one.options]
        if not asked:
            break
        laptop.act(job_id, pick.choice(answers(asked[0])))
    assert not asked
    exchange(laptops)
    left = settling.questions(job_of(laptops[1], job_id), "here")
    assert not any(one.options for one in left)
