"""Visits after handover: why somebody came, what was found, done and changed, and what is next.

A cell that is changed on a visit is kept with what it held before (`VisitChange`), so that what the
signatures of the handed-over job cover can still be told from what a visit changed.
"""

from typing import Annotated, ClassVar

from fieldbook.records.base import Place, Record
from fieldbook.records.fact import amount, choice, day, hidden, tick, whole, words
from fieldbook.units import HOURS

VISIT_REASONS = (
    "start-up",
    "commissioning",
    "mid-season",
    "winterising",
    "repair",
    "warranty",
    "other",
)
CHANGE_KINDS = (
    "replaced",
    "adjusted",
    "re-terminated",
    "repaired",
    "cleaned",
    "added",
    "removed",
)


class Visit(Record, table="visit"):
    """One visit to the property. Readings and photos that belong to it name its row."""

    title: ClassVar[str] = "visit"
    sheet: ClassVar[Place] = "service"

    held_on: Annotated[str | None, day("Date", "The day of the visit.")] = None
    reason: Annotated[
        str | None, choice("Reason", VISIT_REASONS, "It says which steps are usual.")
    ] = None
    who: Annotated[
        str, words("Who", "Who did the work; blank is whoever made the entries of the visit.")
    ] = ""
    asked_by: Annotated[str, words("Asked by, why", "Who asked for it, and the complaint.")] = ""
    found: Annotated[str, words("Found", "What was wrong, or that nothing was.")] = ""
    done: Annotated[str, words("Done", "In a sentence; what changed is listed by itself.")] = ""
    hours: Annotated[
        float | None, amount("Hours", HOURS, (0, 200), "Of all who worked, together.")
    ] = None
    next_due: Annotated[
        str | None, day("Next due", "When the next visit is due; the day list names it.")
    ] = None
    next_reason: Annotated[str | None, choice("Next for", VISIT_REASONS)] = None
    note: Annotated[str, words("Note", "Anything else.")] = ""
    ended: Annotated[
        bool | None,
        tick("Ended", "Until then a change of a cell counts as made on this visit.", either=True),
    ] = None


class VisitStep(Record, table="visit_step"):
    """One step of a visit, such as those of the usual list for its reason."""

    title: ClassVar[str] = "step of a visit"
    sheet: ClassVar[Place] = "service"

    visit_id: Annotated[str | None, hidden("Visit", "visit")] = None
    number: Annotated[int | None, whole("Order", 1, 1000)] = None
    step: Annotated[str, words("Step")] = ""
    done: Annotated[bool | None, tick("Done", "Yes, no, or not looked at.")] = None
    note: Annotated[str, words("Note")] = ""


class VisitChange(Record, table="visit_change"):
    """What a visit replaced or changed, on one thing of the record.

    `of_table` and `of_row` say which thing. A change of the record has its `of_column` ("" for a
    row that came or went), and as JSON what the book held there before (`was`) and holds now
    (`became`). Other work on a thing, such as a cleaned filter, has words in `before` and `after`.
    """

    title: ClassVar[str] = "change on a visit"
    sheet: ClassVar[Place] = "service"

    visit_id: Annotated[str | None, hidden("Visit", "visit")] = None
    of_table: Annotated[str, hidden("Of table")] = ""
    of_row: Annotated[str, hidden("Of row")] = ""
    of_column: Annotated[str, hidden("Of column")] = ""
    was: Annotated[str, hidden("Was, as kept")] = ""
    became: Annotated[str, hidden("Became, as kept")] = ""
    thing: Annotated[str, words("Thing", "Such as the head at run 3 of zone 2.")] = ""
    what: Annotated[str | None, choice("What", CHANGE_KINDS)] = None
    before: Annotated[str, words("Before")] = ""
    after: Annotated[str, words("After")] = ""
    why: Annotated[str, words("Why")] = ""
    warranty: Annotated[
        bool | None, tick("Warranty", "Whether it is done under warranty.", either=True)
    ] = None
