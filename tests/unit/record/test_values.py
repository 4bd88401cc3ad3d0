"""Values typed in a cell or read from a file: kept, or refused with one sentence."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldbook.records.base import Row, columns_of, facts_of, natural_id, new_id
from fieldbook.records.days import day_of, time_of
from fieldbook.records.fact import (
    Fact,
    amount,
    choice,
    clock,
    conductor_colour,
    day,
    moment,
    tick,
    whole,
    words,
)
from fieldbook.records.loaded_job import TABLES
from fieldbook.records.printable import printable
from fieldbook.records.tables.job import Job
from fieldbook.records.values import Value, ValueRefusedError, from_file, from_text, shown
from fieldbook.units import PRESSURE, PRICE, RATIO

STATIC = amount("Static pressure", PRESSURE, (0, 300))
COUNT = whole("Zone", 1, 200)
SIZE = choice("Size", ("1", "1-1/4", "3/4"))
CLEAR = tick("Ran clear")
NAME = words("Name")
WIRE = conductor_colour("Wire")
WHEN = moment("Signed at")
FACTS = (STATIC, COUNT, SIZE, CLEAR, NAME, WIRE, WHEN)
HOSTILE = ("[/]", "[bold red]x", "\x1b[2J", "a\u202eb", "\u2066x\u2069", "tab\there", "nul\x00")


@pytest.mark.parametrize(
    ("fact", "text", "value"),
    [
        (STATIC, "62", 62.0),
        (STATIC, "3.1 bar", pytest.approx(44.962, rel=1e-4)),
        (STATIC, "", None),
        (COUNT, "12", 12),
        (SIZE, "3/4", "3/4"),
        (SIZE, "3", "3/4"),
        (SIZE, "1", "1"),
        (CLEAR, "Yes", True),
        (CLEAR, "n", False),
        (NAME, "  front [/] lawn ", "front [/] lawn"),
        (NAME, "", ""),
        (WIRE, "Red with black stripe", "red/black"),
    ],
)
def test_typed_text_gives_its_value(fact: Fact, text: str, value: Value) -> None:
    assert from_text(fact, text) == value


@pytest.mark.parametrize(
    ("fact", "text"),
    [
        *((STATIC, text) for text in ("high", "301", "-1")),
        *((COUNT, text) for text in ("1.5", "0", "²")),
        *((SIZE, "9"), (CLEAR, "maybe"), (WIRE, "mauve")),
    ],
)
def test_bad_typed_text_is_refused(fact: Fact, text: str) -> None:
    with pytest.raises(ValueRefusedError) as why:
        from_text(fact, text)
    assert str(why.value).endswith(".")
    assert "\n" not in str(why.value)


@pytest.mark.parametrize(
    ("fact", "value"),
    [(STATIC, float("nan")), (STATIC, float("inf")), (STATIC, 1e308), (STATIC, True)]
    + [(STATIC, 10**400), (STATIC, []), (STATIC, "5 gpm"), (COUNT, 1.0), (COUNT, True)]
    + [(COUNT, 10**400), (SIZE, "2"), (CLEAR, 1), (CLEAR, "yes"), (NAME, 5), (NAME, "x" * 401)]
    + [(NAME, hostile) for hostile in HOSTILE[2:]]
    + [(WIRE, "plaid"), (WHEN, "yesterday"), (WHEN, {})],
)
def test_a_bad_value_from_a_file_is_refused(fact: Fact, value: object) -> None:
    with pytest.raises(ValueRefusedError) as why:
        from_file(fact, value)
    said = str(why.value)
    assert said.endswith(".")
    assert said == printable(said)
    assert len(said) < 200


json_like = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=20),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3)
    ),
    max_leaves=6,
)


@given(st.sampled_from(FACTS), json_like)
def test_anything_in_a_file_is_a_value_or_refused(fact: Fact, value: object) -> None:
    try:
        kept = from_file(fact, value)
    except ValueRefusedError:
        return
    assert from_file(fact, kept) == kept


@given(st.sampled_from(FACTS), st.text(max_size=60))
def test_anything_typed_is_a_value_or_refused(fact: Fact, text: str) -> None:
    try:
        kept = from_text(fact, text)
    except ValueRefusedError:
        return
    again = shown(fact, kept)
    if fact.kind != "amount":
        assert from_text(fact, again) == kept


@given(st.text(max_size=200))
def test_printable_text_holds_no_control_characters(text: str) -> None:
    kept = printable(text)
    assert printable(kept) == kept
    assert not set(kept) & {"\x1b", "\x07", "\x00", "\n", "\u202e", "\u2066"}


def test_markup_is_kept_as_text() -> None:
    for hostile in HOSTILE[:2]:
        assert from_file(NAME, hostile) == hostile


def test_every_column_has_a_label_and_every_amount_its_unit() -> None:
    units = (
        *("_psi", "_gpm", "_gph", "_ft", "_ft2", "_in", "_ohm", "_v", "_a", "_min", "_h"),
        *("_deg", "_gal", "_s", "_cfm", "_mph", "_ml"),
    )
    records: tuple[type[Row], ...] = (Job, *TABLES.values())
    for record in records:
        facts = facts_of(record)
        for column in columns_of(record):
            if column != "id":
                assert facts[column].label, column
        for column, fact in facts.items():
            if fact.kind == "amount":
                unitless = fact.measure is RATIO or fact.measure is PRICE
                # A head's reading and a visit's time have no other name than their unit.
                named = column.endswith(units) or column in ("psi", "hours")
                assert unitless or named, column
                assert fact.low < fact.high
            assert fact.kind != "choice" or fact.choices


def test_ids_sort_by_time_and_natural_ones_stay() -> None:
    ids = [new_id() for _ in range(50)]
    assert ids == sorted(ids)
    assert natural_id("a", "b") == natural_id("a", "b") != natural_id("ab")


@pytest.mark.parametrize("typed", ["0001-01-01", "1899-12-31", "2201-01-01", "9999-12-31"])
def test_a_year_that_no_job_can_lie_in_is_refused_and_reads_as_no_day(typed: str) -> None:
    with pytest.raises(ValueRefusedError, match="takes a date such as 2026-05-01"):
        from_text(day("Expires"), typed)
    with pytest.raises(ValueRefusedError, match="takes a time such as 14:30"):
        from_text(clock("Began"), f"{typed} 14:30")
    assert day_of(typed) is None
    assert time_of(f"{typed}T14:30") is None


@pytest.mark.parametrize("typed", ["1900-01-01", "2200-12-31", "20260501", "today"])
def test_a_day_is_stored_in_one_form(typed: str) -> None:
    kept = from_text(day("Expires"), typed)
    assert isinstance(kept, str)
    assert len(kept) == len("2026-05-01")
    assert day_of(kept) is not None
    assert day_of(f"{kept}T14:30:00-05:00") == day_of(kept)


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("may 1", "2026-05-01"),
        ("1 May", "2026-05-01"),
        ("Sept. 30", "2026-09-30"),
        ("jan 20", "2026-01-20"),
        ("December 31, 2026", "2026-12-31"),
        ("yesterday", "2026-03-01"),
        ("tomorrow", "2026-03-03"),
    ],
)
def test_a_day_is_typed_as_a_crew_says_it(
    monkeypatch: pytest.MonkeyPatch, typed: str, kept: str
) -> None:
    class AtTheTruck(date):
        @classmethod
        def today(cls) -> AtTheTruck:
            return cls(2026, 3, 2)

    monkeypatch.setattr("fieldbook.records.days.date", AtTheTruck)
    assert from_text(day("Expires"), typed) == kept


@pytest.mark.parametrize(
    ("today", "typed", "kept"),
    [((2026, 1, 5), "dec 30", "2025-12-30"), ((2026, 12, 20), "jan 4", "2027-01-04")],
)
def test_around_new_year_a_day_is_of_the_year_that_is_near(
    monkeypatch: pytest.MonkeyPatch, today: tuple[int, int, int], typed: str, kept: str
) -> None:
    class AtTheTruck(date):
        @classmethod
        def today(cls) -> AtTheTruck:
            return cls(*today)

    monkeypatch.setattr("fieldbook.records.days.date", AtTheTruck)
    assert from_text(day("Expires"), typed) == kept


@pytest.mark.parametrize("typed", ["5/1", "marble 3", "ma 3", "feb 30", "may", "31", "may 1 26"])
def test_what_may_be_another_day_is_refused_with_an_example(typed: str) -> None:
    with pytest.raises(ValueError, match="May 1"):
        from_text(day("Expires"), typed)
