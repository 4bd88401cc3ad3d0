"""Whatever names a row follows it when it is joined: of every table, also of one added later."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import replace
from typing import Any

import pytest
from builders import bare_job, row, signed_off, sound_job, zone

from fieldbook.actions.joining.join_rows import join_changes, moving_changes, pair_of
from fieldbook.actions.joining.moved_rows import all_moves, link_columns
from fieldbook.checks.progress.digests import changed
from fieldbook.records import ids
from fieldbook.records.base import columns_of, facts_of
from fieldbook.records.known_by import KNOWN_BY
from fieldbook.records.loaded_job import FIELD_OF, TABLES, LoadedJob
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.store.changes import Add, Change, Put, Remove
from fieldbook.store.journal.merge import NEVER_CHANGED

KEPT, GONE = "0190-kept", "0191-gone"
_OWN = {"id", "job_id"}
LINKS = [
    (table, column)
    for table in TABLES
    if table not in NEVER_CHANGED
    for column in link_columns(table)
]


def after(job: LoadedJob, changes: Iterable[Change]) -> LoadedJob:
    """The job after changes; a cell that is only entered again stays as it is."""
    rows = {table: {row.id: row for row in held} for table, held in job.tables().items()}
    for change in changes:
        there = rows[change.table]
        if isinstance(change, Put):
            there[change.row_id] = there[change.row_id].with_values(**{change.column: change.value})
        elif isinstance(change, Add):
            there[change.row_id] = TABLES[change.table](**{**change.values, "id": change.row_id})  # type: ignore[arg-type]
        elif isinstance(change, Remove):
            del there[change.row_id]
    for table, held in rows.items():
        found = tuple(held.values())
        value = (found[0] if found else None) if TABLES[table].once else found
        field: dict[str, Any] = {FIELD_OF[table]: value}
        job = replace(job, **field)
    return job


@pytest.mark.parametrize(("table", "column"), LINKS)
def test_every_row_that_names_a_joined_one_follows_it(table: str, column: str) -> None:
    zones = (row(type(zone(1)), KEPT, number=3), row(type(zone(1)), GONE, number=3))
    # That a whole row came or went on a visit stays true of that row; a cell's change moves.
    more = {"of_column": "name"} if (table, column) == ("visit_change", "of_row") else {}
    naming = row(TABLES[table], "0192-naming", **{column: GONE, **more})
    job = bare_job(zones=zones)
    held = naming if TABLES[table].once else (*job.tables()[table], naming)
    field: dict[str, Any] = {FIELD_OF[table]: held}
    job = replace(job, **field)
    joined = after(job, moving_changes(job, all_moves(job, {GONE: KEPT})))
    texts = [json.dumps(one.values()) for rows in joined.tables().values() for one in rows]
    assert not [text for text in texts if GONE in text]
    # It is still there, under whatever id, and names the other.
    assert len(joined.tables()[table]) == len(job.tables()[table]) - (table == "zone")
    assert any(KEPT in text for text in texts)


def test_a_column_that_holds_an_id_says_so() -> None:
    for table, record in TABLES.items():
        for column in columns_of(record):
            if column.endswith("_id") and column not in _OWN:
                assert facts_of(record)[column].links_to, f"{table}.{column}"


def test_ids_made_from_what_a_row_is_are_found_again() -> None:
    links = dict.fromkeys(("zone_id", "run_id", "visit_id", "programme_id", "key", "month"), "x")
    made = [name.removesuffix("_id") for name in vars(ids) if name.endswith("_id")]
    tables = [table for table in made if table in TABLES]
    assert len(tables) > 8
    for table in tables:
        assert ids.natural_row_id("j", table, links) is not None, f"say it in ids.py: {table}"


def test_what_comes_to_a_signed_zone_shows_as_changed_after_the_sign_off() -> None:
    job = signed_off(sound_job())
    first = job.zones[0]
    (signature,) = [one for one in job.sign_offs if one.zone_id == first.id]
    assert not changed(job, signature)
    second = row(type(first), "zone-twice", number=first.number)
    run = row(PipeRun, "run-of-it", zone_id=second.id, number=40, size="1", length_ft=3.0)
    job = replace(job, zones=(*job.zones, second), pipe_runs=(*job.pipe_runs, run))
    assert not changed(job, signature)
    pair = pair_of(job, "zone", second.id, first.id)
    assert pair.kept == first.id
    joined = after(job, join_changes(job, pair))
    assert joined.sign_offs == job.sign_offs
    assert changed(joined, signature) == ["pipe_run"]


def test_what_a_row_is_known_by_are_columns_of_it() -> None:
    for table, known in KNOWN_BY.items():
        assert {*known.columns, *known.within} <= set(columns_of(TABLES[table]))
