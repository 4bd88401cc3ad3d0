"""A loaded job is frozen, a copy shares nothing that changes, each table is declared once."""

from __future__ import annotations

import pkgutil
from dataclasses import FrozenInstanceError, fields, replace
from importlib import import_module
from typing import get_type_hints

import pytest
from builders import bare_job, sound_job, zone

import fieldbook.records.tables as tables_package
from fieldbook.records.base import PLACES, Record
from fieldbook.records.ids import valve_id
from fieldbook.records.loaded_job import FIELD_OF, TABLES, LoadedJob, once_per_job
from fieldbook.records.tables.supply import Supply
from fieldbook.records.tables.wires import Valve
from fieldbook.records.tables.zones import Zone


def test_a_copy_with_other_rows_leaves_the_original_as_it_was() -> None:
    job = sound_job(2)
    fewer = replace(job, zones=job.zones[:1])
    more = replace(job, zones=(*job.zones, zone(7)))
    assert [one.zone("zone-2") is not None for one in (job, fewer, more)] == [True, False, True]
    assert [one.zone("zone-7") is not None for one in (job, fewer, more)] == [False, False, True]
    assert replace(job) == job


def test_neither_the_rows_nor_their_index_can_be_changed() -> None:
    job = sound_job(1)
    with pytest.raises(FrozenInstanceError):
        job.zones = ()  # type: ignore[misc]
    with pytest.raises(TypeError):
        job._rows["zone-9"] = zone(9)  # type: ignore[index]


def test_what_is_worked_out_is_kept_for_one_job_and_not_for_its_copies() -> None:
    asked: list[int] = []

    @once_per_job
    def zone_count(job: LoadedJob) -> int:
        asked.append(len(job.zones))
        return len(job.zones)

    job = sound_job(2)
    assert [zone_count(job), zone_count(job)] == [2, 2]
    copy = replace(job, zones=job.zones[:1])
    assert [zone_count(copy), zone_count(job), zone_count(copy)] == [1, 2, 1]
    assert asked == [2, 1]


def test_a_row_is_found_by_its_id_in_its_own_table_only() -> None:
    job = sound_job(1)
    assert job.find(Zone, "zone-1") is job.zones[0]
    assert job.find(Valve, "zone-1") is None
    assert job.find(Valve, valve_id("zone-1")) is job.valves[0]
    assert job.find(Zone, None) is None


def test_every_table_is_a_field_of_the_job_and_knows_its_title_and_place() -> None:
    defined = set()
    for module in pkgutil.walk_packages(tables_package.__path__, f"{tables_package.__name__}."):
        held = vars(import_module(module.name)).values()
        defined |= {
            one
            for one in held
            if isinstance(one, type) and issubclass(one, Record) and one is not Record
        }
    assert set(TABLES.values()) == defined
    assert list(TABLES) == list(FIELD_OF)
    types = get_type_hints(LoadedJob)
    for table, record in TABLES.items():
        assert record.table_name == table
        assert record.title
        assert record.sheet in PLACES
        assert types[FIELD_OF[table]] == (
            record | None if record.once else tuple[record, ...]  # type: ignore[valid-type]
        )
    named = [one.name for one in fields(LoadedJob) if one.init]
    assert named == ["job", *FIELD_OF.values(), "conflicts", "neighbours"]


def test_a_table_of_one_row_is_held_as_one_row() -> None:
    job = bare_job(supply=Supply(id="supply-1", job_id="job-1"))
    assert job.supply is not None
    assert job.tables()["supply"] == (job.supply,)
    assert bare_job().tables()["supply"] == ()
