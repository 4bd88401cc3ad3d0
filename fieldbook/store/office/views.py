"""The views that the office reads, one for each table of the record, made from its columns.

A value that its column cannot hold shows as NULL. `up_to_date` is false where the hub has entries
that the rows do not show yet, and a property of which nothing was worked out is a row of
`office.job` alone. CREATE OR REPLACE VIEW keeps what an office has built on a view, but neither
drops nor moves columns: so a view keeps those it has, in their order, and gets new ones at its end.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from fieldbook.records.base import Column, Row, columns_of
from fieldbook.records.loaded_job import RECORDS
from fieldbook.store.office.derived.derived_views import DERIVED_VIEWS

UP_TO_DATE = "up_to_date"


def office_views(existing: Mapping[str, Sequence[str]]) -> list[str]:
    """The statements that make or complete the views; `existing` are the columns by view.

    A view with a column that is not known here was made by a newer fieldbook, and stays.
    """
    statements = []
    for name, record in RECORDS.items():
        columns = list(existing.get(name, ()))
        if set(columns) <= {*columns_of(record), UP_TO_DATE}:
            statements.append(_view(record, columns))
    return [*DERIVED_VIEWS, *statements, _CONFLICTS, _HISTORY]


def _view(record: type[Row], existing: Sequence[str]) -> str:
    table, columns = record.table_name, columns_of(record)
    added = [name for name in (*columns, UP_TO_DATE) if name not in existing]
    of_property = {UP_TO_DATE: "p.same_entries"}
    # As in a book, a row shows only once its property is there; the property itself always shows.
    rows = "JOIN"
    if table == "job":
        of_property |= {"id": "p.job_id", "address": "p.address"}
        rows = "LEFT JOIN"
    cells = ",\n  ".join(
        f'{of_property.get(name) or _cell(name, columns[name])} AS "{name}"'
        for name in (*existing, *added)
    )
    return (
        f'CREATE OR REPLACE VIEW office."{table}" AS SELECT\n  {cells}\n'
        f"FROM fieldbook.property p {rows} fieldbook.row r ON r.job_id = p.job_id "
        f"AND r.\"table\" = '{table}'" + (" AND r.row_id = r.job_id" if table == "job" else "")
    )


def _cell(name: str, column: Column) -> str:
    """The SQL of a column's value, NULL where the row holds another type."""
    if name in ("id", "job_id"):
        return "r.row_id" if name == "id" else "r.job_id"
    text = f"(r.cells ->> '{name}')"
    kind = f"jsonb_typeof((r.cells -> '{name}'))"
    if column.kind is bool:
        return (
            f"CASE {text} WHEN '1' THEN true WHEN 'true' THEN true WHEN '0' THEN false "
            "WHEN 'false' THEN false END"
        )
    if column.kind is int:
        # 18 digits always fit a bigint; a longer number would make the whole view fail.
        return (
            f"CASE WHEN {kind} = 'number' AND {text} ~ '^-?[0-9]{{1,18}}$' THEN {text}::bigint END"
        )
    if column.kind is float:
        # Outside these limits the cast to double precision fails.
        size = f"abs({text}::numeric)"
        return (
            f"CASE WHEN {kind} <> 'number' THEN NULL WHEN {size} < 1e-300 THEN 0 "
            f"WHEN {size} < 1e300 THEN {text}::double precision END"
        )
    shown = f"CASE {kind} WHEN 'string' THEN {text} END"
    return shown if column.optional else f"coalesce({shown}, '')"


_VALUE = """CASE WHEN e.op <> 'add' THEN e.value::jsonb #>> '{}'
    WHEN c."column" = '' THEN e.value ELSE e.value::jsonb ->> c."column" END"""
# For evidence the first of the entries shows; for cells the newest, as in the merge.
_CONFLICTS = f"""
CREATE OR REPLACE VIEW office.conflict AS SELECT
  c.job_id, p.address, c."table", c.row_id, c."column", c.kind,
  CASE c.kind WHEN 'removed' THEN 'removed' ELSE {_VALUE} END AS value,
  e.who, e.wall AS entered_at, e.pushed_by AS laptop, e.id AS entry,
  c.kind <> 'removed' AND e.n = first_value(e.n) OVER (
    PARTITION BY c.job_id, c."table", c.row_id, c."column"
    ORDER BY CASE c.kind WHEN 'evidence' THEN array_position(c.heads, e.id) END,
      e.clock DESC, e.id COLLATE "C" DESC) AS shown,
  p.same_entries AS up_to_date
FROM fieldbook.conflict c
JOIN fieldbook.entry e ON e.id = ANY (c.heads)
JOIN fieldbook.property p ON p.job_id = c.job_id
"""
_HISTORY = """
CREATE OR REPLACE VIEW office.history AS SELECT
  e.n, e.job_id, p.address, e.wall AS entered_at, e.who, e.what, e.kind,
  e."table", e.row_id, e.op AS "column",
  CASE e.op WHEN 'add' THEN e.value ELSE e.value::jsonb #>> '{}' END AS value,
  e.pushed_by AS laptop, e.pushed_at, e.id AS entry
FROM fieldbook.entry e
LEFT JOIN fieldbook.property p ON p.job_id = e.job_id
"""
