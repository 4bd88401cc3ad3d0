"""Change orders as a quote shows them: what changes, its price, and who agreed to it."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import ROUND_HALF_UP, Decimal

from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.owner.change_orders import ChangeOrder

_CENT = Decimal("0.01")


def is_agreed(order: ChangeOrder) -> bool:
    """Whether somebody agreed to a change for the owner, with name and time."""
    answered = bool(order.agreed_by.strip() and (order.agreed_at or "").strip())
    return answered and order.refused is not True


def agreed_changes(job: LoadedJob) -> list[ChangeOrder]:
    """The changes that count: each has the name of who agreed, and when."""
    return [order for order in job.change_orders if is_agreed(order)]


def other_changes(job: LoadedJob) -> list[ChangeOrder]:
    """The changes that were refused or not answered yet: the first plan stands."""
    return [order for order in job.change_orders if not is_agreed(order)]


def price_of(order: ChangeOrder) -> Decimal | None:
    """The price of a change in cents, below 0 where it takes something off; None if none stands."""
    price = amount(order, "price")
    return None if price is None else Decimal(str(price)).quantize(_CENT, ROUND_HALF_UP)


def sum_of(orders: Iterable[ChangeOrder]) -> Decimal:
    """The sum of the prices that are entered."""
    return sum((price for order in orders if (price := price_of(order)) is not None), Decimal(0))
