"""Every hold, met and not met, and what its refusal says."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import datetime

import pytest
from builders import (
    CABLE,
    JOB,
    TODAY,
    all_signed,
    pressure_tested,
    put,
    row,
    signed_off,
    sound_job,
    with_rows,
    without,
)

from fieldbook.actions.signing import why_not
from fieldbook.checks.finding import CellRef
from fieldbook.checks.progress.digests import changed, covered, whole_digest
from fieldbook.checks.progress.holds import BACKFILL, HOLDS, SIGN_OFFS, Unmet, unmet
from fieldbook.checks.registry import check
from fieldbook.records.base import natural_id
from fieldbook.records.ids import (
    backfill_id,
    flush_id,
    once_id,
    pressure_test_id,
    terminal_id,
    valve_id,
)
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.permits import Inspection

NOW = datetime(2026, 5, 3, 15, 0)
DIGGING = datetime(2026, 4, 21, 8, 0)
CURING = datetime(2026, 4, 28, 15, 0)
AT = {"dig": DIGGING, "pressurise": CURING, "close": datetime(2026, 5, 5, 8, 0)}
"""When a sign-off is asked for: digging while its ticket holds, pressure as the cement cures."""
MAIN = backfill_id(JOB, None)
ZONE = backfill_id(JOB, "zone-1")
MAIN_TEST = pressure_test_id(JOB, None)


def whole() -> LoadedJob:
    """A property on which every sign-off may be given."""
    return all_signed(sound_job(2), last="handover")


def held_at(job: LoadedJob, kind: str, zone: str | None) -> list[Unmet]:
    """What keeps a sign-off back on the day that it is asked for."""
    return unmet(job, kind, zone, AT.get(kind, NOW))


KINDS = [*SIGN_OFFS, BACKFILL]


def test_there_are_seventeen_holds_and_each_holds_something_back() -> None:
    assert [hold.number for hold in HOLDS] == list(range(1, 18))
    assert all(set(hold.before) <= set(KINDS) for hold in HOLDS)
    assert {kind for hold in HOLDS for kind in hold.before} == set(KINDS)


@pytest.mark.parametrize("kind", KINDS)
def test_everything_may_be_signed_once_it_is_proven(kind: str) -> None:
    for zone in (None, "zone-1") if kind == BACKFILL else (None,):
        at = NOW if kind == "pressurise" else AT.get(kind, NOW)
        assert unmet(whole(), kind, zone, at) == [], kind
        assert why_not(whole(), kind, zone, at) == ""


@pytest.mark.parametrize(
    ("number", "kind", "zone", "spoilt", "words"),
    [
        (1, "price", None, ("flow_test_point", "flow-test-1", "flow_gpm", None), "a flow test"),
        (1, "price", None, ("supply", "", "static_psi", None), "the static pressure"),
        (2, "dig", None, ("permit", "permit-1", "expires_on", "2026-04-20"), "a permit that holds"),
        (2, "dig", None, ("locate_ticket", "ticket-1", "called_on", "2026-04-22"), "2026-04-21"),
        (2, "dig", None, ("locate_ticket", "ticket-1", "marked_on", "2026-04-22"), "the marks of"),
        (2, "dig", None, ("utility_answer", "answer-1", "utility", ""), "which utility answered"),
        (2, "dig", None, ("utility_answer", "answer-1", "answered_on", "2026-04-22"), "of power"),
        (2, "dig", None, ("permit", "permit-1", "number", ""), "the permit's number"),
        (2, "dig", None, ("locate_ticket", "ticket-1", "number", ""), "the locate ticket"),
        (2, "dig", None, ("locate_ticket", "ticket-1", "clear_on", "2026-05-02"), "2026-04-21"),
        (2, "dig", None, ("locate_ticket", "ticket-1", "expires_on", "2026-04-20"), "2026-04-21"),
        (2, "dig", None, ("locate_ticket", "ticket-1", "private_lines", None), "private lines"),
        (2, "dig", None, ("utility_answer", "answer-1", "answer", "no answer yet"), "power"),
        (3, "pressurise", None, ("pressure_test", "", "cemented_at", None), "last cemented joint"),
        (3, "pressurise", None, ("pressure_test", "", "cemented_at", "2026-04-28T14:00"), "16:00"),
        (4, BACKFILL, None, ("pressure_test", "", "end_psi", 50.0), "it dropped "),
        (4, BACKFILL, None, ("pressure_test", "", "water_only", None), "water only"),
        (4, BACKFILL, None, ("pressure_test", "", "ended_at", "2026-05-04T09:00"), "that ended by"),
        (4, BACKFILL, None, ("pressure_test", "", "ended_at", "2026-04-29T08:20"), "20 of 60"),
        (4, BACKFILL, None, ("pressure_test", "", "ended_at", "2026-04-29T07:00"), "ended before"),
        (5, "energise", None, ("flush", "", "ran_clear", None), "the mainline's flush"),
        (6, "wire backfill", None, ("valve", valve_id("zone-1"), "colour", None), "the wire of"),
        (6, "wire backfill", None, ("terminal", terminal_id(JOB, "zone", 1), "day_1_ohm", None),
         "the ohms of zone 1"),
        (6, "wire backfill", None, ("cable", CABLE, "common_colour", None), "the common"),
        (6, "wire backfill", None, ("cable", CABLE, "common_with", CABLE), "cable and its common"),
        (7, BACKFILL, "zone-1", ("flush", flush_id("zone-1"), "tops_back", None), "the flush of"),
        (8, BACKFILL, "zone-1", ("backfill", ZONE, "cover_in", None), "the cover of zone 1"),
        (8, BACKFILL, None, ("backfill", MAIN, "rock_free", False), "rocks in the soil"),
        (9, "in service", None, ("backflow_test", "test-1", "certified", None), "signed report"),
        (9, "in service", None, ("backflow_test", "test-1", "inlet_psi", 0.8), "a passed test"),
        (11, "handover", None, ("tie", "tie-1", "box_id", None), "the ties of valve box A"),
        (14, "handover", None, ("pressure_test", "", "end_psi", None), "the last reading"),
        (14, "handover", None, ("backfill", ZONE, "rock_free", None), "rocks in the soil"),
        (12, "close", None, ("backflow_test", "test-1", "tested_on", None), "certified test"),
    ],
)  # fmt: skip
def test_each_hold_refuses_and_says_what_is_missing(
    number: int, kind: str, zone: str | None, spoilt: tuple[str, str, str, object], words: str
) -> None:
    table, row_id, column, value = spoilt
    job = whole()
    ids = {
        "supply": job.supply.id if job.supply else "",
        "pressure_test": pressure_test_id(JOB, None),
        "flush": flush_id(JOB),
    }
    job = put(job, table, row_id or ids[table], **{column: value})
    held = held_at(job, kind, zone)
    assert number in [one.hold.number for one in held], held
    held = [one for one in held if one.hold.number == number]
    assert words in held[0].words
    said = why_not(job, kind, zone, AT.get(kind, NOW))
    assert said.startswith("Hold ")
    assert "enter it at the " in said


def test_an_inspection_or_a_sensor_is_needed_where_the_local_rule_asks_for_it() -> None:
    def ruled(job: LoadedJob, key: str) -> LoadedJob:
        row_id = natural_id(JOB, "rule", key)
        return put(job, "rule", row_id, key=key, value="true", source="City 1", set_name="City")

    job = ruled(whole(), "inspection_before_backfill")
    (held,) = unmet(job, BACKFILL, "zone-1", NOW)
    assert (held.hold.number, held.words) == (8, "the inspection before backfill")
    passed = row(Inspection, "i", kind="before backfill", result="passed", held_on="2026-05-04")
    (held,) = unmet(replace(job, inspections=(passed,)), BACKFILL, "zone-1", NOW)
    assert held.words == "an inspection before backfill held by 2026-05-03"
    passed = row(Inspection, "i", kind="before backfill", result="passed", held_on="2026-04-29")
    assert unmet(replace(job, inspections=(passed,)), BACKFILL, "zone-1", NOW) == []
    job = ruled(whole(), "rain_shutoff_required")
    assert job.controller is not None
    job = put(job, "controller", job.controller.id, rain_sensor=False)
    assert 10 in [one.hold.number for one in unmet(job, "handover", None, NOW)]


def test_a_bucket_without_its_seconds_is_no_flow_test() -> None:
    job = put(whole(), "flow_test_point", "flow-test-1", flow_gpm=None, bucket_gal=5.0)
    assert [one.words for one in unmet(job, "price", None, NOW)] == ["a flow test"]
    job = put(job, "flow_test_point", "flow-test-1", bucket_s=12.0)
    assert unmet(job, "price", None, NOW) == []


def test_a_backfill_that_was_overridden_by_a_named_person_does_not_keep_handover_back() -> None:
    job = put(whole(), "backfill", ZONE, rock_free=None)
    assert 14 in [one.hold.number for one in unmet(job, "handover", None, NOW)]
    signature = next(one for one in job.sign_offs if one.zone_id == "zone-1")
    words = {"overridden": "hold 8, missing the look", "override_by": "Foreman"}
    named = put(job, "sign_off", signature.id, **words, override_reason="sand all round")
    assert unmet(named, "handover", None, NOW) == []
    unread = put(job, "sign_off", signature.id, **words, override_reason="...")
    assert 14 in [one.hold.number for one in unmet(unread, "handover", None, NOW)]


def test_no_hold_is_met_on_a_bare_property() -> None:
    job = without(sound_job(1), *("supply", "flush", "pressure_test", "permit", "locate_ticket"))
    for kind in ("price", "dig", "pressurise", "energise"):
        assert unmet(job, kind, None, NOW)


def test_a_signature_shows_what_changed_after_it() -> None:
    job = signed_off(sound_job(2))
    assert [flag.code for flag in check(job, TODAY)] == []
    for table, row_id, column, value in (
        ("backfill", ZONE, "cover_in", 4.0),
        ("pipe_run", "run-1-2", "length_ft", 30.0),
        ("flush", flush_id("zone-1"), "ran_clear", False),
    ):
        found = check(put(job, table, row_id, **{column: value}), TODAY)
        after = [flag for flag in found if flag.code == "changed after sign-off"]
        assert len(after) == 1, table
        assert "zone 1" in after[0].sentence
    other = put(job, "note", "n", text="not covered")
    assert [flag.code for flag in check(other, TODAY)] == []


def test_a_signature_that_was_tampered_with_shows() -> None:
    job = signed_off(sound_job(2))
    for values in (
        {"signed_by": "XX"},
        {"signed_at": "2020-01-01"},
        {"covered": "{}"},
        {"digest": "0"},
    ):
        sign_offs = (*job.sign_offs[:-1], job.sign_offs[-1].with_values(**values))
        forged = replace(job, sign_offs=sign_offs)
        assert changed(forged, sign_offs[-1]) == ["record"], values
        assert "changed after sign-off" in [flag.code for flag in check(forged, TODAY)]


def test_a_digest_depends_on_neither_order_nor_ids() -> None:
    job = whole()
    there = covered(job, BACKFILL, "zone-1")
    turned = replace(job, pipe_runs=job.pipe_runs[::-1], heads=job.heads[::-1])
    assert covered(turned, BACKFILL, "zone-1") == there
    renamed = replace(
        job,
        pressure_tests=(*job.pressure_tests, pressure_tested(2)),
    )
    assert covered(renamed, BACKFILL, "zone-1") == there
    assert whole_digest(there, {"signed_by": "AB"}) != whole_digest(there, {"signed_by": "CD"})


@pytest.mark.parametrize("value", [math.nan, math.inf, -1.0, "deep"])
@pytest.mark.parametrize(
    ("table", "row_id", "column", "kind"),
    [
        ("supply", once_id(JOB, "supply"), "static_psi", "price"),
        ("flow_test_point", "flow-test-1", "flow_gpm", "price"),
        ("pressure_test", pressure_test_id(JOB, None), "end_psi", BACKFILL),
        ("backfill", MAIN, "cover_in", BACKFILL),
    ],
)
def test_an_amount_that_is_none_meets_no_hold(
    table: str, row_id: str, column: str, kind: str, value: object
) -> None:
    """What was written past the program may be text or no finite number."""
    held = next(one for one in whole().tables()[table] if one.id == row_id)
    spoilt = held.with_values(**{column: value})
    job = with_rows(whole(), table, (spoilt,))
    assert unmet(job, kind, None, NOW)
    assert check(job, TODAY)


def test_a_pressure_test_ends_at_the_rating_of_its_pipe_at_most() -> None:
    """ASTM D2241: PVC SDR 21 is rated 200 psi at 73 F."""
    job = put(whole(), "pipe_run", "main-1", pipe_class="pvc sdr 21")
    ended = {psi: put(job, "pressure_test", MAIN_TEST, end_psi=psi) for psi in (200.0, 201.0)}
    assert unmet(ended[200.0], BACKFILL, None, NOW) == []
    (held,) = unmet(ended[201.0], BACKFILL, None, NOW)
    assert "the lowest rating of its pipe" in held.words


def test_a_cure_time_of_no_minutes_is_none() -> None:
    began = {"cemented_at": "2026-04-29T07:59", "air_deg_f": 70, "humidity_pct": 40}
    job = put(whole(), "pressure_test", MAIN_TEST, **began, label_min=0.0)
    assert any("the cement cures" in one.words for one in unmet(job, BACKFILL, None, NOW))
    job = put(whole(), "pressure_test", MAIN_TEST, **began, label_min=1.0)
    assert unmet(job, BACKFILL, None, NOW) == []


def test_what_holds_lack_of_a_mainline_without_a_run_is_entered_at_its_first_run() -> None:
    job = without(sound_job(1), "pressure_test", "flush")
    job = replace(job, pipe_runs=tuple(run for run in job.pipe_runs if run.zone_id))
    for kind in ("pressurise", "energise"):
        (held,) = unmet(job, kind, None, NOW)
        assert held.missing[0].at == CellRef("pipe_run", "", "add run")


@pytest.mark.parametrize("points", [True, False])
def test_ties_are_asked_for_where_the_first_entry_of_them_is_made(*, points: bool) -> None:
    job = without(whole(), "tie", *([] if points else ["fixed_point"]))
    asked = [
        missing.at.column
        for held in unmet(job, "handover", None, NOW)
        for missing in held.missing
        if missing.words.startswith("the ties of")
    ]
    assert asked
    assert set(asked) == {"add tie" if points else "add fixed point"}
