"""The ids of rows that exist once: a zone's valve, a terminal, the flush of a stretch.

Such an id is made from what the row belongs to, so two laptops that enter the same thing enter the
same row. Other rows get a new id each.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from fieldbook.records.base import natural_id
from fieldbook.records.loaded_job import TABLES
from fieldbook.records.values import Value


def natural_row_id(job_id: str, table: str, values: Mapping[str, Value]) -> str | None:
    """The id that a row with these values must have; None for a table whose rows get a new id.

    `values` must hold the row's links and, for valves and terminals, its kind, role and number.
    """
    if TABLES[table].once:
        return once_id(job_id, table)
    zone_id = _text(values, "zone_id")
    made: Mapping[str, Callable[[], str | None]] = {
        "valve": lambda: _valve(job_id, values),
        "head": lambda: head_id(_text(values, "run_id")),
        "flush": lambda: flush_id(zone_id or job_id),
        "pressure_test": lambda: pressure_test_id(job_id, zone_id or None),
        "rule": lambda: natural_id(job_id, "rule", _text(values, "key")),
        "backfill": lambda: backfill_id(job_id, zone_id or None),
        "zone_shown": lambda: zone_shown_id(zone_id),
        "season_work": lambda: season_work_id(_text(values, "visit_id")),
        "season_zone": lambda: season_zone_id(_text(values, "visit_id"), zone_id or None),
        "load_item": lambda: _load_item(job_id, values),
        "terminal": lambda: _terminal(job_id, values),
        "zone_watering": lambda: zone_watering_id(zone_id),
        "programme_minutes": lambda: programme_minutes_id(
            _text(values, "programme_id"), _text(values, "terminal")
        ),
        "weather_month": lambda: weather_month_id(job_id, _text(values, "month")),
    }
    return made[table]() if table in made else None


def _valve(job_id: str, values: Mapping[str, Value]) -> str:
    if _text(values, "kind") == "master":
        return master_valve_id(job_id)
    return valve_id(_text(values, "zone_id"))


def _terminal(job_id: str, values: Mapping[str, Value]) -> str:
    role, of = _text(values, "role") or "zone", _text(values, "controller_id")
    if role == "common":
        return terminal_id(job_id, role, _text(values, "cable_id"), of)
    return terminal_id(job_id, role, _text(values, "number") if role == "zone" else "", of)


def _load_item(job_id: str, values: Mapping[str, Value]) -> str | None:
    """The id of an item of the takeoff; None for one that the crew added."""
    key = _text(values, "key")
    return load_item_id(job_id, key) if key else None


def _text(values: Mapping[str, Value], column: str) -> str:
    value = values.get(column)
    return "" if value is None else str(value)


def valve_id(zone_id: str) -> str:
    """The id of a zone's valve, whether or not its row exists yet."""
    return natural_id(zone_id, "valve")


def master_valve_id(job_id: str) -> str:
    """The id of a job's master valve."""
    return natural_id(job_id, "master valve")


def head_id(run_id: str) -> str:
    """The id of the head at the end of a run."""
    return natural_id(run_id, "head")


def flush_id(zone_id: str) -> str:
    """The id of a zone's flush log; for the mainline's, pass the job's id."""
    return natural_id(zone_id, "flush")


def pressure_test_id(job_id: str, zone_id: str | None) -> str:
    """The id of a stretch's pressure test: a zone's, or the mainline's (None)."""
    return natural_id(zone_id or job_id, "pressure test")


def backfill_id(job_id: str, zone_id: str | None) -> str:
    """The id of a stretch's backfill: a zone's, or the mainline's (None)."""
    return natural_id(zone_id or job_id, "backfill")


def zone_shown_id(zone_id: str) -> str:
    """The id of the row that says how long a zone was shown to the owner."""
    return natural_id(zone_id, "shown to the owner")


def zone_watering_id(zone_id: str) -> str:
    """The id of what is entered of a zone's watering."""
    return natural_id(zone_id, "watering")


def weather_month_id(job_id: str, month: int | str) -> str:
    """The id of a month's weather, 1 to 12."""
    return natural_id(job_id, "weather month", str(month))


def season_work_id(visit_id: str) -> str:
    """The id of what a visit did to close or open the system."""
    return natural_id(visit_id, "season work")


def season_zone_id(visit_id: str, zone_id: str | None) -> str:
    """The id of what a visit did to a zone, or to the mainline (None)."""
    return natural_id(visit_id, "season zone", zone_id or "")


def once_id(job_id: str, table: str) -> str:
    """The id of the one row a job has in a table such as its supply."""
    return natural_id(job_id, table)


def load_item_id(job_id: str, key: str) -> str:
    """The id of the line of the load list for an item of the takeoff, by the item's words."""
    return natural_id(job_id, "load item", key)


def terminal_id(
    job_id: str, role: str, number: int | str = "", controller_id: str | None = None
) -> str:
    """The id of a terminal: a zone terminal by number, a common by its cable's id.

    `controller_id` is that of another controller than the first.
    """
    other = [controller_id] if controller_id else []
    return natural_id(job_id, "terminal", role, str(number), *other)


def programme_minutes_id(programme_id: str, terminal: int | str) -> str:
    """The id of the minutes of a terminal in a programme."""
    return natural_id(programme_id, "minutes", str(terminal))
