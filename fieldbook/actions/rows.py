"""Add a row and take one away, with whatever hangs on it."""

from __future__ import annotations

from collections.abc import Sequence

from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.desk.duplicates import NUMBERED
from fieldbook.records.base import Record, facts_of, new_id
from fieldbook.records.fact import Fact
from fieldbook.records.ids import head_id
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.values import Value
from fieldbook.store.changes import Add, Change, Put, Remove


def add_row(open_job: OpenJob, table: str, **values: Value) -> str:
    """Add a row to a table of the job; returns its id."""
    row_id = new_id()
    open_job.keep([Add(table, row_id, values)], f"{TABLES[table].title} added")
    return row_id


def add_zone(open_job: OpenJob) -> str:
    """Add the next zone, with the head kind of the one before."""
    zones = open_job.job.zones
    number = next(iter(free_names(open_job.job, "zone")), None)
    values: dict[str, Value] = {"number": number}
    if zones:
        values["head_kind"] = zones[-1].head_kind
        values["backflow_id"] = zones[-1].backflow_id
    row_id = new_id()
    open_job.keep([Add("zone", row_id, values)], f"zone {number or ''} added")
    return row_id


def add_box(open_job: OpenJob) -> str:
    """Add a valve box named by the next letter."""
    return add_row(open_job, "valve_box", name=free_names(open_job.job, "valve_box")[0])


def add_cable(open_job: OpenJob) -> str:
    """Add a cable named by the next number."""
    return add_row(open_job, "cable", name=free_names(open_job.job, "cable")[0])


def add_fixed_point(open_job: OpenJob) -> str:
    """Add a fixed point; the first is where east and north begin."""
    if open_job.job.fixed_points:
        return add_row(open_job, "fixed_point")
    return add_row(open_job, "fixed_point", east_ft=0.0, north_ft=0.0)


def add_tie(open_job: OpenJob) -> str:
    """Add a tied thing: the next valve box that is not tied, from the points of the last tie."""
    job = open_job.job
    tied = {one.box_id for one in job.ties}
    box = next((one for one in job.valve_boxes if one.id not in tied), None)
    points = [one.id for one in job.fixed_points]
    last = job.ties[-1] if job.ties else None
    values: dict[str, Value] = {
        "thing": "valve box" if box is not None else None,
        "name": box.name if box is not None else "",
        "box_id": box.id if box is not None else None,
        "point_1_id": last.point_1_id if last else points[0] if points else None,
        "point_2_id": last.point_2_id if last else points[1] if points[1:] else None,
    }
    return add_row(open_job, "tie", **values)


def repeat_run(open_job: OpenJob, zone_id: str | None) -> str:
    """Add a run after the last one of its line, repeating that row with its head."""
    runs = open_job.job.runs_of(zone_id)
    last = runs[-1] if runs else None
    number = max((run.number or 0 for run in runs), default=0) + 1
    values: dict[str, Value] = {"zone_id": zone_id, "number": number}
    row_id = new_id()
    changes: list[Change] = []
    if last is not None:
        for column in ("size", "pipe_class", "length_ft", "rise_ft"):
            values[column] = getattr(last, column)
        values["after"] = last.number
    changes.append(Add("pipe_run", row_id, values))
    head = open_job.job.head_at(last.id) if last is not None else None
    if head is not None:
        repeated = {
            column: getattr(head, column)
            for column, fact in facts_of(type(head)).items()
            if fact.kind not in ("hidden", "when") and column != "elevation_ft"
        }
        changes.append(Add("head", head_id(row_id), {**repeated, "run_id": row_id}))
    open_job.keep(changes, f"run {number} added")
    return row_id


def remove_row(open_job: OpenJob, table: str, row_id: str) -> bool:
    """Take a row away with all that belongs to it, as one act that undo brings back."""
    row = open_job.job.row(row_id)
    if row is None:
        return False
    changes = whole_removal(open_job.job, [(table, row)])
    if not changes:
        raise RefusedError("It was signed over, so it stays: sign-offs are evidence.")
    return open_job.keep(changes, f"{TABLES[table].title} removed")


def whole_removal(job: LoadedJob, rows: Sequence[tuple[str, Record]]) -> list[Change]:
    """The changes that remove rows, each change once; none where a signature would go too."""
    changes = [one for table, row in rows for one in removal(job, table, row)]
    gone = {(one.table, one.row_id) for one in changes if isinstance(one, Remove)}
    if any(table == "sign_off" for table, _ in gone):
        return []
    # To put a cell of a row that goes would make the row anew.
    kept = [one for one in changes if isinstance(one, Put) and (one.table, one.row_id) not in gone]
    return [*kept, *(Remove(table, row_id) for table, row_id in sorted(gone))]


def removal(job: LoadedJob, table: str, row: Record) -> list[Change]:
    """The changes that remove a row: what belongs to it goes, what merely names it is cleared."""
    changes: list[Change] = []
    if isinstance(row, PipeRun):
        changes += _close_gap(job, row)
    for other_table, other, column, fact in _links_to(job, row.id):
        if fact.kind == "hidden":
            changes += removal(job, other_table, other)
        else:
            changes.append(Put(other_table, other.id, column, None))
    changes.append(Remove(table, row.id))
    return changes


def _links_to(job: LoadedJob, row_id: str) -> list[tuple[str, Record, str, Fact]]:
    """Every row and column of the job that names `row_id`."""
    found = []
    for table, rows in job.tables().items():
        for column, fact in facts_of(TABLES[table]).items():
            if fact.links_to in ("", "job"):
                continue
            found += [(table, row, column, fact) for row in rows if getattr(row, column) == row_id]
    return found


def _close_gap(job: LoadedJob, run: PipeRun) -> list[Change]:
    """Runs fed by the one removed are fed by what fed it."""
    return [
        Put("pipe_run", other.id, "after", run.after)
        for other in job.runs_of(run.zone_id)
        if other.after == run.number and other.after is not None and other.id != run.id
    ]


_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def free_names(job: LoadedJob, table: str, count: int = 1) -> list[int | str]:
    """So many numbers or names that no row has, after the highest in use."""
    column = NUMBERED[table]
    used = [getattr(row, column) for row in job.tables()[table]]
    known = {str(one).strip() for one in used if one not in (None, "")}
    if table == "zone":
        highest = facts_of(TABLES[table])[column].high
        after = max((int(one) for one in used if one is not None), default=0)
        return [*_numbers(known, after, count, int(highest))]
    places = [_place(table, one) for one in known]
    # A box without a letter of its own takes up one all the same.
    after = max(*places, len(known) + sum(one in (None, "") for one in used), 0)
    names: list[int | str] = []
    while len(names) < count:
        after += 1
        name = _name(table, after)
        if name not in known:
            names.append(name)
    return names


def _numbers(known: set[str], after: int, count: int, highest: int) -> Sequence[int]:
    """Numbers after the highest; the unused ones before it where there are no more."""
    later = range(after + 1, highest + 1)
    free = [*later[:count], *(one for one in range(1, after) if str(one) not in known)]
    return free[:count]


def _name(table: str, place: int) -> str:
    """The name of the first, second ... row: A, B ... then 27 for boxes, 1, 2 ... for cables."""
    return _LETTERS[place - 1] if table == "valve_box" and place <= len(_LETTERS) else str(place)


def _place(table: str, name: str) -> int:
    """Where a name stands in that row; 0 for one that does not."""
    if table == "valve_box" and len(name) == 1 and name.upper() in _LETTERS:
        return _LETTERS.index(name.upper()) + 1
    return int(name) if name.isascii() and name.isdigit() and len(name) < 4 else 0
