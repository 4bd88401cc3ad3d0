"""Change orders, the punch list, warranties: what each must say (common practice, no source)."""

from __future__ import annotations

from datetime import date, datetime, timedelta

import pytest
from builders import all_signed, put, sound_job
from hypothesis import given
from hypothesis import strategies as st

from fieldbook.checks.desk.open_punch_items import open_on
from fieldbook.checks.desk.warranty_ends import warranty_end, warranty_name
from fieldbook.checks.finding import Finding
from fieldbook.checks.registry import verdicts
from fieldbook.checks.verdicts import Answer
from fieldbook.records.days import months_after
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.owner.warranties import Warranty

NOW = datetime(2026, 5, 10, 12)
AGREED = {
    "number": 1,
    "changed": "a drip zone along the fence",
    "price": 640.5,
    "agreed_by": "A. Customer",
    "agreed_at": "2026-05-02T10:30",
}


def answers(job: LoadedJob, check: str) -> list[Answer]:
    return [answer for answer in verdicts(job, NOW).answers if answer.check == check]


def flags(job: LoadedJob, check: str) -> list[Finding]:
    return [flag for answer in answers(job, check) for flag in answer.flags]


def ordered(**values: object) -> LoadedJob:
    return put(sound_job(1), "change_order", "order-1", **{**AGREED, **values})


def test_a_change_with_its_answer_and_price_is_sound() -> None:
    assert [answer.word for answer in answers(ordered(), "change orders")] == ["sound"]
    assert answers(sound_job(1), "change orders") == []


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"agreed_by": ""}, "who answered to change order 1"),
        ({"agreed_at": None}, "when change order 1 was answered"),
        ({"changed": ""}, "what change order 1 changes"),
        ({"price": None}, "the price of change order 1"),
    ],
)
def test_a_change_that_lacks_something_is_not_checked(
    values: dict[str, object], words: str
) -> None:
    (answer,) = answers(ordered(**values), "change orders")
    assert (answer.word, answer.missing[0].words) == ("not checked", words)


def test_a_refused_change_needs_no_price() -> None:
    (answer,) = answers(ordered(refused=True, price=None), "change orders")
    assert answer.word == "sound"


def test_two_changes_of_one_number_and_an_answer_to_come_are_wrong() -> None:
    twice = put(ordered(), "change_order", "order-2", **AGREED)
    assert {flag.code for flag in flags(twice, "change orders")} == {
        "two change orders of one number"
    }
    (future,) = flags(ordered(agreed_at="2026-05-11T08:00"), "change orders")
    assert future.code == "change agreed in the future"


ITEM = {"what": "raise the head by the gate", "zone_id": "zone-1", "found_on": "2026-05-03"}


def item(job: LoadedJob, **values: object) -> LoadedJob:
    return put(job, "punch_item", "item-1", **{**ITEM, **values})


def test_an_open_item_is_a_note_before_handover_and_a_fix_after_it() -> None:
    (before,) = flags(item(sound_job(1)), "punch list")
    assert (before.code, before.severity) == ("open punch item", "note")
    assert "raise the head by the gate (zone 1), found on 2026-05-03" in before.sentence
    (after,) = flags(item(all_signed(sound_job(1))), "punch list")
    assert (after.code, after.severity) == ("open punch item", "fix")


def test_a_done_item_is_sound() -> None:
    (answer,) = answers(item(sound_job(1), done_on="2026-05-04"), "punch list")
    assert (answer.word, answer.flags) == ("sound", ())


@pytest.mark.parametrize("done_on", ["2026-05-01", "2026-05-12"])
def test_a_day_of_doing_before_the_finding_or_to_come_is_wrong(done_on: str) -> None:
    found = flags(item(sound_job(1), done_on=done_on), "punch list")
    assert "wrong day of a punch item" in [flag.code for flag in found]


@pytest.mark.parametrize(
    ("day", "count"), [("2026-05-02", 0), ("2026-05-03", 1), ("2026-05-05", 1), ("2026-05-06", 0)]
)
def test_an_item_is_open_from_the_day_it_was_found_to_the_day_before_it_was_done(
    day: str, count: int
) -> None:
    job = item(sound_job(1), done_on="2026-05-06")
    assert len(open_on(job, date.fromisoformat(day))) == count


def warranty(**values: object) -> Warranty:
    made = put(sound_job(1), "warranty", "warranty-1", **values).warranties
    return made[0]


def test_a_warranty_ends_on_its_day_or_after_its_months() -> None:
    assert warranty_end(warranty(until_on="2027-05-01")) == date(2027, 5, 1)
    counted = warranty(from_on="2026-08-31", months=18)
    assert warranty_end(counted) == date(2028, 2, 29)
    assert warranty_end(warranty(from_on="2026-05-01")) is None
    assert warranty_end(warranty(months=12)) is None


def test_a_warranty_is_named_by_its_kind_and_thing() -> None:
    assert warranty_name(warranty(kind="valve", thing="zone 3")) == "valve warranty (zone 3)"
    assert warranty_name(warranty(kind="other", thing="pump timer")) == "warranty (pump timer)"


def test_a_warranty_without_an_end_is_not_checked_and_one_that_ends_too_early_wrong() -> None:
    job = sound_job(1)
    (unknown,) = answers(put(job, "warranty", "w", kind="controller"), "warranties")
    assert unknown.word == "not checked"
    (good,) = answers(put(job, "warranty", "w", from_on="2026-05-01", months=12), "warranties")
    assert good.word == "sound"
    early = put(job, "warranty", "w", from_on="2026-05-01", until_on="2026-04-30")
    (bad,) = answers(early, "warranties")
    assert bad.word == "wrong"


@given(st.dates(date(1900, 1, 1), date(2200, 12, 31)), st.integers(1, 1200))
def test_months_after_a_day_are_that_many_months_later(day: date, months: int) -> None:
    later = months_after(day, months)
    assert (later.year - day.year) * 12 + later.month - day.month == months
    last_of_month = (later + timedelta(days=1)).day == 1
    assert later.day == day.day or (later.day < day.day and last_of_month)
