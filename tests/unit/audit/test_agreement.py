"""A measured figure agrees, differs or can't tell, by both errors; bad audits are named."""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldbook.audit import Figure, agreement, audit_faults, evenness


@pytest.mark.parametrize(
    ("measured", "error", "matters", "word", "small"),
    [
        (10.4, 0.5, 1.0, "agrees", False),
        (10.4, 1.5, 1.0, "can't tell", False),
        (12.0, 0.5, 1.0, "differs", False),
        (10.7, 0.5, 1.0, "differs", True),
        # A difference larger than a wide error is real all the same.
        (15.0, 2.0, 1.0, "differs", False),
    ],
)
def test_the_three_words(
    measured: float, error: float, matters: float, word: str, small: bool
) -> None:
    found = agreement(Figure(measured, error, error), Figure(10.0, 0.0, 0.0), matters)
    assert (found.word, found.is_small) == (word, small)
    assert found.difference == pytest.approx(measured - 10.0)


def test_the_error_on_the_side_that_counts() -> None:
    worked_out = Figure(10.0, 0.1, 2.0)
    assert agreement(Figure(11.5, 0.1, 0.1), worked_out, 5.0).word == "agrees"
    assert agreement(Figure(8.5, 0.1, 0.1), worked_out, 5.0).word == "differs"


figures = st.floats(0.0, 1000.0)


@given(figures, figures, figures, figures, st.floats(0.01, 100.0))
def test_a_wider_error_never_makes_a_difference(
    measured: float, worked: float, error: float, more: float, matters: float
) -> None:
    still = Figure(worked, 0.0, 0.0)
    narrow = agreement(Figure(measured, error, error), still, matters)
    wide = agreement(Figure(measured, error + more, error + more), still, matters)
    order = ["differs", "agrees", "can't tell"]
    assert order.index(wide.word) >= order.index(narrow.word)


@given(st.lists(st.floats(0.0, 100.0), min_size=1, max_size=60), st.floats(0.1, 50.0))
def test_the_unit_of_the_cans_does_not_matter(caught: list[float], scale: float) -> None:
    first, second = evenness(caught), evenness([one * scale for one in caught])
    if first is None:
        assert second is None
        return
    assert second is not None
    assert second.low_quarter == pytest.approx(first.low_quarter)
    assert second.christiansen == pytest.approx(first.christiansen)
    assert 0.0 <= first.low_quarter <= first.low_half <= 1.0 + 1e-9


def test_sound_systems_rarely_differ() -> None:
    """Errors are bounds at 95 %, so that about one sound reading in twenty is beyond them."""
    draw = Random(7)
    words = [
        agreement(
            Figure(draw.gauss(10.0, 0.4 / 1.96), 0.4, 0.4),
            Figure(draw.gauss(10.0, 0.6 / 1.96), 0.6, 0.6),
            1.0,
        ).word
        for _ in range(4000)
    ]
    assert 0.03 < words.count("differs") / len(words) < 0.07
    assert words.count("can't tell") == 0


def test_dry_cans() -> None:
    assert evenness([]) is None
    assert evenness([0.0, 0.0]) is None
    found = evenness([0.0, 10.0, 10.0, 10.0])
    assert found is not None
    assert (found.low_quarter, found.most_scheduling) == (0.0, None)
    with pytest.raises(ValueError, match="less than nothing"):
        evenness([-1.0, 2.0])


@pytest.mark.parametrize(
    ("cans", "minutes", "wind", "names"),
    [
        # NMSU H-510: at most 5 mph. Univ. of Minnesota Extension: at least 20 cans.
        (20, 15.0, 5.0, []),
        (20, 15.0, 5.1, ["wind"]),
        (19, 15.0, 5.0, ["cans"]),
        (20, 14.0, 0.0, ["minutes"]),
        (4, 5.0, 12.0, ["wind", "cans", "minutes"]),
        (24, None, None, []),
    ],
)
def test_why_an_audit_does_not_count(
    cans: int, minutes: float | None, wind: float | None, names: list[str]
) -> None:
    assert [fault.name for fault in audit_faults(cans, minutes, wind)] == names
