"""Sealed entries for tests, as many laptops might have made them, or somebody who means harm."""

from __future__ import annotations

import json
import uuid
from typing import Any

from hypothesis import strategies as st

from fieldbook.store.journal.entry import ADD, DELETED, Entry, make_entry

BASE = {
    "prev": "",
    "wall": "2026-05-01T10:00:00-05:00",
    "act": "a",
    "kind": "do",
    "target": "",
    "what": "w",
    "format": 7,
}
VALUES = st.sampled_from([None, 1, 0, 2, 2.5, "", "red", "blue", True])
STEPS = st.lists(
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


def entry(**told: object) -> Entry:
    """A sealed entry, of which only what matters is told."""
    content: dict[str, Any] = {
        **BASE,
        "origin": "o",
        "seq": 1,
        "clock": 1,
        "who": "AB",
        "job_id": "j",
    }
    content |= {
        "job_id": "j",
        "table": "zone",
        "row_id": "r",
        "op": ADD,
        "value": "null",
        "parents": (),
    }
    return make_entry({**content, **told})


def of_row(table: str, steps: list[Any]) -> list[Entry]:
    """Entries of one row: each may come after some of those before it, or of nothing known."""
    row, job, origin = uuid.uuid4().hex, uuid.uuid4().hex, uuid.uuid4().hex
    job = row if table == "job" else job
    made: list[Entry] = []
    for seq, (op, columns, value, after, clock) in enumerate(steps, 1):
        known = [made[one].id for one in after if one < len(made)]
        unknown = ["f" * 64] if 9 in after else []
        held = {**columns, **({} if table == "job" else {"job_id": job})} if op == ADD else value
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
                value=json.dumps(held, ensure_ascii=False),
                parents=tuple(sorted({*known, *unknown})),
            )
        )
    return made
