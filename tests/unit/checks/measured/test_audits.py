"""Audits of a job: their figures, which feeds the schedule, and what is said of bad ones."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from builders import checked, codes, only, put, sound_job
from measured_jobs import audited

from fieldbook.checks.measured.audits import audit_results, audited_uniformity
from fieldbook.checks.measured.measured_words import result_words
from fieldbook.records.loaded_job import LoadedJob

EVEN = [10.0, 11.0, 12.0, 13.0] * 5
UNEVEN = [1.0, 10.0, 14.0, 15.0] * 5


def words(job: LoadedJob) -> str:
    return result_words(job, audit_results(job)["audit-1"])


def test_an_audit_that_counts_feeds_the_schedule() -> None:
    job = audited(EVEN)
    found = audited_uniformity(job, "zone-1")
    assert found is not None
    assert found.low_quarter == pytest.approx(10.0 / 11.5)
    assert (found.cans, found.quarter_cans, found.rule, found.on) == (20, 5, "round", "2026-05-11")
    # 11.5 mL through 3 in: 11.5 / 16.387 / 7.069 in, in half an hour.
    assert found.rate_in_h == pytest.approx(11.5 / 16.387064 / 7.0686 * 2, abs=1e-4)
    assert audited_uniformity(job, "zone-2") is None
    assert "low quarter 87 % (5 of 20 cans, round)" in words(job)


@pytest.mark.parametrize(
    ("spoilt", "cans", "why"),
    [
        ({"wind_mph": 8.0}, EVEN, "the wind was 8 mph, at most 5 mph"),
        ({}, EVEN[:19], "19 cans were read, at least 20"),
        ({"run_min": 10.0}, EVEN, "it ran 10 min, at least 15"),
    ],
)
def test_a_bad_audit_is_said_and_feeds_nothing(
    spoilt: dict[str, Any], cans: list[float], why: str
) -> None:
    job = audited(cans, **spoilt)
    assert audited_uniformity(job, "zone-1") is None
    assert why in words(job)
    assert why in only(job, "audit does not count").sentence
    (answer,) = (one for one in checked(job).answers if one.check == "catch-can audit")
    assert answer.word == "not checked"


@pytest.mark.parametrize("blank", ["zone_id", "held_on", "run_min", "wind_mph", "caught_as"])
def test_an_audit_that_lacks_an_entry_feeds_nothing(blank: str) -> None:
    job = put(audited(EVEN), "catch_audit", "audit-1", **{blank: None})
    assert audited_uniformity(job, "zone-1") is None
    (answer,) = (one for one in checked(job).answers if one.check == "catch-can audit")
    assert [missing.at.column for missing in answer.missing] == [blank]


def test_an_audit_of_a_zone_that_is_gone_feeds_nothing() -> None:
    job = audited(EVEN, zone_id="a zone that is gone")
    (answer,) = (one for one in checked(job).answers if one.check == "catch-can audit")
    assert (answer.word, answer.missing[0].at.column) == ("not checked", "zone_id")


def test_a_can_that_was_not_read_is_no_dry_can() -> None:
    job = audited([*EVEN, None])
    assert audited_uniformity(job, "zone-1") is None
    dry = audited_uniformity(audited([*EVEN, 0.0]), "zone-1")
    assert dry is not None
    assert dry.most_scheduling is None


def test_the_older_audit_counts_where_the_newest_does_not() -> None:
    job = audited(UNEVEN, audited(EVEN), held_on="2027-05-11", wind_mph=9.0)
    found = audited_uniformity(job, "zone-1")
    assert found is not None
    assert found.on == "2026-05-11"
    assert [flag.at.row_id for flag in checked(job).flags if flag.at.table == "catch_audit"] == [
        "audit-2"
    ]


def test_cans_under_two_zones_say_nothing_of_the_rate_of_one() -> None:
    job = audited(EVEN, zone_2_id="zone-2")
    for zone_id in ("zone-1", "zone-2"):
        found = audited_uniformity(job, zone_id)
        assert found is not None
        assert found.rate_in_h is None
    assert audit_results(job)["audit-1"].rate_in_h is not None


def test_depths_need_no_throat_and_millilitres_without_one_have_no_rate() -> None:
    depths = audited([0.25] * 20, caught_as="depth", throat_in=None)
    found = audited_uniformity(depths, "zone-1")
    assert found is not None
    assert found.rate_in_h == pytest.approx(0.5)
    blind = audited_uniformity(audited(EVEN, throat_in=None), "zone-1")
    assert blind is not None
    assert blind.rate_in_h is None
    assert blind.low_quarter == pytest.approx(10.0 / 11.5)


def test_the_rule_of_the_quarter_is_printed_with_its_count() -> None:
    cans = [float(18 + n) for n in range(22)]
    by_rule = {
        rule: audited_uniformity(audited(cans, quarter_rule=rule), "zone-1")
        for rule in ("round", "floor", "weighted")
    }
    assert [one and one.quarter_cans for one in by_rule.values()] == [6, 5, 5.5]
    assert "5.5 of 22 cans, weighted" in words(audited(cans, quarter_rule="weighted"))


def test_a_low_uniformity_is_a_note_beside_what_homes_have() -> None:
    # Baum, Dukes and Miller 2003: 40 % on homes with sprays, 48 % with rotors.
    found = only(audited(UNEVEN), "watered less evenly than most")
    assert found.severity == "note"
    assert "40 %" in found.sentence
    assert "2003" in found.source
    assert "watered less evenly than most" not in codes(audited(EVEN))
    job = sound_job()
    drip = replace(job, zones=tuple(z.with_values(head_kind="drip") for z in job.zones))
    assert "watered less evenly than most" not in codes(audited(UNEVEN, drip))


def test_a_run_shorter_than_is_advised_counts_with_a_note() -> None:
    job = audited(EVEN, run_min=15.0)
    assert audited_uniformity(job, "zone-1") is not None
    assert only(job, "short audit").severity == "note"
    assert "short audit" not in codes(audited(EVEN, run_min=30.0))
