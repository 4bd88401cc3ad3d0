"""The office's views: one for each table of the record, as the tables are, made from the metadata.

A value that the column can't take shows as NULL. A view keeps the order of the columns it has, so
that one that was built on it stays, and gets those that are new at its end.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from sqlalchemy import Boolean, Column, Float, Integer, Table
from sqlmodel import SQLModel

from fieldbook.store.sqlite.triggers import CAPTURED

PastValue = Mapping[str, Sequence[str]]
"""By view, the columns that it has now."""


def office_views(held: PastValue) -> list[str]:
    """The statements that make or complete the views; one that a newer fieldbook made stays."""
    lines = []
    for name in CAPTURED:
        table = SQLModel.metadata.tables[name]
        had = list(held.get(name, ()))
        if set(had) <= set(table.columns.keys()):
            lines.append(_view(table, had))
    return [*lines, _CONFLICTS, _HISTORY]


def _view(table: Table, had: Sequence[str]) -> str:
    names = [*had, *(name for name in table.columns.keys() if name not in had)]  # noqa: SIM118
    cells = ",\n  ".join(f'{_cell(table.c[name])} AS "{name}"' for name in names)
    there = ""
    if table.name != "job":
        there = (
            " AND EXISTS (SELECT FROM fieldbook.row j WHERE j.\"table\" = 'job' "
            "AND j.row_id = r.job_id)"
        )
    return (
        f'CREATE OR REPLACE VIEW office."{table.name}" AS SELECT\n  {cells}\n'
        f"FROM fieldbook.row r WHERE r.\"table\" = '{table.name}'{there}"
    )


def _cell(column: Column[object]) -> str:
    """A column's value out of the row's cells, if it is of its kind."""
    if column.name in ("id", "job_id"):
        return "r.row_id" if column.name == "id" else "r.job_id"
    held = f"(r.cells -> '{column.name}')"
    text = f"(r.cells ->> '{column.name}')"
    kind = f"jsonb_typeof({held})"
    if isinstance(column.type, Boolean):
        return f"CASE {text} WHEN '1' THEN true WHEN 'true' THEN true WHEN '0' THEN false " + (
            "WHEN 'false' THEN false END"
        )
    if isinstance(column.type, Integer):
        return (
            f"CASE WHEN {kind} = 'number' AND {text} ~ '^-?[0-9]{{1,18}}$' THEN {text}::bigint END"
        )
    if isinstance(column.type, Float):
        size = f"abs({text}::numeric)"
        return (
            f"CASE WHEN {kind} <> 'number' THEN NULL WHEN {size} < 1e-300 THEN 0 "
            f"WHEN {size} < 1e300 THEN {text}::double precision END"
        )
    shown = f"CASE {kind} WHEN 'string' THEN {text} END"
    return shown if column.nullable else f"coalesce({shown}, '')"


_VALUE = """CASE WHEN e.op <> 'add' THEN e.value::jsonb #>> '{}'
    WHEN c."column" = '' THEN e.value ELSE e.value::jsonb ->> c."column" END"""
_CONFLICTS = f"""
CREATE OR REPLACE VIEW office.conflict AS SELECT
  c.job_id, j.cells ->> 'address' AS address, c."table", c.row_id, c."column", c.kind,
  CASE c.kind WHEN 'removed' THEN 'removed' ELSE {_VALUE} END AS value,
  e.who, e.wall AS entered_at, e.pushed_by AS laptop, e.id AS entry,
  c.kind <> 'removed' AND e.n = first_value(e.n) OVER (
    PARTITION BY c."table", c.row_id, c."column"
    ORDER BY CASE c.kind WHEN 'evidence' THEN array_position(c.heads, e.id) END,
      e.clock DESC, e.id COLLATE "C" DESC) AS shown
FROM fieldbook.conflict c
JOIN fieldbook.entry e ON e.id = ANY (c.heads)
LEFT JOIN fieldbook.row j ON j."table" = 'job' AND j.row_id = c.job_id
"""
_HISTORY = """
CREATE OR REPLACE VIEW office.history AS SELECT
  e.n, e.job_id, j.cells ->> 'address' AS address, e.wall AS entered_at, e.who, e.what, e.kind,
  e."table", e.row_id, e.op AS "column",
  CASE e.op WHEN 'add' THEN e.value ELSE e.value::jsonb #>> '{}' END AS value,
  e.pushed_by AS laptop, e.pushed_at, e.id AS entry
FROM fieldbook.entry e
LEFT JOIN fieldbook.row j ON j."table" = 'job' AND j.row_id = e.job_id
"""
