"""How far the work at each of the five places is: nothing entered, begun, or all of it there.

A place is done only if the walk has no step left there, no check that is due lacks an entry there,
and no stop or fix stands there. The walk asks nothing of the desk, which is done with the handover.
It says what the record holds, never that the work is good.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from fieldbook.checks.verdicts import Verdicts
from fieldbook.checks.walk import steps_of
from fieldbook.records.base import WORK_PLACES, Place
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.records.tables.sign_offs import SIGN_OFF_PLACES

Progress = Literal["nothing", "begun", "done"]


def place_progress(job: LoadedJob, answers: Verdicts) -> Mapping[Place, Progress]:
    """How far each place is, in the order of the work; `answers` are those of the job today."""
    entered = _places_entered(job)
    unfinished = {step.place for step in steps_of(job)}
    unfinished |= {flag.place for flag in answers.flags if flag.severity != "note"}
    unfinished |= {answer.missing[0].at.place for answer in answers.not_checked}
    if job.signed("handover") is None:
        unfinished.add("desk")
    return {place: _progress(place in entered, place in unfinished) for place in WORK_PLACES}


def _progress(entered: bool, unfinished: bool) -> Progress:
    if not entered:
        return "nothing"
    return "begun" if unfinished else "done"


def _places_entered(job: LoadedJob) -> set[Place]:
    """The places at which anything is entered; the address, which every job has, is no entry."""
    found: set[Place] = {"street"} if job.job.customer.strip() else set()
    for table, rows in job.tables().items():
        # Sign-offs are one table, but each is signed at the place of its work.
        if rows and table != "sign_off":
            found.add(TABLES[table].sheet)
    return found | {SIGN_OFF_PLACES.get(row.kind, "ground") for row in job.sign_offs}
