"""The next step, followed from an empty property to its handover."""

from __future__ import annotations

import pytest
from builders import JOB, TODAY, bare_job, checked, codes, mend, put, sound_job, without

from fieldbook.checks.finding import CellRef
from fieldbook.checks.next_step import NextStep, next_step
from fieldbook.records.ids import backfill_id, flush_id, once_id, terminal_id, valve_id
from fieldbook.records.loaded_job import LoadedJob


def step_of(job: LoadedJob) -> NextStep:
    """The next step of a job with the flags it has."""
    return next_step(job, checked(job), TODAY)


def test_an_empty_property_begins_with_the_static_pressure() -> None:
    assert step_of(bare_job()) == NextStep(
        "street",
        "Read the static pressure.",
        CellRef("supply", once_id(JOB, "supply"), "static_psi"),
    )


def test_a_sound_property_is_ready_to_hand_over() -> None:
    assert codes(sound_job()) == []
    assert step_of(sound_job()) == NextStep("desk", "Hand over.", None)


def test_a_stop_comes_before_handing_over() -> None:
    job = put(sound_job(), "flush", flush_id("zone-2"), ran_clear=True)
    job = put(job, "backfill", backfill_id(JOB, "zone-2"), cover_in=1.0)
    step = step_of(job)
    assert (step.place, step.sentence) == ("ground", "Clear one stop, then hand over.")
    assert step.at == CellRef("backfill", backfill_id(JOB, "zone-2"), "cover_in")


@pytest.mark.parametrize(
    ("gone", "place", "words"),
    [
        ("supply", "street", "static pressure"),
        ("zone", "ground", "first zone"),
        ("pipe_run", "ground", "lateral of zone 1"),
        ("backflow_assembly", "street", "backflow assembly"),
        ("valve_box", "boxes", "valve box"),
        ("cable", "boxes", "cable"),
        ("conductor", "boxes", "colours of cable 1"),
        ("valve", "boxes", "wire at the valve of zone 1"),
        ("flush", "ground", "Flush the mainline"),
        ("backfill", "ground", "cover of the mainline"),
        ("terminal", "controller", "common terminal"),
        ("controller", "controller", "outdoors"),
    ],
)
def test_a_missing_thing_is_asked_for_at_its_place(gone: str, place: str, words: str) -> None:
    step = step_of(without(sound_job(), gone))
    assert step.place == place
    assert words in step.sentence
    assert step.at is not None


@pytest.mark.parametrize(
    ("table", "row_id", "column", "place"),
    [
        ("supply", once_id(JOB, "supply"), "meter_size", "street"),
        ("supply", once_id(JOB, "supply"), "service_length_ft", "street"),
        ("backflow_assembly", "backflow-1", "kind", "street"),
        ("backflow_assembly", "backflow-1", "critical_level_ft", "street"),
        ("cable", "cable-1", "common_colour", "boxes"),
        ("valve", valve_id("zone-2"), "colour", "boxes"),
        ("valve", valve_id("zone-2"), "splice_waterproof", "boxes"),
        ("cable", "cable-1", "common_waterproof", "boxes"),
        ("flush", flush_id("zone-2"), "tops_back", "ground"),
        ("backfill", backfill_id(JOB, "zone-1"), "cover_in", "ground"),
        ("terminal", terminal_id(JOB, "zone", 2), "colour", "controller"),
        ("controller", once_id(JOB, "controller"), "rain_sensor", "controller"),
    ],
)
def test_a_blank_is_asked_for_at_its_own_cell(
    table: str, row_id: str, column: str, place: str
) -> None:
    step = step_of(put(sound_job(), table, row_id, **{column: None}))
    assert step.place == place
    assert step.at == CellRef(table, row_id, column)


def test_the_street_comes_before_the_boxes_and_flush_before_backfill() -> None:
    job = sound_job()
    late = put(job, "flush", flush_id("zone-2"), ran_clear=None)
    late = put(late, "backfill", backfill_id(JOB, "zone-1"), cover_in=None)
    late = put(late, "valve", valve_id("zone-1"), colour=None)
    late = put(late, "backflow_assembly", "backflow-1", kind=None)
    places = []
    for table, row_id, column, value in (
        ("backflow_assembly", "backflow-1", "kind", "PVB"),
        ("valve", valve_id("zone-1"), "colour", "red"),
        ("flush", flush_id("zone-2"), "ran_clear", True),
        ("backfill", backfill_id(JOB, "zone-1"), "cover_in", 18.0),
    ):
        step = step_of(late)
        assert step.at is not None
        places.append(step.at.table)
        late = put(late, table, row_id, **{column: value})
    assert places == ["backflow_assembly", "valve", "flush", "backfill"]
    assert step_of(late).sentence == "Hand over."


def test_a_zone_with_a_design_flow_needs_no_lateral_to_go_on() -> None:
    job = without(sound_job(), "pipe_run", "head")
    for number in (1, 2):
        job = put(job, "zone", f"zone-{number}", design_flow_gpm=6.0)
    assert step_of(job).sentence == "Hand over."


def test_following_every_stop_leads_to_the_handover() -> None:
    job = put(sound_job(), "backfill", backfill_id(JOB, "zone-1"), rock_free=False)
    (stop,) = [flag for flag in checked(job).flags if flag.severity == "stop"]
    assert step_of(job).at == stop.at
    assert step_of(mend(job, stop, True)).sentence == "Hand over."
