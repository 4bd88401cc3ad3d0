"""Which work of a job has begun, told from the record: a check is due when its work is there.

A crew is not asked for what it can't know yet: the controller is not due before there is a trench.
A later stage that has begun makes every earlier one due, since its work must be behind the crew.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from fieldbook.checks.looked import STAGES, Stage
from fieldbook.records.base import Record
from fieldbook.records.loaded_job import LoadedJob

SIGNED_AT: Mapping[str, Stage] = {
    "price": "design",
    "dig": "dig",
    "pressurise": "lay",
    "wire backfill": "wire",
    "backfill": "bury",
    "energise": "control",
    "in service": "service",
    "walk-through": "service",
    "handover": "handover",
    "close": "close",
}
"""The stage that each kind of sign-off belongs to: with the signature the work is there."""

_BOOKKEEPING = {"id", "job_id", "entered_by", "entered_at", "zone_id", "kind", "role", "number"}


def stage_of(job: LoadedJob) -> Stage:
    """The latest stage whose work has begun; "survey" for a property nobody worked on yet."""
    begun = [stage for stage in STAGES if _BEGUN[stage](job)]
    signed = [
        SIGNED_AT[kind]
        for kind, zone_id in {(row.kind, row.zone_id) for row in job.sign_offs}
        if kind in SIGNED_AT and job.signed(kind, zone_id) is not None
    ]
    return max([*begun, *signed], key=STAGES.index, default="survey")


def is_due(stage: Stage, reached: Stage) -> bool:
    """Whether what belongs to a stage is due once another is reached."""
    return STAGES.index(stage) <= STAGES.index(reached)


def _filled(row: Record) -> bool:
    """Whether anything was entered in a row beyond what names it."""
    values = row.values()
    return any(
        value not in (None, "") for name, value in values.items() if name not in _BOOKKEEPING
    )


def _dug(job: LoadedJob) -> bool:
    return any(ticket.dug_from for ticket in job.locate_tickets)


def _laid(job: LoadedJob) -> bool:
    begun = (*job.pressure_tests, *job.flushes)
    return any(_filled(row) for row in begun) or any(_filled(row) for row in job.backfills)


def _wired(job: LoadedJob) -> bool:
    at_valves = any(valve.colour or valve.coil_ohm is not None for valve in job.valves)
    decoders = any(one.address is not None for one in job.decoders)
    return at_valves or decoders or any(splice.colour for splice in job.splices)


def _buried(job: LoadedJob) -> bool:
    return any(row.signed_by for row in job.backfills)


def _at_controller(job: LoadedJob) -> bool:
    return any(
        row.colour or row.address or row.day_1_ohm is not None or row.ran_zone_id or row.ran_nothing
        for row in job.terminals
    )


def _in_service(job: LoadedJob) -> bool:
    return any(test.tested_on for test in job.backflow_tests) or any(
        assembly.inspected_on for assembly in job.backflow_assemblies
    )


def _never(_job: LoadedJob) -> bool:
    return False


_BEGUN: Mapping[Stage, Callable[[LoadedJob], bool]] = {
    "survey": lambda _job: True,
    "design": lambda job: bool(job.zones),
    "dig": _dug,
    "lay": _laid,
    "wire": _wired,
    "bury": _buried,
    "control": _at_controller,
    "service": _in_service,
    # Only their signatures tell that these have begun.
    "handover": _never,
    "close": _never,
}
