"""Make the derived rows of one property from its entries, and put them at the hub."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby

from fieldbook.records.loaded_job import LoadedJob
from fieldbook.store.journal.entry import Entry
from fieldbook.store.journal.latest_versions import accept_every_value
from fieldbook.store.journal.merge import merge_row
from fieldbook.store.office.connection import OfficeConnection
from fieldbook.store.office.office_tables import LONGEST_NAME

_PUT = "SELECT fieldbook.put_derived(%s, %s, %s::json)"


@dataclass(frozen=True)
class Derived:
    """What is said of a loaded job on the day `as_of`; it holds up to and with the day `until`.

    `line` is its board row, `facts` are (kind, cells): what checks find, as `derived_views.FACTS`
    lists it.
    """

    line: Mapping[str, object]
    facts: Sequence[tuple[str, Mapping[str, object]]]
    as_of: date
    until: date


Derive = Callable[[LoadedJob], Derived]
"""Works out what is said of a job."""


def digest_of(ids: Iterable[str]) -> str:
    """The hash of the ids of a property's entries, in whatever order; `count_job` in SQL."""
    return hashlib.sha256("".join(sorted(ids)).encode()).hexdigest()


def put_derived(
    connection: OfficeConnection, job_id: str, entries: Sequence[Entry], derived: Derived
) -> bool:
    """Replace a property's derived rows by those of these entries.

    False if the hub does not have exactly these entries now, or they are too many.
    """
    rows, conflicts = merged_rows(job_id, entries)
    made = {
        "rows": rows,
        "conflicts": conflicts,
        "line": derived.line,
        "facts": [{"kind": kind, "cells": cells} for kind, cells in derived.facts],
        "as_of": derived.as_of.isoformat(),
        "until": derived.until.isoformat(),
    }
    text = json.dumps(made, ensure_ascii=False, separators=(",", ":"))
    digest = digest_of(entry.id for entry in entries)
    return connection.execute(_PUT, (job_id, digest, text)).fetchone() == (True,)


def merged_rows(
    job_id: str, entries: Sequence[Entry]
) -> tuple[list[dict[str, object]], list[dict[str, object]]]:
    """The rows of a property, and the open conflicts, as the hub's tables have them.

    Every value counts as readable: a column that this fieldbook doesn't know is kept too.
    """
    rows: list[dict[str, object]] = []
    conflicts: list[dict[str, object]] = []
    in_rows = sorted(entries, key=_row_of)
    for (table, row_id), of_row in groupby(in_rows, key=_row_of):
        state = merge_row(of_row, accept_every_value)
        if state.values is None:
            continue
        named = {"table": table, "row_id": row_id}
        if job_id != (row_id if table == "job" else state.values.get("job_id")):
            continue
        rows.append({**named, "cells": state.values})
        conflicts += [
            {**named, "column": found.column, "kind": found.kind, "heads": found.entry_ids}
            for found in state.conflicts
            if len(found.column) <= LONGEST_NAME
        ]
    return rows, conflicts


def _row_of(entry: Entry) -> tuple[str, str]:
    return entry.table, entry.row_id
