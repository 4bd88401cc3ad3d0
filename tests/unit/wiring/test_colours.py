"""Conductor colours as crews type them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldbook.trade.colours import BASE_COLOURS, letter_code, parse_colour, swatch


@pytest.mark.parametrize(
    ("typed", "colour"),
    [
        ("red", "red"),
        (" RED ", "red"),
        ("red/black", "red/black"),
        ("red with black stripe", "red/black"),
        ("red with a black stripe", "red/black"),
        ("white-blue", "white/blue"),
        ("purple", "violet"),
        ("grey", "gray"),
        ("vio", "violet"),
        ("unmarked 3", "unmarked 3"),
        ("Unmarked #12", "unmarked 12"),
    ],
)
def test_a_spelling_gives_its_colour(typed: str, colour: str) -> None:
    assert parse_colour(typed) == colour


@pytest.mark.parametrize(
    "typed",
    [
        "",
        "b",
        "bl",
        "mauve",
        "red/red",
        "red/blue/green",
        "unmarked",
        "unmarked 0",
        "x" * 60,
        "[/]",
    ],
)
def test_a_refusal_is_one_sentence(typed: str) -> None:
    with pytest.raises(ValueError, match=r"\S") as why:
        parse_colour(typed)
    assert str(why.value).endswith(".")


@given(st.text(max_size=50))
def test_any_text_is_one_colour_or_refused(typed: str) -> None:
    try:
        colour = parse_colour(typed)
    except ValueError:
        return
    assert parse_colour(colour) == colour
    base, stripe = swatch(colour)
    assert base.startswith("#")
    assert (stripe is not None) == ("/" in colour)


@given(st.sampled_from(sorted(BASE_COLOURS)), st.sampled_from(sorted(BASE_COLOURS)))
def test_every_base_takes_every_stripe(base: str, stripe: str) -> None:
    assert parse_colour(base) == base
    if base != stripe:
        assert parse_colour(f"{base}/{stripe}") == f"{base}/{stripe}"
        assert swatch(f"{base}/{stripe}") == (BASE_COLOURS[base], BASE_COLOURS[stripe])


def test_colours_have_their_letter_codes() -> None:
    # IEC 60757 (from memory, not confirmed); a word it has no code for gets none.
    assert (letter_code("red"), letter_code("red/black"), letter_code("tan")) == ("RD", "RDBK", "")
