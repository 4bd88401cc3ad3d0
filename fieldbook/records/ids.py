"""The id a row must have because the thing it tells of exists once."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from fieldbook.records.base import natural_id
from fieldbook.records.loaded_job import (
    TABLES,
    backfill_id,
    flush_id,
    head_id,
    master_valve_id,
    once_id,
    pressure_test_id,
    terminal_id,
    valve_id,
)
from fieldbook.records.values import Value


def natural_row_id(job_id: str, table: str, values: Mapping[str, Value]) -> str | None:
    """The one id of a row with these values, or None for a table whose rows are free.

    `values` needs the row's links and, for valves and terminals, its kind, role and number.
    """
    if TABLES[table].once:
        return once_id(job_id, table)
    zone_id = _text(values, "zone_id")
    made: Mapping[str, Callable[[], str]] = {
        "valve": lambda: _valve(job_id, values),
        "head": lambda: head_id(_text(values, "run_id")),
        "flush": lambda: flush_id(zone_id or job_id),
        "pressure_test": lambda: pressure_test_id(job_id, zone_id or None),
        "rule": lambda: natural_id(job_id, "rule", _text(values, "key")),
        "backfill": lambda: backfill_id(job_id, zone_id or None),
        "terminal": lambda: _terminal(job_id, values),
    }
    return made[table]() if table in made else None


def _valve(job_id: str, values: Mapping[str, Value]) -> str:
    if _text(values, "kind") == "master":
        return master_valve_id(job_id)
    return valve_id(_text(values, "zone_id"))


def _terminal(job_id: str, values: Mapping[str, Value]) -> str:
    role = _text(values, "role") or "zone"
    if role == "common":
        return terminal_id(job_id, role, _text(values, "cable_id"))
    return terminal_id(job_id, role, _text(values, "number") if role == "zone" else "")


def _text(values: Mapping[str, Value], column: str) -> str:
    value = values.get(column)
    return "" if value is None else str(value)
