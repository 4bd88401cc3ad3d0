"""The walk-through is signed like the others, and no job handed over before asks for one."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest
from builders import JOB, all_signed, put, ruled, signed, sound_job, without

from fieldbook.actions.signing import still_to_do, why_not
from fieldbook.checks.desk.owner_shown import WALK_THROUGH
from fieldbook.checks.next_step import next_step
from fieldbook.checks.progress.digests import changed
from fieldbook.checks.progress.holds import unmet
from fieldbook.checks.progress.standing import proven
from fieldbook.checks.registry import verdicts
from fieldbook.records.ids import once_id, zone_shown_id
from fieldbook.records.loaded_job import LoadedJob

NOW = datetime(2026, 5, 10, 12).astimezone()
AT = NOW.replace(tzinfo=None)
ROW = once_id(JOB, "walk_through")


def not_shown(job: LoadedJob) -> LoadedJob:
    return without(job, "walk_through", "zone_shown")


def numbers(job: LoadedJob, kind: str) -> list[int]:
    return [one.hold.number for one in unmet(job, kind, None, AT)]


def test_it_is_signed_once_it_is_recorded_or_refused_with_its_hour() -> None:
    job = not_shown(sound_job())
    assert numbers(job, WALK_THROUGH) == [15]
    assert "the owner's name" in why_not(job, WALK_THROUGH, None, AT)
    assert numbers(sound_job(), WALK_THROUGH) == []
    refused = put(job, "walk_through", ROW, refused=True)
    assert numbers(refused, WALK_THROUGH) == [15]
    whole = put(refused, "walk_through", ROW, refused_at="2026-05-03T16:40")
    assert numbers(whole, WALK_THROUGH) == []
    assert proven(signed(whole, WALK_THROUGH, "2026-05-04T08:00:00-05:00"), WALK_THROUGH, None, NOW)


def test_its_signature_covers_the_walk_through_alone() -> None:
    job = signed(sound_job(), WALK_THROUGH, "2026-05-04T08:00:00-05:00")
    sign_off = job.signed(WALK_THROUGH)
    assert sign_off is not None
    longer = put(job, "zone_shown", zone_shown_id("zone-1"), shown_min=9.0)
    assert changed(longer, sign_off) == ["zone_shown"]
    other = put(job, "walk_through", ROW, owner="B. Customer")
    assert changed(other, sign_off) == ["walk_through"]
    assert changed(put(job, "supply", job.supply.id, static_psi=55.0), sign_off) == []  # type: ignore[union-attr]


def test_a_handover_waits_for_it_only_where_a_rule_asks() -> None:
    job = without(all_signed(sound_job(), "in service"), "walk_through", "zone_shown")
    assert 16 not in numbers(job, "handover")
    asked = ruled(job, "walk_through_required", True)
    assert 16 in numbers(asked, "handover")
    shown = ruled(all_signed(sound_job(), WALK_THROUGH), "walk_through_required", True)
    assert 16 not in numbers(shown, "handover")


def test_a_job_handed_over_without_one_stays_proven_and_is_asked_for_nothing() -> None:
    job = not_shown(all_signed(sound_job()))
    left = tuple(row for row in job.sign_offs if row.kind != WALK_THROUGH)
    old = replace(job, sign_offs=left)
    assert proven(old, "handover", None, NOW)
    said = verdicts(old, NOW)
    assert said.flags == ()
    assert not [answer for answer in said.answers if answer.check == "owner's walk-through"]
    assert next_step(old, said, NOW).sentence == "Nothing more: the job is closed."


def test_open_punch_items_hold_a_handover_back_only_where_a_rule_says_so() -> None:
    item = {"what": "raise the head by the gate", "found_on": "2026-05-03"}
    job = put(all_signed(sound_job(), WALK_THROUGH), "punch_item", "item-1", **item)
    assert 17 not in numbers(job, "handover")
    strict = ruled(job, "punch_list_done", True)
    assert 17 in numbers(strict, "handover")
    assert 17 not in numbers(put(strict, "punch_item", "item-1", done_on="2026-05-09"), "handover")


@pytest.mark.parametrize(("kind", "is_said"), [("handover", True), ("close", True), ("dig", False)])
def test_whoever_hands_over_reads_what_is_still_to_be_put_right(kind: str, is_said: bool) -> None:
    job = put(sound_job(), "punch_item", "item-1", what="raise the head by the gate")
    assert still_to_do(job, kind) == ("raise the head by the gate" if is_said else "")


def test_an_item_found_after_the_handover_makes_no_signature_unproven() -> None:
    job = ruled(all_signed(sound_job()), "punch_list_done", True)
    found_later = {"what": "a leak", "found_on": "2026-06-01"}
    assert proven(put(job, "punch_item", "item-1", **found_later), "handover", None, NOW)
    found_before = {"what": "a leak", "found_on": "2026-05-01"}
    assert not proven(put(job, "punch_item", "item-1", **found_before), "handover", None, NOW)
