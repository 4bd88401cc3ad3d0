"""Entries for tests, as any laptop could have made them, or somebody who means harm."""

from __future__ import annotations

import json
import uuid
from typing import Any

from hypothesis import strategies as st

from fieldbook.store.journal.entry import ADD, DELETED, Entry, make_entry

BASE: dict[str, Any] = {
    "origin": "o",
    "seq": 1,
    "prev": "",
    "clock": 1,
    "wall": "2026-05-01T10:00:00-05:00",
    "who": "AB",
    "act": "a",
    "kind": "do",
    "target": "",
    "what": "w",
    "job_id": "j",
    "table": "zone",
    "row_id": "r",
    "op": ADD,
    "value": "null",
    "parents": (),
    "format": 7,
}
VALUES = st.sampled_from([None, 1, 0, 2, 2.5, "", "red", "blue", True])
STEPS = st.lists(
    # The operation, the columns of an added row, the value of a cell, which of the entries before
    # it are its parents (9 is one that never arrives), and the clock.
    st.tuples(
        st.sampled_from([ADD, "name", "number", "name", DELETED, "entered_by", "job_id"]),
        st.dictionaries(st.sampled_from(["name", "number", "note", "entered_by"]), VALUES),
        VALUES,
        st.lists(st.integers(0, 9), max_size=3),
        st.integers(0, 3),
    ),
    min_size=1,
    max_size=9,
)


def entry(**fields: object) -> Entry:
    """An entry with these fields, and those of BASE otherwise."""
    return make_entry({**BASE, **fields})


def of_row(table: str, steps: list[Any]) -> list[Entry]:
    """The entries of one row that these STEPS describe."""
    row, origin = uuid.uuid4().hex, uuid.uuid4().hex
    job = row if table == "job" else uuid.uuid4().hex
    made: list[Entry] = []
    for seq, (op, columns, value, after, clock) in enumerate(steps, 1):
        known = [made[at].id for at in after if at < len(made)]
        unknown = ["f" * 64] if 9 in after else []
        content = {**columns, **({} if table == "job" else {"job_id": job})} if op == ADD else value
        made.append(
            entry(
                origin=origin,
                seq=seq,
                clock=clock,
                who="ABCD"[clock],
                table=table,
                row_id=row,
                job_id=job,
                op=op,
                value=json.dumps(content, ensure_ascii=False),
                parents=tuple(sorted({*known, *unknown})),
            )
        )
    return made
