"""Units: typed, shown and refused. The factors are those of NIST SP 811, Appendix B."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldbook import units
from fieldbook.units import (
    AREA,
    FLOW,
    LENGTH,
    PRESSURE,
    SHORT_LENGTH,
    VOLUME,
    Measure,
    System,
    UnitError,
    parse,
    show,
)

MEASURES = [held for held in vars(units).values() if isinstance(held, Measure)]


@pytest.mark.parametrize(
    ("text", "measure", "ours"),
    [
        ("62", PRESSURE, 62),
        ("62 psi", PRESSURE, 62),
        ("3.1 bar", PRESSURE, 44.962),
        ("310 kPa", PRESSURE, 44.962),
        ("10 ft head", PRESSURE, 4.33),
        ("45 L/min", FLOW, 11.888),
        ("1 m3/h", FLOW, 4.4029),
        ("18 ft 6 in", LENGTH, 18.5),
        ("18' 6\"", LENGTH, 18.5),
        ("30 cm", LENGTH, 0.98425),
        ("-4 ft", LENGTH, -4),
        ("1-1/2 in", SHORT_LENGTH, 1.5),
        ("3/4 in", SHORT_LENGTH, 0.75),
        ("305 mm", SHORT_LENGTH, 12.008),
        ("20 L", VOLUME, 5.2834),
    ],
)
def test_a_typed_quantity_gives_its_value_in_the_record_s_unit(
    text: str, measure: Measure, ours: float
) -> None:
    assert parse(text, measure) == pytest.approx(ours, rel=1e-4)


def test_a_bare_number_is_in_the_unit_that_the_job_shows() -> None:
    assert parse("3.1", PRESSURE, "metric") == pytest.approx(44.962, rel=1e-4)
    assert parse("2", LENGTH, "metric") == pytest.approx(6.5617, rel=1e-4)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "abc",
        "1-5",
        "5 furlongs",
        "3 gpm",
        "1/0",
        "nan",
        "inf",
        "1e999",
        "4 psi 3 psi",
        "9" * 80,
    ],
)
def test_a_refusal_names_what_is_wanted(text: str) -> None:
    with pytest.raises(UnitError) as why:
        parse(text, PRESSURE)
    said = str(why.value)
    assert "pressure" in said
    assert said.endswith(".")
    assert "\n" not in said


@given(st.text(max_size=70), st.sampled_from(MEASURES), st.sampled_from(("us", "metric")))
def test_any_text_is_a_finite_number_or_refused(
    text: str, measure: Measure, system: System
) -> None:
    try:
        value = parse(text, measure, system)
    except UnitError:
        return
    assert abs(value) < float("inf")


@given(
    st.floats(-9e4, 9e4, allow_nan=False),
    st.sampled_from(MEASURES),
    st.sampled_from(("us", "metric")),
)
def test_a_shown_quantity_is_read_back(value: float, measure: Measure, system: System) -> None:
    places = measure.metric_decimals if system == "metric" else measure.decimals
    step = 10**-places * measure.factors[measure.unit(system).lower()]
    shown = show(value, measure, system)
    assert parse(shown, measure, system) == pytest.approx(value, abs=0.51 * step)
    assert show(parse(shown, measure, system), measure, system) == shown


@given(st.floats(0.001, 1e4), st.sampled_from(MEASURES), st.data())
def test_every_unit_reads_by_its_factor(
    value: float, measure: Measure, data: st.DataObject
) -> None:
    unit = data.draw(st.sampled_from(sorted(measure.factors)))
    expected = value * measure.factors[unit]
    assert parse(f"{value!r} {unit}", measure) == pytest.approx(expected)


def test_a_blank_is_shown_as_nothing() -> None:
    assert show(None, PRESSURE) == ""
    assert show(-0.0001, PRESSURE) == "0 psi"
    assert show(62.0, PRESSURE, unit=False) == "62"


@pytest.mark.parametrize(
    ("text", "square_feet"),
    [
        ("1200", 1200.0),
        ("1200 ft2", 1200.0),
        ("0.25 acre", 10890.0),
        ("100 m2", 1076.39),
        ("9 ft²", 9),
    ],
)
def test_an_area_may_be_typed_in_square_feet_acres_or_square_metres(
    text: str, square_feet: float
) -> None:
    """One square metre is 10.7639 ft2 (NIST Special Publication 811)."""
    assert parse(text, AREA) == pytest.approx(square_feet, rel=1e-5)


def test_an_area_is_shown_with_its_unit() -> None:
    assert show(1200.0, AREA) == "1200 ft²"
    assert show(1076.39, AREA, "metric") == "100 m²"
