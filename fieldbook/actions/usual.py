"""One key for what is usually so: no hazard at the street, the utilities that answer a ticket."""

from __future__ import annotations

from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.common.water_source import supply_cell
from fieldbook.checks.desk.digging import answers_of
from fieldbook.records.base import new_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.permits import LocateTicket
from fieldbook.records.tables.supply import HAZARDS
from fieldbook.store.changes import Add, Put

USUAL_UTILITIES = ("power", "gas", "water", "sewer", "communication")
"""Who marks lines, in the order of the uniform colour code (common practice, no source)."""


def no_hazards(open_job: OpenJob) -> bool:
    """Answer no to every hazard that is not answered yet, as one act; True: each is answered now.

    Raises RefusedError where each is answered already.
    """
    supply = open_job.job.supply
    blank = [one for one in HAZARDS if supply is None or getattr(supply, one) is None]
    if not blank:
        raise RefusedError("Each hazard is answered already: change the one that is wrong.")
    row_id = supply_cell(open_job.job, blank[0]).row_id
    changes = [Put("supply", row_id, column, False) for column in blank]
    open_job.commit(changes, "hazards: none of these")
    return True


def utilities_wanted(job: LoadedJob, ticket: LocateTicket) -> list[str]:
    """The usual utilities that a ticket has no row for yet."""
    held = [one.utility.casefold() for one in answers_of(job, ticket)]
    return [name for name in USUAL_UTILITIES if not any(name in words for words in held)]


def add_utilities(open_job: OpenJob, ticket_id: str) -> str:
    """Add a row for each usual utility that a ticket lacks, as one act; returns the first's id.

    Raises RefusedError where all of them are there, or the ticket is not.
    """
    ticket = open_job.job.row(ticket_id)
    names = utilities_wanted(open_job.job, ticket) if isinstance(ticket, LocateTicket) else []
    if not names:
        raise RefusedError("The usual utilities are there already: add another one below.")
    ids = [new_id() for _ in names]
    changes = [
        Add("utility_answer", row_id, {"ticket_id": ticket_id, "utility": name})
        for row_id, name in zip(ids, names, strict=True)
    ]
    open_job.commit(changes, "usual utilities added")
    return ids[0]
