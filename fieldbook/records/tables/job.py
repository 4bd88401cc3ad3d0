"""The property and its job: whose it is, how to get in, and which units it is shown in."""

from typing import Annotated, ClassVar

from fieldbook.records.base import PLACE_WORDS, Place, Record, Row
from fieldbook.records.fact import choice, hidden, moment, words

UNITS = ("us", "metric")


class Job(Row, table="job"):
    """One property. Its id is the id of the job.

    `joined_with` is that of the property which holds its rows too since the two were joined, and
    after a space how many entries of this one were looked at (`records/neighbours.py`).
    """

    title: ClassVar[str] = "property"
    sheet: ClassVar[Place] = "street"
    once: ClassVar[bool] = True

    id: str
    entered_by: Annotated[str, hidden("Entered by")] = ""
    entered_at: Annotated[str, moment("Entered at")] = ""
    address: Annotated[str, words("Address", "Names the property on the board.", wanted=True)] = ""
    customer: Annotated[str, words("Customer", "Who to call.", wanted=True)] = ""
    phone: Annotated[str, words("Phone")] = ""
    email: Annotated[str, words("E-mail", "Where the papers of the handover are sent.")] = ""
    billing_address: Annotated[
        str, words("Billing address", "Blank is the property's own address.")
    ] = ""
    access: Annotated[
        str, words("Access", "Gate, dog, key, when someone is home: for whoever comes next.")
    ] = ""
    off_board: Annotated[bool | None, hidden("Off the board")] = None
    joined_with: Annotated[str | None, hidden("Joined with")] = None
    units: Annotated[
        str,
        choice("Units", UNITS, "Shown and typed in US or metric units; any cell takes either."),
    ] = "us"


class Note(Record, table="note"):
    """A note on anything else, with the place where it was seen."""

    title: ClassVar[str] = "note"
    sheet: ClassVar[Place] = "desk"

    place: Annotated[
        str | None,
        choice("Place", tuple(PLACE_WORDS.values())),
    ] = None
    text: Annotated[str, words("Note", wanted=True)] = ""
