"""The next step, followed from an empty property to its handover."""

from __future__ import annotations

from dataclasses import replace

import pytest
from builders import (
    JOB,
    TODAY,
    all_signed,
    bare_job,
    checked,
    codes,
    mend,
    put,
    signed_off,
    sound_job,
    without,
)

from fieldbook.checks.finding import CellRef
from fieldbook.checks.next_step import LONGEST, next_step, next_step_from
from fieldbook.checks.registry import verdicts
from fieldbook.checks.walk import NextStep
from fieldbook.records.base import PLACES
from fieldbook.records.ids import backfill_id, flush_id, once_id, terminal_id, valve_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.job import Job


def step_of(job: LoadedJob) -> NextStep:
    """The next step of a job with the flags it has."""
    return next_step(job, checked(job), TODAY)


def test_an_empty_property_begins_with_whose_it_is_then_the_static_pressure() -> None:
    at = CellRef("job", JOB, "customer")
    nobody = replace(bare_job(), job=Job(id=JOB, address="12 Elm Street"))
    assert step_of(nobody) == NextStep("street", "Enter who the customer is.", at)
    at = CellRef("supply", once_id(JOB, "supply"), "static_psi")
    known = replace(nobody, job=Job(id=JOB, address="12 Elm Street", customer="A. Customer"))
    assert step_of(known) == NextStep("street", "Read the static pressure.", at)


def test_where_nothing_is_left_at_a_place_the_next_step_is_elsewhere() -> None:
    job = put(sound_job(), "flush", flush_id("zone-1"), ran_clear=None)
    for place in PLACES:
        step = next_step_from(job, checked(job), place, TODAY)
        assert (step.place, step.sentence) == ("ground", "Flush zone 1 (lawn 1).")
    colourless = put(job, "valve", valve_id("zone-2"), colour=None)
    here = {place: next_step_from(colourless, checked(job), place, TODAY) for place in PLACES}
    assert here["ground"].place == "ground"
    assert {here[place].place for place in PLACES if place != "ground"} == {"boxes"}


def test_before_digging_the_ground_asks_for_the_permit_and_the_ticket() -> None:
    unpermitted = without(sound_job(), "permit")
    step = step_of(unpermitted)
    assert (step.place, step.without_digging) == ("ground", True)
    assert step.sentence == "Enter the permit before anybody digs."
    step = step_of(without(sound_job(), "locate_ticket", "utility_answer"))
    assert step.sentence == "Enter the locate ticket before anybody digs."


def test_a_sound_property_is_put_into_service_handed_over_and_closed() -> None:
    assert codes(sound_job()) == []
    assert step_of(signed_off(sound_job())) == NextStep(
        "street",
        "Sign that what service needs is recorded.",
        CellRef("sign_off", "in service", "sign off"),
    )
    assert step_of(all_signed(sound_job(), "in service")).sentence == "Hand over."
    assert step_of(all_signed(sound_job(), "handover")).sentence == "Close the job."
    closed = all_signed(sound_job())
    assert step_of(closed) == NextStep("desk", "Nothing more: the job is closed.")
    late = put(closed, "valve", valve_id("zone-1"), colour=None)
    assert step_of(late).sentence == "Nothing more: the job is closed."
    shallow = put(closed, "backfill", UNDER, cover_in=1.0)
    assert step_of(shallow).sentence == "Clear the stop: cover too low, at the ground."


def test_a_stop_comes_before_every_sign_off() -> None:
    job = put(all_signed(sound_job(), "in service"), "backfill", UNDER, cover_in=1.0)
    step = step_of(job)
    assert (step.place, step.sentence) == (
        "ground",
        "Clear the stop: cover too low, at the ground.",
    )
    assert step.at == CellRef("backfill", UNDER, "cover_in")
    job = put(job, "backfill", backfill_id(JOB, "zone-1"), rock_free=False)
    assert step_of(job).sentence.startswith("Clear 2 stops: ")


UNDER = backfill_id(JOB, "zone-2")


@pytest.mark.parametrize(
    ("table", "row_id", "change", "words"),
    [
        ("backflow_test", "test-1", {"certified": None}, "the signed report"),
        ("backflow_test", "test-1", {"tested_on": "2026-04-01"}, "after it was installed"),
        ("tie", "tie-1", {"box_id": None}, "the ties of valve box A"),
        ("job", JOB, {}, ""),
        ("backflow_assembly", "backflow-1", {"back_pressure": None}, "push back through"),
        ("flush", flush_id("zone-1"), {"let_on_by": None}, "how water was let on"),
    ],
)
def test_handing_over_waits_for_every_hold_test_and_open_check(
    table: str, row_id: str, change: dict[str, object], words: str
) -> None:
    job = all_signed(sound_job(), "in service")
    job = put(job, table, row_id, **change) if table != "job" else job
    sentence = step_of(job).sentence
    assert (sentence == "Hand over.") == (not words)
    assert words in sentence
    assert len(sentence) <= LONGEST


