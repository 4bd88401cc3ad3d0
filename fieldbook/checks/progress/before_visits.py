"""The record as a signature saw it: without what visits changed after the handover.

A visit changes the record of a property that is handed over: a sprinkler head is replaced, a wire
is terminated again. Each such change is a row with what the cell held before and after. To ask
whether a signature still stands, those changes are taken back in a copy of the job, the newest
first, and only where the cell still holds what the visit left there. Whatever else differs from
what was signed over is a change outside of any visit, and stays one.

A change counts only on a visit of a day after the handover and after the signature, or of the same
day if it was entered later: a visit dated before the handover covers nothing.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from typing import Any, NamedTuple

from fieldbook.checks.progress.digests import COVERED_TABLES
from fieldbook.checks.progress.signature_rows import row_faults
from fieldbook.records.base import Record, columns_of
from fieldbook.records.column_values import column_accepts
from fieldbook.records.days import day_of, instant_of, order_of
from fieldbook.records.loaded_job import FIELD_OF, TABLES, LoadedJob, once_per_job
from fieldbook.records.tables.sign_offs import SETTLED, SignOff
from fieldbook.records.tables.visits import Visit, VisitChange

_STAMPS = {"id", "job_id", "entered_by", "entered_at"}
"""Columns that say nothing of the work."""
_DAYS_OPEN = 7
"""A visit that nobody ended counts as under way for so many days: what is typed up afterwards is
still of it, and what is changed in a later season is not. A choice of ours, no source."""


@dataclass(frozen=True)
class AsSigned:
    """A job as a signature saw it, and the changes of visits that were taken back for it."""

    job: LoadedJob
    taken_back: tuple[VisitChange, ...] = ()


def visit_under_way(job: LoadedJob, today: date) -> Visit | None:
    """The visit that a change of the record is made on now, if the job is handed over.

    The newest of those that are not ended and of today or one of the days before it.
    """
    if job.signed("handover") is None:
        return None
    first = today - timedelta(days=_DAYS_OPEN)
    going_on = [
        visit
        for visit in job.visits
        if visit.ended is not True and (day := day_of(visit.held_on)) and first <= day <= today
    ]
    return max(going_on, key=lambda visit: (visit.held_on or "", visit.id), default=None)


def as_signed(job: LoadedJob, sign_off: SignOff, now: datetime) -> AsSigned:
    """The job as a signature saw it, with nothing that visits changed after the handover."""
    if not job.visit_changes or job.signed("handover") is None:
        return AsSigned(job)
    # Each signature is asked about several times in one check. As text, since instants of two
    # offsets are equal and may yet be of two days.
    seen, asked = _views(job), (sign_off.signed_at, now.isoformat())
    if asked not in seen:
        counting = [one.change for one in _newest_first(job) if _counts(job, one, sign_off, now)]
        # Most signatures of a job see it the same way, and each copy is checked at length.
        kept, key = _copies(job), tuple(change.id for change in counting)
        if key not in kept:
            kept[key] = _without(job, counting)
        seen[asked] = kept[key]
    return seen[asked]


def row_as_kept(row: Record) -> str:
    """A whole row as a change keeps it: JSON of what it holds, without who entered it and when."""
    values = {name: value for name, value in row.values().items() if name not in _STAMPS}
    return json.dumps(values, sort_keys=True, ensure_ascii=False)


def kept_value(text: str) -> object:
    """What a change keeps as JSON; None for what is empty or no JSON."""
    try:
        return json.loads(text) if text else None
    except ValueError:
        return None


def same_value(first: object, second: object) -> bool:
    """Whether a cell holds the same: nothing and an empty text are one."""
    return first == second or (first in (None, "") and second in (None, ""))


class _OnVisit(NamedTuple):
    """A change with the visit it was made on."""

    visit: Visit
    change: VisitChange


@once_per_job
def _newest_first(job: LoadedJob) -> tuple[_OnVisit, ...]:
    """The changes of the covered tables with their visits; those without a dated visit are none."""
    visits = {visit.id: visit for visit in job.visits}
    found = [
        _OnVisit(visits[change.visit_id], change)
        for change in job.visit_changes
        if change.visit_id in visits and change.of_table in COVERED_TABLES
    ]
    return tuple(sorted(found, key=_order, reverse=True))


def _order(one: _OnVisit) -> tuple[str, datetime, str]:
    return one.visit.held_on or "", order_of(one.change.entered_at), one.change.id


@once_per_job
def _views(_job: LoadedJob) -> dict[tuple[str, str], AsSigned]:
    """What was answered so far, by the time of the signature and the instant of the question."""
    return {}


@once_per_job
def _copies(_job: LoadedJob) -> dict[tuple[str, ...], AsSigned]:
    """The copies made so far, by the ids of the changes that count."""
    return {}


def _counts(job: LoadedJob, one: _OnVisit, sign_off: SignOff, now: datetime) -> bool:
    """Whether a change was made after the signature, on a visit to a handed-over property."""
    day = day_of(one.visit.held_on)
    # A visit of a day to come has changed nothing yet; clocks of two zones differ by a day.
    if day is None or day > now.date() + timedelta(days=1):
        return False
    at = instant_of(one.change.entered_at)
    if not _is_after(sign_off.signed_at, day, at):
        return False
    rows = [
        row
        for row in job.sign_offs
        if row.kind == "handover" and row.state != SETTLED and _is_after(row.signed_at, day, at)
    ]
    newest = max(rows, key=lambda row: (order_of(row.signed_at), row.id), default=None)
    return newest is not None and not row_faults(newest, now)


def _is_after(signed_at: str, day: date, at: datetime | None) -> bool:
    """Whether a change of a visit of a day, entered at an instant, came after a signature."""
    signed_on, signed = day_of(signed_at), instant_of(signed_at)
    if signed_on is None or signed is None or (at is not None and at < signed):
        return False
    return day > signed_on or (day == signed_on and at is not None)


_Rows = dict[str, dict[str, Any]]


def _without(job: LoadedJob, changes: Sequence[VisitChange]) -> AsSigned:
    """A copy of the job with these changes taken back, in this order, where they still stand."""
    tables: dict[str, _Rows] = {}
    held = job.tables()
    for table in dict.fromkeys(change.of_table for change in changes):
        tables[table] = {row.id: row.values() for row in held[table]}
    back = tuple(one for one in changes if _take_back(job.job.id, tables[one.of_table], one))
    if not back:
        return AsSigned(job)
    fields = {FIELD_OF[table]: _rows_of(table, rows) for table, rows in tables.items()}
    gone = {change.id for change in back}
    left = tuple(change for change in job.visit_changes if change.id not in gone)
    return AsSigned(replace(job, visit_changes=left, **fields), back)  # type: ignore[arg-type]


def _rows_of(table: str, rows: _Rows) -> object:
    # A row that came back stands last; those with a number are read in the order of it.
    in_order = sorted(rows.values(), key=_number)
    made = tuple(TABLES[table](**values) for values in in_order)
    if TABLES[table].once:
        return made[0] if made else None
    return made


def _number(values: Mapping[str, Any]) -> int:
    number = values.get("number", values.get("position"))
    return number if isinstance(number, int) else 0


def _take_back(job_id: str, rows: _Rows, change: VisitChange) -> bool:
    """Take one change back in the rows of its table; False where it no longer stands there."""
    row = rows.get(change.of_row)
    was, became = kept_value(change.was), kept_value(change.became)
    if change.of_column:
        if row is None or change.of_column not in row or change.of_column in _STAMPS:
            return False
        taken = column_accepts(change.of_table, change.of_column, was)
        if not taken or not same_value(row[change.of_column], became):
            return False
        row[change.of_column] = was if was is not None else _nothing(change)
        return True
    if (not change.was and not change.became) or not _same_row(row, became):
        return False
    if not isinstance(was, dict):
        rows.pop(change.of_row, None)
        return not change.was
    restored = dict(_accepted(change.of_table, was))
    rows[change.of_row] = {**restored, "id": change.of_row, "job_id": job_id}
    return True


def _nothing(change: VisitChange) -> str | None:
    """What an empty cell of the column holds: a text that can't be None is empty."""
    return None if columns_of(TABLES[change.of_table])[change.of_column].optional else ""


def _same_row(row: Mapping[str, Any] | None, kept: object) -> bool:
    if row is None or not isinstance(kept, dict):
        return row is None and kept is None
    names = {*row, *kept} - _STAMPS
    return all(same_value(row.get(name), kept.get(name)) for name in names)


def _accepted(table: str, kept: Mapping[str, Any]) -> Iterator[tuple[str, Any]]:
    """The columns of a kept row that its table has and takes."""
    for name in columns_of(TABLES[table]):
        if name in kept and name not in _STAMPS and column_accepts(table, name, kept[name]):
            yield name, kept[name]
