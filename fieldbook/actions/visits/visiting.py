"""Start and end a visit, and note work on a thing that changes no cell of it."""

from __future__ import annotations

from datetime import date

from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.common.naming import row_name
from fieldbook.checks.progress.before_visits import visit_under_way
from fieldbook.records.base import natural_id
from fieldbook.records.tables.visits import Visit
from fieldbook.store.changes import Add, Change, Put
from fieldbook.trade.visit_steps import STEPS


def start_visit(open_job: OpenJob, reason: str) -> str:
    """Start today's visit for a reason, with the usual steps; returns its id.

    A visit of today for the same reason goes on. Two laptops that start it make the same rows, so
    that they hold one visit once they exchange.
    """
    today = date.today().isoformat()
    visit_id = natural_id(open_job.job_id, "visit", today, reason)
    if open_job.job.row(visit_id) is not None:
        open_job.commit([Put("visit", visit_id, "ended", None)], f"{reason} visit resumed")
        return visit_id
    changes: list[Change] = [Add("visit", visit_id, {"held_on": today, "reason": reason})]
    for number, step in enumerate(STEPS.get(reason, ()), start=1):
        row_id = natural_id(visit_id, "step", step)
        changes.append(
            Add("visit_step", row_id, {"visit_id": visit_id, "number": number, "step": step})
        )
    open_job.commit(changes, f"{reason} visit started")
    return visit_id


def end_visit(open_job: OpenJob) -> Visit:
    """End the visit under way; returns it. Raises RefusedError where none is."""
    visit = visit_now(open_job)
    if visit is None:
        raise RefusedError("No visit is under way.")
    open_job.commit([Put("visit", visit.id, "ended", True)], "visit ended")
    return visit


def visit_now(open_job: OpenJob) -> Visit | None:
    """The visit that changes count for now; None where there is none."""
    return visit_under_way(open_job.job, date.today())


def refuse_work(open_job: OpenJob, row_id: str) -> Visit:
    """The visit that work on a thing is noted on.

    Raises RefusedError where no visit is under way, or the row is no thing of the property.
    """
    visit = visit_now(open_job)
    if visit is None:
        if open_job.job.signed("handover") is None:
            raise RefusedError("Work is noted on a visit once the property is handed over.")
        raise RefusedError("No visit is under way: start one at the service, Alt+6.")
    row = open_job.job.row(row_id)
    if row is None or type(row).sheet == visit.sheet:
        raise RefusedError("Move to the row of a thing first, such as a sprinkler head or a valve.")
    return visit


def thing_name(open_job: OpenJob, table: str, row_id: str) -> str:
    """What a thing is called, such as "the head of lateral run 1 of zone 2"."""
    return row_name(open_job.job, table, row_id)


def note_work(open_job: OpenJob, table: str, row_id: str, what: str) -> str:
    """Note on the visit under way that a thing was replaced, cleaned and so on; returns its name.

    For work that leaves the record as it is, such as a head replaced by the same one. Raises
    RefusedError as `refuse_work` does.
    """
    visit, thing = refuse_work(open_job, row_id), thing_name(open_job, table, row_id)
    values = {
        "visit_id": visit.id,
        "of_table": table,
        "of_row": row_id,
        "thing": thing,
        "what": what,
    }
    open_job.add("visit_change", values, f"{thing} {what}")
    return thing