def test_handing_over_waits_for_the_signature_of_service() -> None:
    job = all_signed(without(sound_job(), "backflow_test"), "in service")
    assert step_of(job).sentence == (
        "Enter the certified test of the PVB (left of the garage): service waits for it."
    )
    assert step_of(signed_off(sound_job())).sentence == "Sign that what service needs is recorded."
    failed = put(sound_job(), "backflow_test", "test-1", check_1_psi=0.2)
    assert step_of(failed).sentence == "Clear the stop: backflow test failed, at the street."


def called(**ticket: object) -> LoadedJob:
    """A property whose ticket is called for, where nobody has dug or worked yet."""
    later = ("flush", "backfill", "pressure_test", "valve", "terminal", "backflow_test")
    blank = {"dug_from": None, "dug_until": None, "expires_on": None}
    job = without(sound_job(), *later)
    return put(job, "locate_ticket", "ticket-1", **{**blank, **ticket})


def test_while_a_ticket_is_not_clear_it_says_what_can_be_done_and_until_when() -> None:
    job = called(called_on="2026-05-08", clear_on="2026-05-14")
    step = step_of(job)
    assert (step.place, step.sentence) == ("ground", "Digging waits until 2026-05-14.")
    step = step_of(put(job, "supply", once_id(JOB, "supply"), septic=None))
    assert step.place == "street"
    assert step.sentence == (
        "Enter whether there is a septic field. Digging waits until 2026-05-14."
    )
    step = step_of(put(job, "utility_answer", "answer-1", answer=None))
    assert step.sentence.startswith("Enter the answer of power to ticket 260401")
    assert step.sentence.endswith("Digging waits until 2026-05-14.")
    clear = put(job, "locate_ticket", "ticket-1", clear_on="2026-05-10")
    assert step_of(clear).sentence == "Log the wire at the valve of zone 1 (lawn 1)."


def test_a_ticket_whose_marks_ran_out_before_anybody_dug_is_renewed_first() -> None:
    job = called(called_on="2026-04-14", clear_on="2026-04-20", expires_on="2026-05-09")
    assert step_of(job).sentence == "Have the locate marks renewed: they ran out."
    holding = put(job, "locate_ticket", "ticket-1", expires_on="2026-05-10")
    assert step_of(holding).place == "boxes"
    dug = put(job, "locate_ticket", "ticket-1", dug_from="2026-05-08")
    assert step_of(dug).place == "boxes"


def test_a_backfill_is_to_be_signed_only_when_it_may_be() -> None:
    unsigned = put(sound_job(), "backfill", UNDER, signed_by="", signed_at="")
    assert step_of(unsigned).sentence == "Sign the backfill of zone 2 (lawn 2)."
    shallow = put(unsigned, "backfill", UNDER, cover_in=2.0)
    assert step_of(shallow).sentence == "Clear the stop: cover too low, at the ground."
    rocky = put(unsigned, "backfill", UNDER, rock_free=False)
    assert "the backfill of zone 2 (lawn 2) waits for it." in step_of(rocky).sentence


@pytest.mark.parametrize("name", ["x" * 30, "w" * 400])
def test_no_name_makes_a_next_step_too_long_for_the_board(name: str) -> None:
    long_named = put(sound_job(), "zone", "zone-1", name=name)
    for job in (
        put(long_named, "flush", flush_id("zone-1"), ran_clear=None),
        put(long_named, "valve", valve_id("zone-1"), splice_waterproof=None),
        put(all_signed(long_named, "in service"), "flush", flush_id("zone-1"), let_on_by=None),
        put(called(clear_on="2026-05-14"), "utility_answer", "answer-1", utility=name, answer=None),
    ):
        step = next_step(job, verdicts(job, TODAY), TODAY)
        assert len(step.sentence) <= LONGEST, step.sentence
        assert step.sentence.endswith(".")


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
        ("supply", once_id(JOB, "supply"), "behind_regulator", "street"),
        ("supply", once_id(JOB, "supply"), "meter_size", "street"),
        ("supply", once_id(JOB, "supply"), "chemicals", "street"),
        ("flow_test_point", "flow-test-1", "residual_psi", "street"),
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
    assert step_of(late).sentence == (
        "Enter the signed backfill of the mainline: handover waits for it."
    )
    assert step_of(signed_off(late)).sentence == "Sign that what service needs is recorded."


def test_a_zone_with_a_design_flow_needs_no_lateral_to_go_on() -> None:
    job = without(sound_job(), "pipe_run", "head")
    for number in (1, 2):
        job = put(job, "zone", f"zone-{number}", design_flow_gpm=6.0)
    assert step_of(signed_off(job)).sentence == (
        "Enter the lateral of zone 1, run after run: handover waits for it."
    )


def test_clearing_a_stop_leads_to_the_handover() -> None:
    sound = all_signed(sound_job(), "in service")
    job = put(sound, "backfill", backfill_id(JOB, "zone-1"), rock_free=False)
    (stop,) = [flag for flag in checked(job).flags if flag.severity == "stop"]
    assert step_of(job).at == stop.at
    assert step_of(mend(job, stop, True)).sentence == "Hand over."
