"""Addresses that are one by USPS Publication 28, and others that are not.

Suffixes: appendix C1. Directions: section 233. Units: appendix C2.
"""

from __future__ import annotations

import pytest

from fieldbook.trade.postal_words import address_key

SUFFIXES = {
    "AVENUE": "AVE",
    "BOULEVARD": "BLVD",
    "CIRCLE": "CIR",
    "COURT": "CT",
    "CROSSING": "XING",
    "DRIVE": "DR",
    "EXPRESSWAY": "EXPY",
    "HEIGHTS": "HTS",
    "HIGHWAY": "HWY",
    "LANE": "LN",
    "PARKWAY": "PKWY",
    "PLACE": "PL",
    "ROAD": "RD",
    "SQUARE": "SQ",
    "STREET": "ST",
    "TERRACE": "TER",
    "TRAIL": "TRL",
    "TURNPIKE": "TPKE",
}


@pytest.mark.parametrize("word", SUFFIXES)
def test_a_suffix_and_its_abbreviation_are_one(word: str) -> None:
    assert address_key(f"12 Elm {word}") == address_key(f"12 elm {SUFFIXES[word].lower()}.")


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("12 North Elm Street", "12 n. elm st"),
        ("12  Elm   St,", "12 ELM STREET"),
        ("101 W Main St Apt 12", "101 West Main Street, apartment 12"),
        ("7 St. Mary's Road", "7 St Marys Rd"),
    ],
)
def test_spellings_of_one_address(one: str, other: str) -> None:
    assert address_key(one) == address_key(other) != ""


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("12 Elm Street", "12 Elm Court"),
        ("12 Elm Street", "112 Elm Street"),
        ("12 North Elm Street", "12 South Elm Street"),
        ("12 Elm St Apt 1", "12 Elm St Apt 2"),
    ],
)
def test_addresses_that_are_two(one: str, other: str) -> None:
    assert address_key(one) != address_key(other)


def test_an_address_without_a_letter_or_digit_is_like_no_other() -> None:
    assert address_key(" -- ") == address_key("") == ""
