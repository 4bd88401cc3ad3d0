"""Add a programme: it begins with what is likely."""

from __future__ import annotations

from fieldbook.actions.open_job import OpenJob
from fieldbook.records.values import Value

_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def add_programme(open_job: OpenJob) -> str:
    """Add a programme with the next letter and the days of the one before; returns its id."""
    held = open_job.job.programmes
    used = {one.name.strip() for one in held}
    values: dict[str, Value] = {"name": next((one for one in _LETTERS if one not in used), "")}
    if held:
        last = held[-1]
        values |= {"days": last.days, "controller_id": last.controller_id}
        values |= {"first_day": last.first_day, "last_day": last.last_day}
    return open_job.add("programme", values, "programme added")
