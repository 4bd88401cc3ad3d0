"""The materials of a property as a table, with the firm's own prices if it has a list."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from fieldbook.actions.files.spreadsheet import csv_text
from fieldbook.actions.refused import RefusedError, read_file
from fieldbook.checks.desk.change_agreements import order_name
from fieldbook.materials.agreed_changes import agreed_changes, price_of, sum_of
from fieldbook.materials.item import Allowances, Takeoff
from fieldbook.materials.prices import PriceListError, Quote, quote, read_prices
from fieldbook.materials.takeoff import takeoff
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.owner.change_orders import ChangeOrder

PRICES_FILE = "prices.csv"
HEADERS = ("group", "item", "count", "unit", "how it was counted", "cost", "price")


@dataclass(frozen=True)
class Materials:
    """A takeoff, and what it costs; without a price list every line is without a price."""

    takeoff: Takeoff
    quote: Quote
    changes: tuple[ChangeOrder, ...] = ()
    """The change orders that were agreed."""

    def rows(self) -> Iterator[tuple[object, ...]]:
        """One row an item, under HEADERS; a blank where no line of the list prices it."""
        for line in self.quote.lines:
            item = line.item
            yield item.group, item.what, item.count, item.unit, item.how, line.cost, line.price
        for order in self.changes:
            what = " ".join(f"{order_name(order)}: {order.changed}".split())
            yield "agreed change", what, 1, "each", agreed_words(order), None, price_of(order)

    def as_csv(self) -> str:
        """The rows as CSV."""
        return csv_text(HEADERS, self.rows())

    def as_data(self) -> dict[str, object]:
        """The rows, the sums and what was not counted, for JSON; money as text in whole cents."""
        rows = [dict(zip(HEADERS, map(_plain, row), strict=True)) for row in self.rows()]
        return {
            "items": rows,
            "cost": str(self.quote.cost),
            "price": str(self.quote.price),
            "price_of_changes": str(sum_of(self.changes)),
            "price_with_changes": str(self.quote.price + sum_of(self.changes)),
            "not_priced": [item.what for item in self.quote.unpriced],
            "not_counted": list(self.takeoff.not_counted),
        }


def _plain(value: object) -> object:
    return value if value is None or isinstance(value, str | int | float) else str(value)


def materials_of(job: LoadedJob, prices: Path | None, waste_pct: float = 0.0) -> Materials:
    """Count a job's materials and price them; raises RefusedError for a fault in the price list."""
    found = takeoff(job, Allowances(waste_pct=waste_pct))
    rates = {}
    if prices is not None:
        try:
            rates = dict(read_prices(read_file(prices).decode("utf-8-sig")))
        except (PriceListError, UnicodeDecodeError) as error:
            raise RefusedError(f"{prices}: {error}") from error
    return Materials(found, quote(found.items, rates), tuple(agreed_changes(job)))


def agreed_words(order: ChangeOrder) -> str:
    """Who agreed to a change, how and when."""
    how = f" {order.agreed_how}" if order.agreed_how else ""
    return f"agreed by {order.agreed_by}{how}, {(order.agreed_at or '').replace('T', ' ')}"


def own_prices(book_path: Path) -> Path | None:
    """The firm's price list beside the book, if there is one."""
    path = book_path.parent / PRICES_FILE
    return path if path.exists() else None
