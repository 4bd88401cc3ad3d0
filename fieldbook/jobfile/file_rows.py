"""The rows of a job file, and what must hold between them: own ids, links, run numbers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from fieldbook.jobfile.parse import JobFileError
from fieldbook.jobfile.schema import JOB_KEY, columns_of
from fieldbook.records.tables.controller import TERMINAL_ROLES
from fieldbook.records.tables.wires import VALVE_KINDS
from fieldbook.records.values import Value


@dataclass(frozen=True)
class FileRow:
    """One row of a job file: its path in the file, its table, its id in the book, its columns."""

    path: str
    table: str
    row_id: str
    values: Mapping[str, Value]


_NEEDED = {("head", "run_id"), ("conductor", "cable_id")}
"""Links without which a row belongs to nothing."""
_KINDS = {"valve": ("kind", VALVE_KINDS), "terminal": ("role", TERMINAL_ROLES)}
"""The column that says what kind of valve or terminal a row is, and the words it takes."""
_NEEDED_BY_KIND = {
    ("valve", "zone"): "zone_id",
    ("terminal", "zone"): "number",
    ("terminal", "common"): "cable_id",
}
"""The column that says which one a valve or terminal is, by its kind."""


def refuse_same_ids(rows: Sequence[FileRow]) -> None:
    """Raise JobFileError that names the first two rows with one id."""
    paths: dict[str, str] = {}
    for row in rows:
        if row.row_id in paths:
            raise JobFileError(
                f"{row.path} is the same thing as {paths[row.row_id]} (one id, or one of its "
                "kind): remove one of them."
            )
        paths[row.row_id] = row.path


def refuse_bad_links(rows: Sequence[FileRow]) -> None:
    """Raise JobFileError that names the first link that is missing or leads nowhere."""
    ids: dict[str, set[str]] = {}
    for row in rows:
        ids.setdefault(row.table, set()).add(row.row_id)
    for row in rows:
        if row.table != JOB_KEY:
            _refuse_bad_link(row, ids)
            _refuse_bad_kind(row)


def _refuse_bad_link(row: FileRow, ids: Mapping[str, set[str]]) -> None:
    for column, fact in columns_of(row.table).items():
        if not fact.links_to:
            continue
        target = row.values.get(column)
        if target and target not in ids.get(fact.links_to, set()):
            raise JobFileError(
                f"{row.path}.{column} names no {fact.links_to.replace('_', ' ')} of this file."
            )
        if not target and (row.table, column) in _NEEDED:
            raise JobFileError(f"{row.path}.{column} is missing: name the row it belongs to.")


def refuse_both_results(rows: Sequence[FileRow]) -> None:
    """Raise JobFileError for a test in which a zone ran and nothing did.

    In the cells of a terminal the results of two laptops are merged, and a flag tells of both.
    """
    for row in rows:
        held = row.values
        zone = held.get("ran_zone_id") or held.get("ran_also_id")
        if row.table == "wire_test" and held.get("ran_nothing") is True and zone:
            raise JobFileError(
                f"{row.path} has both a zone that ran and ran_nothing: keep the one that is true."
            )


def _refuse_bad_kind(row: FileRow) -> None:
    """A valve or terminal must be of a known kind and say which one it is."""
    if row.table not in _KINDS:
        return
    column, words = _KINDS[row.table]
    kind = row.values.get(column) or "zone"
    if kind not in words:
        raise JobFileError(f"{row.path}.{column} takes one of {', '.join(words)}.")
    needed = _NEEDED_BY_KIND.get((row.table, str(kind)))
    if needed and not row.values.get(needed):
        raise JobFileError(f"{row.path}.{needed} is missing: it tells which {row.table} this is.")


_Run = tuple[str, int, int | None]
"""The path, the number and the feeding run's number (None at the start) of a pipe run."""


def refuse_bad_runs(rows: Sequence[FileRow]) -> None:
    """Raise JobFileError for a run number used twice, a feeding run that is not there, or a circle.

    Runs are numbered within their stretch: the mainline, or the lateral of one zone.
    """
    stretches: dict[Value, list[_Run]] = {}
    for row in rows:
        if row.table != "pipe_run":
            continue
        number, after = row.values.get("number"), row.values.get("after")
        if not isinstance(number, int):
            raise JobFileError(
                f"{row.path}.number is missing: number the runs of the mainline from 1, and those "
                "of each lateral."
            )
        run = (row.path, number, after if isinstance(after, int) else None)
        stretches.setdefault(row.values.get("zone_id"), []).append(run)
    for stretch in stretches.values():
        _refuse_bad_stretch(stretch)


def _refuse_bad_stretch(stretch: Sequence[_Run]) -> None:
    fed_by: dict[int, int | None] = {}
    for path, number, after in stretch:
        if number in fed_by:
            raise JobFileError(
                f"{path}.number {number} stands twice in one mainline or lateral: number its runs "
                "anew."
            )
        fed_by[number] = after
    for path, _number, after in stretch:
        if after is not None and after not in fed_by:
            raise JobFileError(
                f"{path}.after {after} names no run of the same mainline or lateral."
            )
    done: set[int] = set()
    for path, number, _after in stretch:
        _walk_up(path, number, fed_by, done)


def _walk_up(path: str, number: int, fed_by: Mapping[int, int | None], done: set[int]) -> None:
    """Follow the feeding runs to the start of the stretch; `done` are runs that lead there."""
    passed: set[int] = set()
    run: int | None = number
    while run is not None and run not in done:
        if run in passed:
            raise JobFileError(f"{path}.after goes round in a circle at run {run}.")
        passed.add(run)
        run = fed_by[run]
    done |= passed
