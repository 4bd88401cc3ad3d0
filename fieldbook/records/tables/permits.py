"""Permits, inspections, the locate ticket, and who may do the licensed work."""

from typing import Annotated, ClassVar

from fieldbook.records.base import Place, Record
from fieldbook.records.fact import choice, day, link, tick, words

PERMIT_KINDS = ("irrigation", "plumbing", "backflow", "electrical", "right of way")
INSPECTION_KINDS = ("before backfill", "pressure test", "backflow", "final")
RESULTS = ("passed", "failed", "to correct")
ANSWERS = ("clear", "marked", "no answer yet")
ROLES = ("irrigator", "backflow tester", "electrician", "crew")


class Permit(Record, table="permit"):
    """A permit from the authority having jurisdiction."""

    title: ClassVar[str] = "permit"
    sheet: ClassVar[Place] = "ground"

    kind: Annotated[str | None, choice("Permit", PERMIT_KINDS)] = None
    number: Annotated[str, words("Number", "As on the card.", wanted=True)] = ""
    issued_on: Annotated[str | None, day("Issued")] = None
    expires_on: Annotated[str | None, day("Expires")] = None


class Inspection(Record, table="inspection"):
    """A visit of the inspector and its result."""

    title: ClassVar[str] = "inspection"
    sheet: ClassVar[Place] = "ground"

    kind: Annotated[
        str | None,
        choice("Inspection", INSPECTION_KINDS, "What was looked at.", wanted=True),
    ] = None
    number: Annotated[str, words("Number")] = ""
    held_on: Annotated[str | None, day("On", "The day it was held.", wanted=True)] = None
    inspector: Annotated[str, words("Inspector")] = ""
    result: Annotated[str | None, choice("Result", RESULTS, wanted=True)] = None


class LocateTicket(Record, table="locate_ticket"):
    """The call before digging: its ticket, the first day to dig, and the day the marks lapse."""

    title: ClassVar[str] = "locate ticket"
    sheet: ClassVar[Place] = "ground"

    number: Annotated[
        str,
        words(
            "Ticket",
            "Of the utility notification centre. Private lines behind the meter are not marked.",
            wanted=True,
        ),
    ] = ""
    called_on: Annotated[str | None, day("Called")] = None
    starts_on: Annotated[
        str | None, day("Work starts", "The day of beginning that the ticket names.")
    ] = None
    marked_on: Annotated[str | None, day("Marked", "The day the marks were there.")] = None
    private_lines: Annotated[
        bool | None,
        tick(
            "Private lines asked",
            "Nobody marks lines behind the meter: grill gas, shed, pool, well, septic, lights, dog "
            "fence, old irrigation.",
            wanted=True,
        ),
    ] = None
    clear_on: Annotated[
        str | None, day("Clear from", "The first day digging may begin.", wanted=True)
    ] = None
    expires_on: Annotated[
        str | None, day("Expires", "Blank counts the local rule's days from the call.")
    ] = None
    renewed_on: Annotated[str | None, day("Renewed", "The marks were renewed on this day.")] = None
    dug_from: Annotated[str | None, day("Dug from", "The first day anybody dug.")] = None
    dug_until: Annotated[str | None, day("Dug until", "The last day anybody dug.")] = None


class UtilityAnswer(Record, table="utility_answer"):
    """What one utility answered to a locate ticket."""

    title: ClassVar[str] = "utility answer"
    sheet: ClassVar[Place] = "ground"

    ticket_id: Annotated[
        str | None, link("Ticket", "locate_ticket", "Blank is the job's only ticket.")
    ] = None
    utility: Annotated[str, words("Utility", "Such as power, gas, water.", wanted=True)] = ""
    answer: Annotated[
        str | None,
        choice("Answer", ANSWERS, "Nobody digs before every utility has answered.", wanted=True),
    ] = None
    answered_on: Annotated[str | None, day("On")] = None


class CrewMember(Record, table="crew_member"):
    """A person on the job and the licence that person works under."""

    title: ClassVar[str] = "crew member"
    sheet: ClassVar[Place] = "desk"

    name: Annotated[str, words("Name", wanted=True)] = ""
    role: Annotated[str | None, choice("As", ROLES, "Whose work it is.", wanted=True)] = None
    licence: Annotated[str, words("Licence", "Its number, and who issued it.")] = ""
    expires_on: Annotated[str | None, day("Expires")] = None
