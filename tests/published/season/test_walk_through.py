"""The owner's walk-through against the codes that ask for it; each test names its source."""

from __future__ import annotations

from datetime import datetime

import pytest
from builders import JOB, put, ruled, sound_job, without

from fieldbook.checks.desk.owner_shown import walk_through_lacks
from fieldbook.checks.registry import verdicts
from fieldbook.records.ids import once_id, zone_shown_id
from fieldbook.records.loaded_job import LoadedJob

NOW = datetime(2026, 5, 10, 12)
ROW = once_id(JOB, "walk_through")


def lacks(job: LoadedJob) -> list[str]:
    return [missing.words for missing in walk_through_lacks(job)]


def not_shown() -> LoadedJob:
    return without(sound_job(1), "walk_through", "zone_shown")


def test_a_refusal_without_its_time_is_incomplete() -> None:
    """30 Tex. Admin. Code 344.63: the owner's signature, or the time and date of the refusal."""
    refused = put(not_shown(), "walk_through", ROW, refused=True)
    assert lacks(refused) == ["the day and hour at which the owner refused"]
    day_alone = put(refused, "walk_through", ROW, refused_at="2026-05-03")
    assert lacks(day_alone) == ["the day and hour at which the owner refused"]
    assert lacks(put(refused, "walk_through", ROW, refused_at="2026-05-03T16:40")) == []


@pytest.mark.parametrize(("shown_min", "is_open"), [(4.0, True), (5.0, False), (5.5, False)])
def test_each_zone_is_demonstrated_for_five_minutes(shown_min: float, is_open: bool) -> None:
    """Laredo, Texas, 25-87: 4 minutes against 5 are incomplete."""
    job = put(sound_job(1), "zone_shown", zone_shown_id("zone-1"), shown_min=shown_min)
    assert lacks(job) == (["5 min of zone 1 shown to the owner"] if is_open else [])


def test_another_rule_sets_other_minutes_or_none() -> None:
    short = put(sound_job(1), "zone_shown", zone_shown_id("zone-1"), shown_min=4.0)
    assert lacks(ruled(short, "walk_through_zone_min", 3)) == []
    assert lacks(ruled(without(short, "zone_shown"), "walk_through_zone_min", 0)) == []
    longer = ruled(short, "walk_through_zone_min", 10)
    assert lacks(longer) == ["10 min of zone 1 shown to the owner"]


@pytest.mark.parametrize(
    ("column", "words"),
    [
        ("checklist", "that the maintenance list was handed over"),
        ("manual", "that the controller's manual was handed over"),
        ("schedule", "that the seasonal schedule was handed over"),
        ("parts_list", "that the list of parts was handed over"),
        ("drawing", "that the plan as installed was handed over"),
    ],
)
def test_each_paper_is_handed_over(column: str, words: str) -> None:
    """30 Tex. Admin. Code 344.63: checklist, manual, schedule, list of components, plan."""
    assert lacks(put(sound_job(1), "walk_through", ROW, **{column: None})) == [words]
    assert lacks(put(sound_job(1), "walk_through", ROW, **{column: False})) == [words]


def test_the_user_is_taught_that_need_changes() -> None:
    """21 NCAC 23 .0510(b)."""
    words = ["that the owner was taught that need changes with the season"]
    assert lacks(put(sound_job(1), "walk_through", ROW, season_taught=None)) == words
    assert lacks(sound_job(1)) == []


def test_an_incomplete_walk_through_is_not_checked_and_a_whole_one_sound() -> None:
    def word(job: LoadedJob) -> list[str]:
        found = verdicts(job, NOW).answers
        return [answer.word for answer in found if answer.check == "owner's walk-through"]

    assert word(not_shown()) == []
    assert word(put(not_shown(), "walk_through", ROW, refused=True)) == ["not checked"]
    assert word(sound_job(1)) == ["sound"]
    later = put(sound_job(1), "walk_through", ROW, held_at="2026-05-11T09:00")
    assert word(later) == ["wrong"]
