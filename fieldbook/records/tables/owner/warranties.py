"""Warranties: what is promised for which thing, by whom, from which day, until when."""

from typing import Annotated, ClassVar

from fieldbook.records.base import Place, Record
from fieldbook.records.fact import choice, day, whole, words

WARRANTY_KINDS = (
    "workmanship",
    "controller",
    "valve",
    "sprinkler head",
    "pipe and fittings",
    "wire",
    "backflow assembly",
    "pump",
    "other",
)


class Warranty(Record, table="warranty"):
    """One warranty: of the firm on its work, or of a maker on a thing.

    It ends on `until_on`; where that is blank, `months` after `from_on`.
    """

    title: ClassVar[str] = "warranty"
    sheet: ClassVar[Place] = "desk"

    kind: Annotated[
        str | None, choice("Warranty on", WARRANTY_KINDS, "The kind of thing.", wanted=True)
    ] = None
    thing: Annotated[str, words("Which one", "Such as “zone 3” or “in the garage”.")] = ""
    serial: Annotated[str, words("Serial", "As on its label, where it has one.")] = ""
    from_on: Annotated[
        str | None, day("From", "The day from which it runs: the handover, or the repair.")
    ] = None
    months: Annotated[
        int | None, whole("Months", 1, 1200, "How long it runs, where no last day is named.")
    ] = None
    until_on: Annotated[
        str | None, day("Until", "Its last day; blank counts the months from the first.")
    ] = None
    terms: Annotated[
        str, words("Terms", "Parts, labour, what is left out; say so where it is shorter.")
    ] = ""
    given_by: Annotated[str, words("Given by", "The firm, or the maker of the thing.")] = ""
    paper: Annotated[str, words("Paper kept at", "Where its paper or receipt lies.")] = ""
