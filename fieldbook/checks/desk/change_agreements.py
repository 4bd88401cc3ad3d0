"""Change orders: who agreed to each, when and how, so that its price can be shown later."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import datetime

from fieldbook.checks.common.naming import short
from fieldbook.checks.finding import CellRef, Finding, Missing
from fieldbook.checks.looked import Looked
from fieldbook.records.column_values import amount
from fieldbook.records.days import CLOCK_TOLERANCE, time_of
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.owner.change_orders import ChangeOrder


def order_name(order: ChangeOrder) -> str:
    """Such as "change order 2"."""
    return f"change order {order.number}" if order.number is not None else "a change order"


def check_change_orders(job: LoadedJob, now: datetime) -> Iterator[Finding | Looked]:
    """Each order: what it changes, its price, and the owner's answer with name and time."""
    numbers = Counter(order.number for order in job.change_orders if order.number is not None)
    for order in job.change_orders:
        name = order_name(order)
        yield Looked(name, frozenset({order.id}), tuple(_lacks(order, name)))
        if order.number is not None and numbers[order.number] > 1:
            yield Finding(
                "two change orders of one number",
                "fix",
                f"{numbers[order.number]} change orders have the number {order.number}.",
                "Give each its own number: papers and invoices name it.",
                CellRef("change_order", order.id, "number"),
            )
        answered = time_of(order.agreed_at)
        if answered is not None and answered > now.replace(tzinfo=None) + CLOCK_TOLERANCE:
            who = short(order.agreed_by) or "somebody"
            yield Finding(
                "change agreed in the future",
                "fix",
                f"The answer of {who} to {name} is of {answered:%Y-%m-%d %H:%M}, later than now.",
                "Correct its time; if it is right, this laptop's clock is wrong.",
                CellRef("change_order", order.id, "agreed_at"),
            )


def _lacks(order: ChangeOrder, name: str) -> Iterator[Missing]:
    """What an order must say; a refused one needs no price."""
    asked = [("changed", f"what {name} changes"), ("agreed_by", f"who answered to {name}")]
    asked.append(("agreed_at", f"when {name} was answered"))
    for column, words in asked:
        if not str(getattr(order, column) or "").strip():
            yield Missing(words, CellRef("change_order", order.id, column))
    if order.refused is not True and amount(order, "price") is None:
        yield Missing(f"the price of {name}", CellRef("change_order", order.id, "price"))
