"""Flags on the flush log."""

from __future__ import annotations

import pytest
from builders import codes, mend, only, put, row, sound_job

from fieldbook.records.ids import flush_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.flush_backfill import FLUSH_STEPS, Flush


def flush_job(**steps: bool | None) -> LoadedJob:
    """The sound job before its sign-offs, with these steps of zone 1's flush."""
    job = sound_job()
    for stretch in job.backfills:
        job = put(job, "backfill", stretch.id, signed_by="")
    return put(job, "flush", flush_id("zone-1"), **steps)


def test_a_finished_flush_and_an_empty_one_have_no_flags() -> None:
    assert codes(flush_job()) == []
    assert codes(flush_job(**dict.fromkeys(FLUSH_STEPS))) == []


@pytest.mark.parametrize("done", range(len(FLUSH_STEPS)))
def test_steps_ticked_in_order_never_flag_before_the_zone_ran_clear(done: int) -> None:
    steps: dict[str, bool | None] = dict.fromkeys(FLUSH_STEPS)
    steps.update(dict.fromkeys(FLUSH_STEPS[:done], True))
    expected = {4: ["bleed screw open"], 5: ["tops off"]}.get(done, [])
    assert codes(flush_job(**steps)) == expected


@pytest.mark.parametrize(
    ("steps", "code", "severity"),
    [
        ({"ran_clear": False}, "flush not clear", "stop"),
        ({"ran_clear": None}, "flush not clear", "fix"),
        ({"bleed_closed": False}, "bleed screw open", "fix"),
        ({"bleed_closed": None}, "bleed screw open", "fix"),
        ({"tops_back": False}, "tops off", "fix"),
        ({"tops_back": None}, "tops off", "fix"),
    ],
)
def test_what_was_left_undone_is_flagged_and_mended_by_its_tick(
    steps: dict[str, bool | None], code: str, severity: str
) -> None:
    job = flush_job(**steps)
    flag = only(job, code)
    assert codes(job) == [code]
    assert (flag.severity, flag.place) == (severity, "ground")
    assert "zone 1" in flag.sentence
    assert codes(mend(job, flag, True)) == []


def test_a_flush_whose_zone_was_removed_raises_no_error() -> None:
    stray = row(Flush, "stray", zone_id="nobody", ran_clear=False)
    job = put(flush_job(), "flush", "stray", **stray.model_dump(exclude={"id", "job_id"}))
    assert codes(job) == []


def test_a_bleed_screw_that_was_never_opened_need_not_be_closed() -> None:
    assert codes(flush_job(bleed_open=None, bleed_closed=None, tops_back=None)) == []
