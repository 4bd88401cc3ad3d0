"""Add a row to a job, or remove one with all that belongs to it. Each is one act."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.actions.usual import repeated_columns
from fieldbook.records.base import Record, facts_of, new_id
from fieldbook.records.fact import Fact
from fieldbook.records.ids import head_id
from fieldbook.records.known_by import NUMBERED
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.records.tables.owner.change_orders import ChangeOrder
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.values import Value
from fieldbook.store.changes import Add, Change, Put, Remove

_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def add_row(open_job: OpenJob, table: str, **values: Value) -> str:
    """Add a row with these columns to a table of the job; returns its id."""
    return open_job.add(table, values, f"{TABLES[table].title} added")


def add_zone(open_job: OpenJob) -> str:
    """Add a zone with the next number, and the head kind and assembly of the zone before."""
    zones = open_job.job.zones
    number = next(iter(free_names(open_job.job, "zone")), None)
    values: dict[str, Value] = {"number": number}
    if zones:
        values |= {"head_kind": zones[-1].head_kind, "backflow_id": zones[-1].backflow_id}
    return open_job.add("zone", values, f"zone {number or ''} added")


def add_box(open_job: OpenJob) -> str:
    """Add a valve box named by the next letter."""
    return add_row(open_job, "valve_box", name=free_names(open_job.job, "valve_box")[0])


def add_cable(open_job: OpenJob) -> str:
    """Add a cable named by the next number."""
    return add_row(open_job, "cable", name=free_names(open_job.job, "cable")[0])


def add_change_order(open_job: OpenJob) -> str:
    """Add a change order with the next number, as of today."""
    numbers = [order.number or 0 for order in open_job.job.change_orders]
    number = min(max(numbers, default=0) + 1, int(facts_of(ChangeOrder)["number"].high))
    return add_row(open_job, "change_order", number=number, asked_on=date.today().isoformat())


def add_fixed_point(open_job: OpenJob) -> str:
    """Add a fixed point; the first is the left corner of the wall, from which others are taped."""
    if open_job.job.fixed_points:
        return add_row(open_job, "fixed_point")
    return add_row(open_job, "fixed_point", along_ft=0.0, out_ft=0.0)


def add_tie(open_job: OpenJob) -> str:
    """Add a tie of the next valve box without one, from the fixed points of the last tie."""
    job = open_job.job
    tied = {tie.box_id for tie in job.ties}
    box = next((box for box in job.valve_boxes if box.id not in tied), None)
    last = job.ties[-1] if job.ties else None
    points = [point.id for point in job.fixed_points]
    first, second = [*points, None, None][:2]
    return add_row(
        open_job,
        "tie",
        thing="valve box" if box is not None else None,
        name=box.name if box is not None else "",
        box_id=box.id if box is not None else None,
        point_1_id=last.point_1_id if last else first,
        point_2_id=last.point_2_id if last else second,
    )


def repeat_run(open_job: OpenJob, zone_id: str | None) -> str:
    """Add a run after the last of a zone's lateral, or of the mainline (None); returns its id.

    It is a copy of that run and of the sprinkler head at its end.
    """
    runs = open_job.job.runs_of(zone_id)
    last = runs[-1] if runs else None
    number = max((run.number or 0 for run in runs), default=0) + 1
    row_id = new_id()
    values: dict[str, Value] = {"zone_id": zone_id, "number": number}
    changes: list[Change] = []
    if last is not None:
        for column in ("size", "pipe_class", "length_ft", "rise_ft"):
            values[column] = getattr(last, column)
        values["after"] = last.number
    changes.append(Add("pipe_run", row_id, values))
    head = open_job.job.head_at(last.id) if last is not None else None
    if head is not None:
        copied = {column: getattr(head, column) for column in repeated_columns()}
        changes.append(Add("head", head_id(row_id), {**copied, "run_id": row_id}))
    open_job.commit(changes, f"run {number} added")
    return row_id


def remove_row(open_job: OpenJob, table: str, row_id: str) -> bool:
    """Remove a row with all that belongs to it, as one act; False when it is not there.

    Raises RefusedError where a sign-off would go with it.
    """
    row = open_job.job.row(row_id)
    if row is None:
        return False
    changes = whole_removal(open_job.job, [(table, row)])
    if not changes:
        raise RefusedError("It was signed over, so it stays: sign-offs are evidence.")
    return open_job.commit(changes, f"{TABLES[table].title} removed")


def whole_removal(job: LoadedJob, rows: Sequence[tuple[str, Record]]) -> list[Change]:
    """The changes that remove rows with all that belongs to them, each change once.

    Empty where a sign-off would have to go too.
    """
    changes = [change for table, row in rows for change in _removal(job, table, row)]
    gone = {(change.table, change.row_id) for change in changes if isinstance(change, Remove)}
    if any(table == "sign_off" for table, _ in gone):
        return []
    # A Put on a row that is removed in the same act would make the row anew.
    puts: list[Change] = [
        change
        for change in changes
        if isinstance(change, Put) and (change.table, change.row_id) not in gone
    ]
    return [*puts, *(Remove(table, row_id) for table, row_id in sorted(gone))]


def _removal(job: LoadedJob, table: str, row: Record) -> list[Change]:
    """The changes that remove one row: what belongs to it goes, what only names it is cleared."""
    changes: list[Change] = []
    if isinstance(row, PipeRun):
        changes += _close_gap(job, row)
    for other_table, other, column, fact in _links_to(job, row.id):
        # A hidden link says what a row belongs to, such as the run of a head.
        if fact.kind == "hidden":
            changes += _removal(job, other_table, other)
        else:
            changes.append(Put(other_table, other.id, column, None))
    changes.append(Remove(table, row.id))
    return changes


def _links_to(job: LoadedJob, row_id: str) -> list[tuple[str, Record, str, Fact]]:
    """Every row and column of the job that links to the row `row_id`."""
    found = []
    for table, rows in job.tables().items():
        for column, fact in facts_of(TABLES[table]).items():
            if fact.links_to in ("", "job"):
                continue
            found += [(table, row, column, fact) for row in rows if getattr(row, column) == row_id]
    return found


def _close_gap(job: LoadedJob, run: PipeRun) -> list[Change]:
    """Let the runs that the removed run fed be fed by what fed it."""
    return [
        Put("pipe_run", other.id, "after", run.after)
        for other in job.runs_of(run.zone_id)
        if other.after == run.number and other.after is not None and other.id != run.id
    ]


def free_names(job: LoadedJob, table: str, count: int = 1) -> list[int | str]:
    """Numbers (zones) or names (boxes, cables) for `count` more rows: after the highest, unused."""
    column = NUMBERED[table]
    held = [getattr(row, column) for row in job.tables()[table]]
    used = {str(name).strip() for name in held if name not in (None, "")}
    if table == "zone":
        return [*_free_numbers(used, count, int(facts_of(TABLES[table])[column].high))]
    # A box without a letter, such as "front", takes up a position all the same.
    unnamed = sum(name in (None, "") for name in held)
    position = max(*(_position(table, name) for name in used), len(used) + unnamed, 0)
    names: list[int | str] = []
    while len(names) < count:
        position += 1
        name = _name(table, position)
        if name not in used:
            names.append(name)
    return names


def _free_numbers(used: set[str], count: int, highest: int) -> Sequence[int]:
    """Numbers after the highest used; where they run out, the unused ones before it."""
    last = max(map(int, used), default=0)
    later = range(last + 1, highest + 1)[:count]
    return [*later, *(number for number in range(1, last) if str(number) not in used)][:count]


def _name(table: str, position: int) -> str:
    """The name at a position from 1: A to Z, then 27 ... for boxes; 1, 2 ... for cables."""
    lettered = table == "valve_box" and position <= len(_LETTERS)
    return _LETTERS[position - 1] if lettered else str(position)


def _position(table: str, name: str) -> int:
    """The position of a name in that order; 0 for one that is not in it."""
    if table == "valve_box" and len(name) == 1 and name.upper() in _LETTERS:
        return _LETTERS.index(name.upper()) + 1
    return int(name) if name.isascii() and name.isdigit() and len(name) < 4 else 0
