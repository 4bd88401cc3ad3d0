"""What a crew types: feet and inches, nominal sizes, nozzles by their shorthand.

12'-6" is how drawings write feet and inches; 1-1/4 and 1 1/4 are nominal pipe sizes as in ASTM
D1785; the letters of a nozzle are trade shorthand (from memory, no source).
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldbook.records.base import facts_of
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.supply import Supply
from fieldbook.records.values import ValueRefusedError, from_text
from fieldbook.trade.pipe_words import class_among
from fieldbook.trade.pipes import PIPE_SIZES
from fieldbook.trade.shorthand import (
    ARCS_DEG,
    Nozzle,
    looks_like_nozzle,
    read_nozzle,
    read_size,
    size_among,
    write_nozzle,
)
from fieldbook.units import LENGTH, SHORT_LENGTH, UnitError, parse

SIZE, LENGTH_FACT = facts_of(PipeRun)["size"], facts_of(PipeRun)["length_ft"]


@pytest.mark.parametrize(
    "typed",
    ["12'6\"", "12 ft 6 in", "12' 6", "12'6", "12'-6\"", "12\u2019 6\u201d", "12 feet 6 in"],
)
def test_feet_and_inches_are_read_as_crews_write_them(typed: str) -> None:
    assert parse(typed, LENGTH) == 12.5
    assert from_text(LENGTH_FACT, typed) == 12.5
    assert parse(typed, SHORT_LENGTH) == 150


def test_a_length_in_metres_needs_no_blank() -> None:
    assert parse("3.5m", LENGTH) == pytest.approx(3.5 / 0.3048)


@given(
    st.integers(0, 400), st.integers(0, 11), st.sampled_from(["'{}\"", "' {}", "'-{}", " ft {}"])
)
def test_feet_and_inches_come_back_as_they_were_typed(feet: int, inches: int, form: str) -> None:
    typed = str(feet) + form.format(inches)
    assert parse(typed, LENGTH) * 12 == pytest.approx(feet * 12 + inches)


@pytest.mark.parametrize("typed", ["12' 30", "12 6", "5 m 3", "18 ft -6 in", "12'x"])
def test_a_length_that_is_not_understood_is_refused_with_an_example(typed: str) -> None:
    with pytest.raises(UnitError, match=r"such as 18\.5 ft|no unit of length") as refused:
        parse(typed, LENGTH)
    assert str(refused.value).count(". ") == 0


@pytest.mark.parametrize("typed", ["1 1/4", "1-1/4", "1.25", '1 1/4"', "1-1/4 in", "1¼", "1 - 1/4"])
def test_a_size_is_read_however_it_is_written(typed: str) -> None:
    assert from_text(SIZE, typed) == "1-1/4"


@given(
    st.sampled_from([size for size in PIPE_SIZES if "-" in size]),
    st.sampled_from(["-", " ", " - "]),
    st.sampled_from(["", '"', " in", " inch"]),
)
def test_every_size_comes_back_from_every_way_to_write_it(size: str, dash: str, unit: str) -> None:
    assert size_among(size.replace("-", dash) + unit, PIPE_SIZES) == size


@given(st.sampled_from(PIPE_SIZES))
def test_every_size_comes_back_from_its_decimal(size: str) -> None:
    inches = read_size(size)
    assert inches is not None
    assert size_among(f"{float(inches):g}", PIPE_SIZES) == size


@pytest.mark.parametrize("typed", ["11/4", "1.3", "4", "1 4/4", "1/0", "5/8 x 3/4"])
def test_a_size_that_is_not_made_is_refused_with_those_that_are(typed: str) -> None:
    with pytest.raises(ValueRefusedError, match="1-1/4"):
        from_text(SIZE, typed)


def test_a_list_of_gauges_or_of_meters_is_no_list_of_sizes() -> None:
    assert size_among('12"', ("10", "12", "14")) is None
    assert from_text(facts_of(Supply)["meter_size"], "5/8 x 3/4") == "5/8 x 3/4"
    assert from_text(facts_of(Supply)["meter_size"], "1 1/2") == "1-1/2"


@given(st.integers(1, 200), st.sampled_from(sorted(ARCS_DEG.values())))
def test_a_nozzle_comes_back_as_it_was_written(radius_ft: int, arc_deg: float) -> None:
    nozzle = Nozzle(float(radius_ft), arc_deg)
    assert read_nozzle(write_nozzle(nozzle)) == nozzle
    assert read_nozzle(write_nozzle(nozzle).lower()) == nozzle


def test_a_half_circle_of_15_ft_is_15h() -> None:
    assert read_nozzle("15H") == Nozzle(15, 180)
    assert read_nozzle("12 tq") == Nozzle(12, 270)
    assert write_nozzle(Nozzle(15, 95)) == ""


@pytest.mark.parametrize("typed", ["0H", "15X", "201F", "15HH"])
def test_what_only_looks_like_a_nozzle_is_none(typed: str) -> None:
    assert read_nozzle(typed) is None
    assert looks_like_nozzle(typed)


@given(st.text(max_size=12))
def test_no_text_stops_the_readers(text: str) -> None:
    nozzle, size = read_nozzle(text), read_size(text)
    assert nozzle is None or nozzle.radius_ft > 0
    assert size is None or size >= 0


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        # ASTM D2241: the rating is 4000 / (SDR - 1), 200 psi for SDR 21, 160 for 26, 315 for 13.5.
        ("class 200", "pvc sdr 21"),
        ("Cl. 200", "pvc sdr 21"),
        ("cl200", "pvc sdr 21"),
        ("200 psi", "pvc sdr 21"),
        ("PR 160", "pvc sdr 26"),
        ("class 315", "pvc sdr 13.5"),
        ("SDR-21", "pvc sdr 21"),
        # Trade shorthand, from memory.
        ("Sch.40", "pvc sch 40"),
        ("schedule 80", "pvc sch 80"),
        ("s40", "pvc sch 40"),
        ("poly", "pe sidr"),
        ("type L", "copper L"),
        ("L copper", "copper L"),
        ("pex", "pex sdr 9"),
        ("galvanized", "steel sch 40"),
        ("old galv", "steel sch 40 old"),
        ("pvc sdr 21", "pvc sdr 21"),
    ],
)
def test_a_class_of_pipe_is_read_as_crews_write_it(typed: str, meant: str) -> None:
    assert from_text(facts_of(PipeRun)["pipe_class"], typed) == meant


@pytest.mark.parametrize("typed", ["class 100", "sch 120", "sdr 17", "pvc", "garden hose", "20"])
def test_a_class_that_is_not_listed_is_refused(typed: str) -> None:
    with pytest.raises(ValueRefusedError, match="takes one of"):
        from_text(facts_of(PipeRun)["pipe_class"], typed)


def test_words_for_pipe_mean_nothing_in_other_lists() -> None:
    assert class_among("poly", ("spray", "rotor")) is None
