"""One key for what is usually so: no hazards, a ticket's utilities, a backfill, papers given."""

from __future__ import annotations

from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.common.naming import stretch_name
from fieldbook.checks.common.water_source import supply_cell
from fieldbook.checks.desk.digging import answers_of
from fieldbook.records.base import facts_of, new_id
from fieldbook.records.ids import backfill_id, head_id, once_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.owner.walk_through import HANDED_OVER
from fieldbook.records.tables.permits import LocateTicket
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.supply import HAZARDS
from fieldbook.records.tables.zones import Head
from fieldbook.store.changes import Add, Change, Put

USUAL_UTILITIES = ("power", "gas", "water", "sewer", "communication")
"""Who marks lines, in the order of the uniform colour code (common practice, no source)."""


REBATE_PAPERS = (
    *("pre-approval, before the work", "itemised invoice with make and model", "proof of payment"),
    *("copy of the label, with serial", "photos before and after", "number of stations"),
)
"""What water agencies ask for (Contra Costa, Tracy, Eden Prairie, San Juan water districts)."""


TICKS_OF_ZONE = ("rock_free", "heads_plumb", "heads_at_grade")
"""What is ticked of a zone's backfill that is as usual."""


def usual_ticks(zone_id: str | None) -> tuple[str, ...]:
    """What is ticked of a stretch's backfill that is as usual; the mainline (None) has no heads."""
    return ("rock_free",) if zone_id is None else TICKS_OF_ZONE


def tick_backfill(open_job: OpenJob, zone_id: str | None) -> bool:
    """Tick what is not answered yet of a stretch's backfill, as one act; True: it is answered now.

    `zone_id` is None for the mainline. What was answered stays, a no too.
    """
    held = open_job.job.backfill_of(zone_id)
    row_id, seed = backfill_id(open_job.job_id, zone_id), {"zone_id": zone_id}
    changes = [
        Put("backfill", row_id, column, True, seed)
        for column in usual_ticks(zone_id)
        if held is None or getattr(held, column) is None
    ]
    if changes:
        open_job.commit(changes, f"backfill of {stretch_name(open_job.job, zone_id)}, as usual")
    return True


def backfill_is_usual(job: LoadedJob, zone_id: str | None) -> bool:
    """Whether everything of a stretch's backfill is ticked as it usually is."""
    held = job.backfill_of(zone_id)
    return held is not None and all(getattr(held, name) is True for name in usual_ticks(zone_id))


def usual_is_open(job: LoadedJob, zone_id: str | None) -> bool:
    """Whether nothing of it is answered yet."""
    held = job.backfill_of(zone_id)
    return held is None or all(getattr(held, name) is None for name in usual_ticks(zone_id))


def repeat_nozzle(open_job: OpenJob, run_id: str) -> None:
    """Give a run the sprinkler head of the nearest run before it, as one act.

    It may be of the lateral before. Raises RefusedError where there is none to repeat, or where the
    run has a nozzle already.
    """
    job = open_job.job
    run = job.find(PipeRun, run_id)
    if run is None or run.zone_id is None:
        raise RefusedError("Move to a run of a lateral: sprinkler heads stand at their ends.")
    held = job.head_at(run_id)
    if held is not None and held.nozzle_gpm is not None:
        raise RefusedError("This run has a nozzle already: change its cells.")
    laterals = [one for zone in job.zones for one in job.runs_of(zone.id)]
    before = laterals[: laterals.index(run)]
    heads = (job.head_at(one.id) for one in reversed(before))
    last = next((one for one in heads if one is not None and one.nozzle_gpm is not None), None)
    if last is None:
        raise RefusedError("There is no nozzle before this one to repeat: type the first.")
    changes: list[Change] = [
        Put("head", head_id(run_id), column, getattr(last, column), {"run_id": run_id})
        for column in repeated_columns()
    ]
    open_job.commit(changes, f"nozzle of run {run.number or '?'} repeated")


def repeated_columns() -> list[str]:
    """The columns of a sprinkler head that the next one repeats: all but where it stands."""
    return [
        column
        for column, fact in facts_of(Head).items()
        if fact.kind not in ("hidden", "when") and column != "elevation_ft"
    ]


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


def papers_handed_over(open_job: OpenJob) -> bool:
    """Tick what the owner was taught and given that is not answered yet, as one act; True then.

    Raises RefusedError where each is answered already.
    """
    job = open_job.job
    held = job.walk_through
    blank = [one for one in HANDED_OVER if held is None or getattr(held, one) is None]
    if not blank:
        raise RefusedError("Each paper is answered already: change the one that is wrong.")
    row_id = held.id if held is not None else once_id(job.job.id, "walk_through")
    open_job.commit([Put("walk_through", row_id, one, True) for one in blank], "papers handed over")
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


def add_rebate_papers(open_job: OpenJob) -> str:
    """Add a row for each paper of a rebate that is not listed, as one act; returns the first's id.

    Raises RefusedError where all of them are listed.
    """
    held = {one.paper.casefold() for one in open_job.job.rebate_papers}
    papers = [name for name in REBATE_PAPERS if name.casefold() not in held]
    if not papers:
        raise RefusedError("The usual papers are listed already: add another one below.")
    ids = [new_id() for _ in papers]
    rows = zip(ids, papers, strict=True)
    changes = [Add("rebate_paper", row_id, {"paper": name}) for row_id, name in rows]
    open_job.commit(changes, "usual rebate papers added")
    return ids[0]
