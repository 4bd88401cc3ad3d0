"""Flags on the flush log."""

from __future__ import annotations

import pytest
from builders import (
    JOB,
    codes,
    mend,
    only,
    open_words,
    own_values,
    put,
    row,
    sound_job,
    sound_up_to,
    words_of,
)

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
    assert codes(flush_job(**steps)) == []
    asked = [words for words in open_words(flush_job(**steps), "flush") if "zone 1" in words]
    assert len(asked) == len(FLUSH_STEPS) - done


@pytest.mark.parametrize(
    ("steps", "code", "severity"),
    [
        ({"ran_clear": False}, "flush not clear", "stop"),
        ({"ran_clear": None}, "flush not clear", "fix"),
        ({"bleed_closed": False}, "line not closed", "fix"),
        ({"tops_back": False}, "nozzles not fitted", "fix"),
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
    job = put(flush_job(), "flush", "stray", **own_values(stray))
    assert codes(job) == []


@pytest.mark.parametrize(
    ("column", "words"),
    [
        ("let_on_by", "how water was let on"),
        ("came_out_at", "where it came out"),
        ("bleed_closed", "that it was closed again"),
        ("tops_back", "that nozzles or heads are fitted"),
    ],
)
def test_what_is_not_entered_of_a_flush_is_asked_for_and_never_sound(
    column: str, words: str
) -> None:
    job = put(flush_job(), "flush", flush_id("zone-1"), **{column: None})
    assert codes(job) == []
    assert open_words(job, "flush") == [f"{words} (flush of zone 1 (lawn 1))"]
    assert open_words(flush_job(), "flush") == []


def test_the_mainline_is_not_asked_about_heads() -> None:
    job = put(flush_job(), "flush", flush_id(JOB), tops_back=None)
    assert open_words(job, "flush") == []
    main_open = put(job, "flush", flush_id(JOB), ran_clear=None, bleed_closed=None)
    assert len(open_words(main_open, "flush")) == 2


def test_a_flush_is_not_due_while_nothing_is_in_the_ground() -> None:
    assert words_of(sound_up_to("dig"), "flush") == {"not due"}
    assert words_of(sound_up_to("service"), "flush") == {"sound"}
