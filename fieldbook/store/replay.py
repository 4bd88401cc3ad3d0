"""The record from its journal: tables are a function of the entries, in their order."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from typing import Any

from fieldbook.store.capture import ADD, CAPTURED, DELETED

Rows = dict[str, dict[str, dict[str, Any]]]
"""By table, then by row id, the columns that hold something."""


def replay(entries: Iterable[Mapping[str, Any]]) -> Rows:
    """Every row that the entries leave; a column that became nothing is absent."""
    rows: Rows = {table: {} for table in CAPTURED}
    for entry in entries:
        table = rows.setdefault(str(entry["table"]), {})
        row_id, op, value = str(entry["row_id"]), entry["op"], json.loads(entry["value"])
        if op == ADD:
            table[row_id] = {key: held for key, held in value.items() if held is not None}
        elif op == DELETED:
            table.pop(row_id, None)
        elif value is None:
            table.get(row_id, {}).pop(op, None)
        else:
            table.setdefault(row_id, {"id": row_id})[op] = value
    return rows
