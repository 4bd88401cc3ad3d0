"""A firm's own price list as CSV, and the quote that it makes of a takeoff.

The list has a line of headers: item, cost, price. `item` is the words of the takeoff, or the
beginning of them: the longest that fits counts. `cost` is what the firm pays, `price` what it asks,
each for one of the item's unit; either may be blank.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal, InvalidOperation

from fieldbook.materials.item import Item

_HEADERS = ("item", "cost", "price")
_CENT = Decimal("0.01")
_MOST = Decimal(1_000_000)


class PriceListError(ValueError):
    """One sentence that says which line of a price list is wrong, and how to mend it."""


@dataclass(frozen=True)
class Rate:
    """What one unit costs the firm, and what it asks for it; None is blank."""

    cost: Decimal | None
    price: Decimal | None


@dataclass(frozen=True)
class QuoteLine:
    """An item with what all of it costs and what is asked for it; None where no rate says so."""

    item: Item
    cost: Decimal | None
    price: Decimal | None


@dataclass(frozen=True)
class Quote:
    """The lines, and their sums; a line without a price is in no sum, and `unpriced` has it."""

    lines: tuple[QuoteLine, ...]
    cost: Decimal
    price: Decimal

    @property
    def unpriced(self) -> tuple[Item, ...]:
        """The items for which nothing is asked, because no line of the list fits them."""
        return tuple(line.item for line in self.lines if line.price is None)


def read_prices(text: str) -> Mapping[str, Rate]:
    """The rates of a price list by item. Raises PriceListError."""
    read = csv.reader(io.StringIO(text, newline=""))
    try:
        lines = [line for line in read if any(cell.strip() for cell in line)]
    except csv.Error as why:
        raise PriceListError(f"It is no price list ({why}).") from why
    if not lines or tuple(cell.strip().lower() for cell in lines[0][:3]) != _HEADERS:
        raise PriceListError("A price list begins with the line: item,cost,price.")
    rates: dict[str, Rate] = {}
    for line in lines[1:]:
        name = " ".join(line[0].lower().split())
        if not name or len(line) < len(_HEADERS):
            raise PriceListError(f"The line {','.join(line)[:60]!r} takes an item, cost and price.")
        if name in rates:
            raise PriceListError(f"{line[0].strip()[:60]} is in the price list twice: keep one.")
        rates[name] = Rate(_money(line[0], line[1]), _money(line[0], line[2]))
    return rates


def _money(item: str, typed: str) -> Decimal | None:
    if not typed.strip():
        return None
    try:
        value = Decimal(typed.strip())
    except InvalidOperation:
        value = Decimal(-1)
    if not value.is_finite() or not 0 <= value <= _MOST:
        raise PriceListError(f"{typed.strip()[:20]!r} of {item.strip()[:60]} is no price.")
    return value


def quote(items: Sequence[Item], rates: Mapping[str, Rate]) -> Quote:
    """The items with what they cost and what is asked, in cents rounded half up."""
    lines = tuple(_line(item, rates) for item in items)
    return Quote(
        lines,
        sum((line.cost for line in lines if line.cost is not None), Decimal(0)),
        sum((line.price for line in lines if line.price is not None), Decimal(0)),
    )


def _line(item: Item, rates: Mapping[str, Rate]) -> QuoteLine:
    words = item.what.lower()
    fitting = [name for name in rates if words == name or words.startswith(f"{name} ")]
    if not fitting:
        return QuoteLine(item, None, None)
    rate = rates[max(fitting, key=len)]
    return QuoteLine(item, _all_of(item, rate.cost), _all_of(item, rate.price))


def _all_of(item: Item, rate: Decimal | None) -> Decimal | None:
    if rate is None:
        return None
    return (rate * Decimal(str(item.count))).quantize(_CENT, ROUND_HALF_UP)
