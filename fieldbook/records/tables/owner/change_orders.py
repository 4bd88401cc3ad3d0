"""Change orders: what was changed from the first plan, at which price, and who agreed to it."""

from typing import Annotated, ClassVar

from fieldbook.records.base import Place, Record
from fieldbook.records.fact import amount, choice, clock, day, tick, whole, words
from fieldbook.units import PRICE

AGREED_BY_WAY = ("in writing", "by e-mail", "by message", "by phone", "in person")


class ChangeOrder(Record, table="change_order"):
    """One change from the first plan; `refused` where the owner did not agree to it."""

    title: ClassVar[str] = "change order"
    sheet: ClassVar[Place] = "desk"

    number: Annotated[int | None, whole("Number", 1, 999)] = None
    asked_on: Annotated[str | None, day("Date", "The day on which the change was proposed.")] = None
    changed: Annotated[
        str,
        words("What changes", "Added to the first plan, or left out.", wanted=True),
    ] = ""
    why: Annotated[str, words("Why", "Such as rock, or a wish of the owner.")] = ""
    price: Annotated[
        float | None,
        amount(
            "Price",
            PRICE,
            (-1_000_000, 1_000_000),
            "What the change adds to the quote, in its money; with a minus what it takes off.",
        ),
    ] = None
    agreed_by: Annotated[
        str, words("Agreed by", "The name of who agreed, or refused, for the owner.", wanted=True)
    ] = ""
    agreed_how: Annotated[
        str | None, choice("How", AGREED_BY_WAY, "What can be shown later, should it be disputed.")
    ] = None
    agreed_at: Annotated[
        str | None, clock("When", "The day and hour of the answer.", wanted=True)
    ] = None
    refused: Annotated[
        bool | None, tick("Refused", "The owner did not agree: the first plan stands.", either=True)
    ] = None
