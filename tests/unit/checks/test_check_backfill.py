"""Flags on the backfill and on the boxes' bases."""

from __future__ import annotations

import pytest
from builders import ASSEMBLY, CABLE, JOB, TODAY, codes, mend, only, put, sound_job, without

from fieldbook.checks.finding import CellRef
from fieldbook.checks.registry import verdicts
from fieldbook.records.ids import backfill_id, flush_id
from fieldbook.records.loaded_job import LoadedJob

ZONE_1 = backfill_id(JOB, "zone-1")
MAINLINE = backfill_id(JOB, None)


def backfill_job(**values: object) -> LoadedJob:
    """The sound job with zone 1's stretch changed."""
    return put(sound_job(), "backfill", ZONE_1, **values)


def test_a_signed_stretch_with_all_in_order_has_no_flags() -> None:
    assert codes(sound_job()) == []


def test_signed_before_the_flush_ran_is_a_stop() -> None:
    job = put(sound_job(), "flush", flush_id("zone-1"), tops_back=None, bleed_closed=None)
    early = only(job, "buried before flush")
    assert early.severity == "stop"
    assert "that it was closed again and that nozzles or heads are fitted" in early.sentence
    assert (early.at.table, early.at.column) == ("flush", "bleed_closed")
    job = put(mend(job, early, True), "flush", flush_id("zone-1"), tops_back=True)
    assert codes(job) == []


def test_signed_with_no_flush_at_all_is_a_stop() -> None:
    early = only(without(sound_job(1), "flush"), "buried before flush")
    assert "nothing of its flush is entered" in early.sentence
    assert early.at == CellRef("flush", flush_id("zone-1"), "ran_clear")


def test_an_open_flush_is_no_stop_before_the_backfill_is_signed() -> None:
    job = put(backfill_job(signed_by=""), "flush", flush_id("zone-1"), tops_back=None)
    assert codes(job) == []


@pytest.mark.parametrize(
    ("row_id", "minimum", "column"),
    [(ZONE_1, 8.0, "lateral_cover_in"), (MAINLINE, 12.0, "mainline_cover_in")],
)
@pytest.mark.parametrize("signed", ["AB", ""])
def test_cover_under_the_local_minimum_is_a_stop_signed_or_not(
    row_id: str, minimum: float, column: str, signed: str
) -> None:
    job = put(sound_job(), "backfill", row_id, cover_in=minimum - 0.5, signed_by=signed)
    job = put(job, "local_rules", "rules", **{column: minimum, "cover_code": "City Code 9-2"})
    low = only(job, "cover too low")
    assert low.severity == "stop"
    assert low.source == "City Code 9-2"
    assert codes(mend(job, low, minimum)) == []


def test_the_generic_cover_counts_where_no_local_rule_is_entered() -> None:
    assert codes(backfill_job(cover_in=1.0)) == ["cover too low"]
    assert "generic default" in only(backfill_job(cover_in=1.0), "cover too low").source


@pytest.mark.parametrize("signed", ["AB", ""])
def test_soil_with_rock_is_a_stop_signed_or_not(signed: str) -> None:
    job = backfill_job(rock_free=False, signed_by=signed)
    rock = only(job, "soil not rock-free")
    assert rock.severity == "stop"
    assert codes(mend(job, rock, True)) == []


@pytest.mark.parametrize("column", ["cover_in", "rock_free"])
def test_a_backfill_signed_without_what_cannot_be_seen_again_is_flagged(column: str) -> None:
    job = backfill_job(**{column: None})
    unseen = only(job, "signed unseen")
    assert unseen.at.column == column
    assert codes(mend(job, unseen, 18.0 if column == "cover_in" else True)) == []
    assert codes(put(job, "backfill", ZONE_1, signed_by="")) == []


@pytest.mark.parametrize(
    ("column", "code"),
    [("heads_plumb", "heads not plumb"), ("heads_at_grade", "heads not at grade")],
)
def test_heads_that_lean_or_stand_wrong_are_flagged(column: str, code: str) -> None:
    job = backfill_job(**{column: False})
    flag = only(job, code)
    assert codes(job) == [code]
    assert flag.severity == "fix"
    assert codes(mend(job, flag, True)) == []
    assert codes(backfill_job(**{column: None})) == []


def test_a_box_without_a_base_is_flagged() -> None:
    job = put(sound_job(), "valve_box", "box-1", on_base=False)
    flag = only(job, "box without a base")
    assert flag.sentence == "Valve box A (by the drive) has no base."
    assert flag.place == "boxes"
    assert codes(mend(job, flag, True)) == []
    assert codes(put(job, "valve_box", "box-1", on_base=None)) == []


@pytest.mark.parametrize(
    ("table", "row_id", "column"),
    [
        ("backfill", ZONE_1, "heads_plumb"),
        ("backfill", ZONE_1, "heads_at_grade"),
        ("valve_box", "box-1", "on_base"),
        ("cable", CABLE, "under_driveway"),
        ("backflow_assembly", ASSEMBLY, "exposed_pvc"),
    ],
)
def test_what_nobody_answered_is_not_checked_before_handover(
    table: str, row_id: str, column: str
) -> None:
    assert verdicts(sound_job(), TODAY, None, "handover").not_checked == ()
    job = put(sound_job(), table, row_id, **{column: None})
    (answer,) = verdicts(job, TODAY, None, "handover").not_checked
    assert [one.at for one in answer.missing] == [CellRef(table, row_id, column)]


def test_wire_deep_enough_for_a_driveway_need_not_say_whether_one_is_over_it() -> None:
    """NEC Table 300.5: 18 in under driveways of one- and two-family dwellings, else 6 in."""
    for cover_in, asked in ((17.9, 1), (18.0, 0)):
        job = put(sound_job(), "cable", CABLE, under_driveway=None, cover_in=cover_in)
        assert len(verdicts(job, TODAY, None, "handover").not_checked) == asked
