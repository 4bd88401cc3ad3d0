"""What the journal says of the past: the acts that can be undone, and the values a cell held."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fieldbook.records.values import Value
from fieldbook.store.journal.entry import ADD, DELETED, SELECT_ENTRIES, Entry, from_row
from fieldbook.store.sqlite.book_connection import Connection

# The act that added the property itself cannot be undone, so it is left out.
_ACTS = """
SELECT act, kind, target, what FROM journal
WHERE job_id = ? AND kind IN ('do', 'undo', 'redo') AND origin IN (SELECT id FROM origin)
GROUP BY act HAVING NOT max("table" = 'job' AND op = 'add') ORDER BY min(n)
"""
_LAST_OFF_BOARD = """
SELECT job_id FROM journal
WHERE "table" = 'job' AND op = 'off_board' AND value IN ('1', 'true')
AND row_id IN (SELECT id FROM job WHERE off_board)
ORDER BY n DESC LIMIT 1
"""


@dataclass(frozen=True)
class PastAct:
    """One act on a job, made on this laptop; the fields are those of its entries."""

    group_id: str
    kind: str
    target: str
    what: str


def acts_of_job(connection: Connection, job_id: str) -> list[PastAct]:
    """The acts of this laptop on a job, oldest first."""
    return [PastAct(*row) for row in connection.run(_ACTS, (job_id,))]


def undo_target(acts: Sequence[PastAct]) -> PastAct | None:
    """The newest act that is not undone."""
    standing = standing_acts(acts)
    return next((act for act in reversed(acts) if act.group_id in standing), None)


def redo_target(acts: Sequence[PastAct]) -> PastAct | None:
    """The undo that a redo takes back: the last one, unless something was done since."""
    undone: list[PastAct] = []
    for act in acts:
        if act.kind == "do":
            undone.clear()
        elif act.kind == "undo":
            undone.append(act)
        elif undone:
            undone.pop()
    return undone[-1] if undone else None


@dataclass(frozen=True)
class NextAct:
    """The act that undo takes back next, or redo puts back: what it was, whether it signs.

    `cells` are the table, row and column of each entry of it, the first entry first; the column is
    "add" or "_deleted" where the whole row came or went.
    """

    what: str
    signs: bool
    cells: tuple[tuple[str, str, str], ...] = ()


def next_act(connection: Connection, job_id: str, act: PastAct | None) -> NextAct | None:
    """What is known of an act before it is undone or redone; None where there is none."""
    if act is None:
        return None
    query = 'SELECT "table", row_id, op FROM journal WHERE job_id = ? AND act = ? ORDER BY n'
    rows = connection.run(query, (job_id, act.group_id))
    cells = tuple((str(table), str(row_id), str(op)) for table, row_id, op in rows)
    return NextAct(act.what, any(table == "sign_off" for table, _, _ in cells), cells)


def standing_acts(acts: Sequence[PastAct]) -> set[str]:
    """The ids of the acts that are not undone."""
    found: set[str] = set()
    for act in acts:
        if act.kind == "do":
            found.add(act.group_id)
        elif act.kind == "undo":
            found.discard(act.target)
        else:
            found.add(act.target)
    return found


def last_off_board(connection: Connection) -> str | None:
    """The id of the job that was taken off the board last and is still off it."""
    found: str | None = connection.run(_LAST_OFF_BOARD).value()
    return found


@dataclass(frozen=True)
class PastValue:
    """A value that a cell held: who entered it, when, and the entry that says so."""

    value: Value
    who: str
    wall: str
    entry: Entry
    removed: bool = False
    """The row was removed; there is no value."""


def past_values(connection: Connection, job_id: str, row_id: str, column: str) -> list[PastValue]:
    """Every value that a cell of a job held on any laptop, oldest first."""
    where = "job_id = ? AND row_id = ? AND op IN (?, ?, ?)"
    query = f"{SELECT_ENTRIES} WHERE {where} ORDER BY clock, id"
    found: list[PastValue] = []
    for row in connection.run(query, (job_id, row_id, ADD, DELETED, column)):
        entry = from_row(row)
        who, wall = entry.who, entry.wall
        if entry.op == ADD:
            added = entry.row
            if column not in added and found and not found[-1].removed:
                continue
            # A row that was imported from a job file keeps who entered it there, and when.
            who, wall = str(added.get("entered_by") or who), str(added.get("entered_at") or wall)
        removed = entry.op == DELETED
        value = None if removed else entry.value_of(column)
        found.append(PastValue(value, who, wall, entry, removed))
    return found
