"""Every link of a job file must name a row of the right table in the same file."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fieldbook.jobfile.layout import JOB_KEY, JobFileError, columns_of

if TYPE_CHECKING:
    from fieldbook.jobfile.read import FileRow

_NEEDED = {
    ("head", "run_id"),
    ("conductor", "cable_id"),
}
_WORDS = {"valve": ("kind", ("zone", "master")), "terminal": ("role", ("zone", "common", "master"))}


def resolve_links(rows: list[FileRow]) -> list[FileRow]:
    """The rows unchanged, or JobFileError naming the first link that leads nowhere."""
    ids: dict[str, set[str]] = {}
    for row in rows:
        ids.setdefault(row.table, set()).add(row.row_id)
    for row in rows:
        if row.table != JOB_KEY:
            _refuse_loose(row, ids)
    return rows


def _refuse_loose(row: FileRow, ids: dict[str, set[str]]) -> None:
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
    _refuse_roles(row)


def _refuse_roles(row: FileRow) -> None:
    """Valves and terminals say what they are, and name what that needs."""
    if row.table not in _WORDS:
        return
    column, words = _WORDS[row.table]
    said = row.values.get(column) or "zone"
    if said not in words:
        raise JobFileError(f"{row.path}.{column} takes one of {', '.join(words)}.")
    needed = {
        ("valve", "zone"): "zone_id",
        ("terminal", "zone"): "number",
        ("terminal", "common"): "cable_id",
    }.get((row.table, str(said)))
    if needed and not row.values.get(needed):
        raise JobFileError(f"{row.path}.{needed} is missing: it tells which {row.table} this is.")
