"""The punch list: what is still to be put right, where, who found it and who did it."""

from typing import Annotated, ClassVar

from fieldbook.records.base import Place, Record
from fieldbook.records.fact import day, link, words


class PunchItem(Record, table="punch_item"):
    """One thing to put right; it is open until the day on which it was done is entered."""

    title: ClassVar[str] = "punch item"
    sheet: ClassVar[Place] = "desk"

    what: Annotated[str, words("To put right", "One thing a row.", wanted=True)] = ""
    zone_id: Annotated[str | None, link("Zone", "zone", "Blank is none, or all of them.")] = None
    where: Annotated[str, words("Where", "So that another finds it.")] = ""
    found_on: Annotated[str | None, day("Found")] = None
    found_by: Annotated[str, words("Found by", "The owner, the inspector, or initials.")] = ""
    done_on: Annotated[str | None, day("Done", "It is open until a day stands here.")] = None
    done_by: Annotated[str, words("Done by")] = ""
