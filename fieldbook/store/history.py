"""What can be undone and put back, and what each cell ever held: from the entries, the journal."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import Connection, select

from fieldbook.records.base import table_of
from fieldbook.records.entry import Entry
from fieldbook.records.job import Job
from fieldbook.records.journal import JournalEntry
from fieldbook.records.values import Value
from fieldbook.store.capture import ADD, DELETED

_ENTRY, _JOB, _JOURNAL = table_of(Entry), table_of(Job), table_of(JournalEntry)


@dataclass(frozen=True)
class Group:
    """One act in the log."""

    group_id: str
    kind: str
    target: str
    what: str


def groups(connection: Connection, job_id: str) -> list[Group]:
    """The acts on a job, oldest first."""
    columns = (_ENTRY.c.group_id, _ENTRY.c.kind, _ENTRY.c.target, _ENTRY.c.what)
    rows = connection.execute(
        select(*columns).where(_ENTRY.c.job_id == job_id).order_by(_ENTRY.c.id)
    )
    found: dict[str, Group] = {}
    for row in rows:
        found.setdefault(row.group_id, Group(*row))
    return list(found.values())


def undo_target(acts: Sequence[Group]) -> Group | None:
    """The newest act that still stands."""
    live = standing(acts)
    return next((act for act in reversed(acts) if act.group_id in live), None)


def redo_target(acts: Sequence[Group]) -> Group | None:
    """The undo to take back: the last one, unless something was done since."""
    undone: list[Group] = []
    for act in acts:
        if act.kind == "do":
            undone.clear()
        elif act.kind == "undo":
            undone.append(act)
        elif undone:
            undone.pop()
    return undone[-1] if undone else None


def standing(acts: Sequence[Group]) -> set[str]:
    """The ids of acts that are not undone at present."""
    found: set[str] = set()
    for act in acts:
        if act.kind == "do":
            found.add(act.group_id)
        elif act.kind == "undo":
            found.discard(act.target)
        else:
            found.add(act.target)
    return found


def last_removed(connection: Connection) -> str | None:
    """The job that was taken off the board last and is off it now."""
    query = (
        select(_ENTRY.c.job_id)
        .where(
            _ENTRY.c.table == "job",
            _ENTRY.c.column == "off_board",
            _ENTRY.c.new == "true",
            _ENTRY.c.row_id.in_(select(_JOB.c.id).where(_JOB.c.off_board.is_(True))),
        )
        .order_by(_ENTRY.c.id.desc())
        .limit(1)
    )
    found: str | None = connection.execute(query).scalar()
    return found


@dataclass(frozen=True)
class Held:
    """What a cell came to hold: by whom, when, on which laptop (its origin)."""

    value: Value
    who: str
    wall: str
    origin: str
    removed: bool = False
    """Whether the cell went away with its line."""


def held(connection: Connection, job_id: str, row_id: str, column: str) -> list[Held]:
    """Everything a cell of a job ever held, oldest first, as the journal has it."""
    rows = connection.execute(
        select(_JOURNAL)
        .where(
            _JOURNAL.c.job_id == job_id,
            _JOURNAL.c.row_id == row_id,
            _JOURNAL.c.op.in_((ADD, DELETED, column)),
        )
        .order_by(_JOURNAL.c.wall, _JOURNAL.c.origin, _JOURNAL.c.seq)
    )
    found: list[Held] = []
    for row in rows:
        value, who, wall = json.loads(row.value), row.who, row.wall
        if row.op == ADD:
            # What a book older than its journal held was sealed as nobody's: the row knows whose.
            if not who:
                who, wall = value.get("entered_by", ""), value.get("entered_at") or wall
            value = value.get(column)
        removed = row.op == DELETED
        found.append(Held(None if removed else value, who, wall, row.origin, removed))
    return found
