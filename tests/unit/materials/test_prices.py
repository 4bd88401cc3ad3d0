"""A price list and the quote it makes, in cents."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldbook.materials.item import Item
from fieldbook.materials.prices import PriceListError, quote, read_prices

LIST = """item,cost,price
pipe 1 pvc sdr 21,0.42,0.71
pipe,0.50,1.00
tee,1.10,
Zone,,85
"""


def item(what: str, count: float) -> Item:
    return Item("pipe", what, count, "ft", "as laid")


def test_the_longest_line_that_fits_prices_an_item() -> None:
    made = quote(
        [item("pipe 1 pvc sdr 21", 45), item("pipe 3/4 pvc sdr 21", 10)], read_prices(LIST)
    )
    assert [line.price for line in made.lines] == [Decimal("31.95"), Decimal("10.00")]
    assert made.cost == Decimal("18.90") + Decimal("5.00")


def test_what_no_line_prices_is_named_and_in_no_sum() -> None:
    made = quote([item("cap 1", 2), item("tee 1 x 1 x 1", 2), item("zone", 3)], read_prices(LIST))
    assert [one.what for one in made.unpriced] == ["cap 1", "tee 1 x 1 x 1"]
    assert made.price == Decimal(255)
    assert made.cost == Decimal("2.20")


def test_a_word_is_priced_whole() -> None:
    assert quote([item("zones 3", 1)], read_prices(LIST)).price == 0


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "begins with the line"),
        ("name,price\n", "begins with the line"),
        ("item,cost,price\npipe,abc,1\n", "'abc' of pipe is no price"),
        ("item,cost,price\npipe,-1,1\n", "is no price"),
        ("item,cost,price\npipe,nan,1\n", "is no price"),
        ("item,cost,price\npipe,1e99,1\n", "is no price"),
        ("item,cost,price\n,1,1\n", "takes an item"),
        ("item,cost,price\npipe\n", "takes an item"),
        ("item,cost,price\npipe,1,1\nPIPE,2,2\n", "twice"),
    ],
)
def test_a_fault_in_a_price_list_is_one_sentence(text: str, words: str) -> None:
    with pytest.raises(PriceListError, match=words):
        read_prices(text)


@given(st.text())
def test_no_text_is_worse_than_refused(text: str) -> None:
    with pytest.raises(PriceListError) as refused:
        read_prices(f"item,cost,price\n{text},\nlast\n")
    assert len(str(refused.value)) <= 200


@given(st.lists(st.floats(0.1, 1e4).map(lambda feet: round(feet, 1))))
def test_the_sum_is_that_of_the_lines(feet: list[float]) -> None:
    made = quote([item("pipe", one) for one in feet], read_prices(LIST))
    assert made.price == sum((line.price or Decimal(0) for line in made.lines), Decimal(0))
