"""Enter tests of a terminal: which zones ran as it was energised, and what the meter read.

Each result is a row of its own in the table of wire tests, with the wire that was under the
terminal, the day and who made it. The terminal's cells show the latest.
"""

from __future__ import annotations

from collections.abc import Mapping

from fieldbook.actions.cells import fact_at
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.finding import CellRef
from fieldbook.checks.wire.wire_tests import latest_readings, latest_tests, wire_under
from fieldbook.records.base import new_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.printable import printable
from fieldbook.records.tables.controller import Terminal
from fieldbook.records.values import Value, ValueRefusedError, from_text, shown
from fieldbook.store.changes import Add, Change, Put


def set_ran(open_job: OpenJob, at: CellRef, typed: str, seed: Mapping[str, Value]) -> None:
    """Enter which zones ran when a terminal was energised, as one act.

    "3" is zone 3, "3 4" two zones, "0" nothing; a blank clears it. Raises RefusedError for a
    number that no zone has, for more than two, and for a zone together with "nothing ran".
    """
    words = [word.casefold() for word in printable(typed).replace(",", " ").split()]
    nothing = words in (["0"], ["none"], ["nothing"])
    if not nothing and "0" in words:
        raise RefusedError("Either zones ran or nothing did: type the zones, or 0 alone.")
    zones = [] if nothing else [_zone_of(open_job, word) for word in words]
    if len(zones) > 2:
        raise RefusedError("Type the zone that ran, or two if two ran, or 0 for none.")
    values: dict[str, Value] = {
        "ran_zone_id": zones[0] if zones else None,
        "ran_also_id": zones[1] if len(zones) > 1 else None,
        "ran_nothing": True if nothing else None,
    }
    changes: list[Change] = [
        Put(at.table, at.row_id, column, value, dict(seed)) for column, value in values.items()
    ]
    before = [one.id for one in latest_tests(open_job.job, at.row_id)]
    open_job.commit([*changes, _event(open_job.job, at.row_id, before, values)], "what ran")


def set_ohm(open_job: OpenJob, at: CellRef, typed: str, seed: Mapping[str, Value]) -> None:
    """Enter the ohms read at a terminal, as one act; a blank clears them.

    `at` is the cell of day 1 or of now. Raises RefusedError where the text is no resistance.
    """
    fact = fact_at(at)
    try:
        ohm = from_text(fact, typed, open_job.system)
    except ValueRefusedError as error:
        raise RefusedError(str(error)) from error
    before = [one.id for one in latest_readings(open_job.job, at.row_id)]
    put = Put(at.table, at.row_id, at.column, ohm, dict(seed))
    what = f"{fact.label.lower()} {shown(fact, ohm, open_job.system) or 'cleared'}"
    open_job.commit([put, _event(open_job.job, at.row_id, before, {"read_ohm": ohm})], what)


def _event(job: LoadedJob, terminal_id: str, before: list[str], values: Mapping[str, Value]) -> Add:
    """One test more of a terminal; it follows those of its kind that are the latest now."""
    terminal = job.row(terminal_id)
    columns: dict[str, Value] = {
        "terminal_id": terminal_id,
        "wire": wire_under(terminal if isinstance(terminal, Terminal) else None),
        "after": " ".join(before),
    }
    return Add("wire_test", new_id(), {**columns, **values})


def _zone_of(open_job: OpenJob, word: str) -> str:
    for zone in open_job.job.zones:
        if word == str(zone.number):
            return zone.id
    raise RefusedError(f"No zone has the number “{word[:20]}”: type one that ran, or 0 for none.")
