"""Jobs of arbitrary rows, for tests of what no record may do to a check."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from builders import JOB, bare_job, sound_job
from hypothesis import strategies as st

from fieldbook.records.base import Record, columns_of
from fieldbook.records.loaded_job import FIELD_OF, TABLES, LoadedJob

IDS = ("a", "b", "c", "zone-1", "zone-2", "cable-1")
WORDS = ("", "white", "red", "[/]", "1", "PVB", "pvc sch 40", "zone", "common", "master", "x" * 400)
DAYS = ("0001-01-01", "1900-01-02", "2026-05-01T14:30", "2026-02-31", "9999-12-31T23:59")


def values_of(record: type[Record], column: str) -> st.SearchStrategy[Any]:
    """Any value of a column's type, sound or absurd about equally often."""
    kind, optional, fact = columns_of(record)[column]
    blank = st.none() if optional else st.just("")
    if kind is float:
        return blank | st.floats() | st.sampled_from((0.0, 1.0, 30.0, 1e308, -5.0))
    if kind is bool:
        return blank | st.booleans()
    if kind is int:
        return blank | st.integers(-3, 12) | st.integers()
    words = st.sampled_from((*WORDS, *DAYS)) | st.text(max_size=60)
    if fact is not None and fact.choices:
        words |= st.sampled_from(fact.choices)
    if fact is not None and fact.links_to:
        words |= st.sampled_from(IDS)
    return blank | words


def rows_of(record: type[Record]) -> st.SearchStrategy[Any]:
    """Rows of a table with any of its columns filled."""
    own = [name for name in columns_of(record) if name not in ("id", "job_id")]
    columns = {name: values_of(record, name) for name in own}
    return st.builds(
        lambda row_id, held: record(id=row_id, job_id=JOB, **held),
        st.sampled_from(IDS),
        st.fixed_dictionaries({}, optional=columns),
    )


TABLE_ROWS = {name: rows_of(record) for name, record in TABLES.items()}


@st.composite
def any_job(draw: st.DrawFn) -> LoadedJob:
    """A job of arbitrary rows, or a sound one with arbitrary rows put among its own."""
    job = draw(st.sampled_from((bare_job(), sound_job(), sound_job(2, "metric"))))
    for table in draw(st.lists(st.sampled_from(sorted(TABLES)), max_size=6, unique=True)):
        new = tuple(draw(st.lists(TABLE_ROWS[table], min_size=1, max_size=4)))
        held: Any = new[0] if TABLES[table].once else (*job.tables()[table], *new)
        changes: dict[str, Any] = {FIELD_OF[table]: held}
        job = replace(job, **changes)
    return job
