"""A signature must still be true: what speaks against it, however its row came into the record."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

import pytest
from builders import JOB, TODAY, all_signed, put, row, signed_off, sound_job, zone

from fieldbook.checks.next_step import next_step
from fieldbook.checks.progress.digests import changed, covered, whole_digest
from fieldbook.checks.progress.holds import BACKFILL, SIGN_OFFS, unmet
from fieldbook.checks.progress.signature_rows import readable_words
from fieldbook.checks.progress.standing import proven, standing
from fieldbook.checks.registry import check, instant, verdicts
from fieldbook.records.base import natural_id
from fieldbook.records.ids import backfill_id, flush_id, pressure_test_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.permits import Inspection
from fieldbook.records.tables.sign_offs import SignOff

NOW = instant(TODAY)
ZONE = "zone-1"


def flags(job: LoadedJob) -> list[str]:
    """The codes of the flags on sign-offs."""
    wanted = ("sign-off", "signed", "hold overridden")
    return [flag.code for flag in check(job, NOW) if any(word in flag.code for word in wanted)]


def with_row(job: LoadedJob, kind: str, zone_id: str | None = None, **values: object) -> LoadedJob:
    """The job with a row of a sign-off as another program or laptop may have written it."""
    held: dict[str, Any] = {
        "kind": kind,
        "zone_id": zone_id,
        "signed_by": "AB",
        "signed_at": "2026-05-01T10:00:00-05:00",
        **values,
    }
    parts = covered(job, kind, zone_id)
    held.setdefault("digest", whole_digest(parts, held))
    made = row(SignOff, f"sign-{len(job.sign_offs)}", **held)
    return replace(job, sign_offs=(*job.sign_offs, made))


def test_every_sign_off_of_a_sound_job_is_proven() -> None:
    job = all_signed(sound_job())
    for kind in SIGN_OFFS:
        assert proven(job, kind, None, NOW), kind
    for zone_id in (None, ZONE):
        assert proven(job, BACKFILL, zone_id, NOW)
    assert flags(job) == []


@pytest.mark.parametrize(
    ("kind", "zone_id", "table", "row_id", "column"),
    [
        (BACKFILL, ZONE, "backfill", backfill_id(JOB, ZONE), "cover_in"),
        (BACKFILL, ZONE, "flush", flush_id(ZONE), "ran_clear"),
        ("dig", None, "permit", "permit-1", "number"),
        ("dig", None, "locate_ticket", "ticket-1", "private_lines"),
        ("in service", None, "backflow_assembly", "backflow-1", "installed_on"),
        ("handover", None, "tie", "tie-1", "box_id"),
    ],
)
def test_a_signature_whose_reason_is_cleared_is_no_longer_met(
    kind: str, zone_id: str | None, table: str, row_id: str, column: str
) -> None:
    job = all_signed(sound_job())
    job = put(job, table, row_id, **{column: "" if column == "number" else None})
    assert not proven(job, kind, zone_id, NOW)
    assert "sign-off no longer met" in flags(job)


def test_a_zone_that_is_added_later_makes_handover_unproven() -> None:
    job = all_signed(sound_job())
    grown = replace(job, zones=(*job.zones, zone(9, name="new bed")))
    assert not proven(grown, "handover", None, NOW)
    assert proven(job, "handover", None, NOW)


def test_an_inspection_that_is_withdrawn_and_a_rule_set_that_changes_show() -> None:
    job = signed_off(sound_job())
    rule_id = natural_id(JOB, "rule", "inspection_before_backfill")
    ruled = put(
        job, "rule", rule_id, key="inspection_before_backfill", value="true", source="City code",
        set_name="City",
    )  # fmt: skip
    assert not proven(ruled, BACKFILL, ZONE, NOW)
    passed = row(Inspection, "i-1", kind="before backfill", result="passed", held_on="2026-04-29")
    assert proven(replace(ruled, inspections=(passed,)), BACKFILL, ZONE, NOW)
    failed = passed.with_values(result="failed")
    assert not proven(replace(ruled, inspections=(failed,)), BACKFILL, ZONE, NOW)


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"signed_by": ""}, "nobody is named"),
        ({"signed_by": "\u200b\u2060"}, "nobody is named"),
        ({"state": "fine"}, "neither signed nor withdrawn"),
        ({"signed_at": "soon"}, "no time that can be read"),
        ({"signed_at": (NOW + timedelta(hours=2)).isoformat()}, "in the future"),
    ],
)
def test_a_row_that_is_wrong_in_itself_is_unproven(values: dict[str, str], words: str) -> None:
    job = with_row(sound_job(), "price", None, **values)
    found = standing(job, "price", None, NOW)
    assert found is not None
    assert any(words in fault for fault in found.faults)
    assert "sign-off unproven" in flags(job)
    assert proven(with_row(sound_job(), "price"), "price", None, NOW)


def test_times_compare_as_instants_and_not_as_text() -> None:
    # 10:00 at -05:00 is 15:00 UTC and later than 14:59 UTC, though its text sorts before it.
    job = with_row(sound_job(), "price", signed_at="2026-05-01T10:00:00-05:00", signed_by="LA")
    job = with_row(job, "price", signed_at="2026-05-01T14:59:00+00:00", signed_by="EA")
    counts = job.signed("price")
    assert counts is not None
    assert counts.signed_by == "LA"


def test_two_laptops_that_did_not_see_each_other_are_a_conflict() -> None:
    base = with_row(sound_job(), "price")
    first = base.sign_offs[0].id
    withdrawn = with_row(base, "price", state="withdrawn", supersedes=first, signed_by="CD")
    both = with_row(withdrawn, "price", supersedes=first, signed_by="EF")
    found = standing(both, "price", None, NOW)
    assert found is not None
    assert [rival.signed_by for rival in found.rivals] == ["CD"]
    assert "signed on two laptops" in flags(both)
    # One after the other is no conflict: the second saw the first.
    after = with_row(withdrawn, "price", supersedes=withdrawn.sign_offs[-1].id)
    assert proven(after, "price", None, NOW)


def test_rows_that_supersede_each_other_in_a_circle_count_for_nothing() -> None:
    job = with_row(sound_job(), "price", supersedes="sign-1")
    job = with_row(job, "price", supersedes="sign-0")
    assert standing(job, "price", None, NOW) is None
    assert job.signed("price") is None


def overridden(job: LoadedJob, **values: object) -> LoadedJob:
    """The job with a backfill of zone 1 signed over an overridden hold 7."""
    given = {
        "overridden": "hold 7, missing the flush of zone 1",
        "override_by": "A. Foreman",
        "override_reason": "sod was on the truck",
    }
    return with_row(job, BACKFILL, ZONE, **{**given, **values})


def test_an_override_stays_a_fix_until_what_was_skipped_is_proven() -> None:
    unflushed = put(sound_job(), "flush", flush_id(ZONE), ran_clear=None)
    job = overridden(unflushed)
    found = standing(job, BACKFILL, ZONE, NOW)
    assert found is not None
    assert (found.proven, [one.hold.number for one in found.overridden]) == (True, [7])
    severities = {f.severity for f in check(job, NOW) if f.code == "hold overridden"}
    assert severities == {"fix"}
    proved = put(job, "flush", flush_id(ZONE), ran_clear=True)
    severities = {f.severity for f in check(proved, NOW) if f.code == "hold overridden"}
    assert severities == {"note"}


@pytest.mark.parametrize(
    "values",
    [
        {"override_by": "\u200b"},
        {"override_reason": " . "},
        {"override_reason": "\u202e\u2066"},
        {"overridden": "hold 4, missing something else"},
    ],
)
def test_an_override_nobody_can_read_lets_nothing_through(values: dict[str, object]) -> None:
    unflushed = put(sound_job(), "flush", flush_id(ZONE), ran_clear=None)
    job = overridden(unflushed, **values)
    assert not proven(job, BACKFILL, ZONE, NOW)
    assert "sign-off no longer met" in flags(job)


def test_an_override_is_proven_by_a_test_that_was_made_after_the_signature() -> None:
    late = {"began_at": "2026-05-08T08:00", "ended_at": "2026-05-08T09:30"}
    test_id = pressure_test_id(JOB, None)
    skipped = put(sound_job(), "pressure_test", test_id, **late, end_psi=None)
    words = {"overridden": "hold 4, missing a test", "override_by": "A. Foreman"}
    job = with_row(skipped, BACKFILL, **words, override_reason="sod was on the truck")
    assert {f.severity for f in check(job, NOW) if f.code == "hold overridden"} == {"fix"}
    proved = put(job, "pressure_test", test_id, end_psi=61.5)
    assert {f.severity for f in check(proved, NOW) if f.code == "hold overridden"} == {"note"}


def test_a_row_that_supersedes_an_overridden_one_does_not_hide_it() -> None:
    unflushed = put(sound_job(), "flush", flush_id(ZONE), ran_clear=None)
    job = overridden(unflushed)
    later = with_row(job, BACKFILL, ZONE, supersedes=job.sign_offs[-1].id)
    assert not proven(later, BACKFILL, ZONE, NOW)
    assert "sign-off no longer met" in flags(later)


def test_digging_and_service_are_overridden_only_where_the_rules_allow_it() -> None:
    job = put(sound_job(), "locate_ticket", "ticket-1", private_lines=None)
    values = {"overridden": "hold 2, missing it", "override_by": "A. Foreman"}
    job = with_row(
        job, "dig", signed_at="2026-04-20T08:00:00-05:00", override_reason="in a hurry", **values
    )
    assert not proven(job, "dig", None, NOW)
    rule_id = natural_id(JOB, "rule", "override_dig")
    rules = {"key": "override_dig", "value": "true", "source": "Own rule", "set_name": "Own"}
    assert proven(put(job, "rule", rule_id, **rules), "dig", None, NOW)


def test_renaming_a_zone_changes_no_digest() -> None:
    job = all_signed(sound_job())
    renamed = put(job, "zone", ZONE, name="roses by the gate")
    assert [changed(renamed, sign_off) for sign_off in renamed.sign_offs] == [
        [] for _ in job.sign_offs
    ]
    renumbered = put(job, "zone", ZONE, number=7)
    assert any(changed(renumbered, sign_off) for sign_off in renumbered.sign_offs)


def test_a_signature_made_with_the_older_digest_still_matches() -> None:
    job = sound_job()
    parts = covered(job, "handover", None, "1")
    values = {"kind": "handover", "signed_by": "AB", "signed_at": "2026-05-04T08:00:00-05:00"}
    made = row(
        SignOff, "old", **values, covered=json.dumps(parts), digest=whole_digest(parts, values)
    )
    old = replace(job, sign_offs=(made,))
    assert changed(old, made) == []
    assert "zone" in changed(put(old, "zone", ZONE, name="roses"), made)


def test_handover_needs_service_and_closing_needs_handover() -> None:
    at = datetime(2026, 5, 4, 9, 0)
    served = all_signed(sound_job(), last="in service")
    assert unmet(served, "handover", None, at) == []
    unserved = all_signed(sound_job(), last="energise")
    assert [one.hold.number for one in unmet(unserved, "handover", None, at)] == [13]
    assert [one.hold.number for one in unmet(served, "close", None, at)] == [12]


@pytest.mark.parametrize(
    ("text", "readable"),
    [
        ("A. Foreman", True),
        ("Ñu", True),
        ("李雷", True),
        ("ab", True),
        ("7", False),
        ("--", False),
        ("\u200b\u200c", False),
        ("a", False),
    ],
)
def test_a_name_is_readable_with_two_letters_of_any_script(text: str, readable: bool) -> None:
    assert readable_words(text) is readable


def test_words_on_sign_offs_state_a_record_and_no_permission() -> None:
    assert not any("may" in words.lower().split() for words in SIGN_OFFS.values())


def test_the_next_step_takes_no_unproven_signature_for_a_good_one() -> None:
    job = all_signed(sound_job())
    assert next_step(job, verdicts(job, NOW), NOW).sentence == "Nothing more: the job is closed."
    cleared = put(job, "backflow_test", "test-1", certified=None)
    step = next_step(cleared, verdicts(cleared, NOW), NOW)
    assert "closed" not in step.sentence
    assert step.sentence != "Hand over."
