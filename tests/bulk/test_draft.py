"""A draft is typing held back: whatever is tried on it, the book ends as the draft was.

The values are random; every act goes through the real actions, on a real book.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from examples import examples
from hypothesis import given
from hypothesis import strategies as st

from fieldbook.actions import cells, rows
from fieldbook.actions.bulk.draft import DraftJob
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import new_property
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.finding import CellRef
from fieldbook.records.base import facts_of
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.records.values import Value
from fieldbook.store.book import Book
from fieldbook.store.changes import Keep

TEXTS = st.sampled_from(
    ["", "1", "12'6", "1 1/4", "spray", "lawn", "15H", "pvc sdr 21", "-", "9999999"]
)
ACTS = st.lists(
    st.one_of(
        st.tuples(st.just("add zone"), st.just(0), st.just(""), TEXTS),
        st.tuples(st.just("add run"), st.integers(0, 3), st.just(""), TEXTS),
        st.tuples(
            st.just("zone"),
            st.integers(0, 3),
            st.sampled_from(["number", "name", "head_kind", "waters", "pressure_h"]),
            TEXTS,
        ),
        st.tuples(
            st.just("pipe_run"),
            st.integers(0, 5),
            st.sampled_from(["after", "size", "pipe_class", "length_ft"]),
            TEXTS,
        ),
        st.tuples(st.just("remove"), st.integers(0, 5), st.just(""), TEXTS),
    ),
    max_size=12,
)


def facts(job: LoadedJob) -> Mapping[str, Mapping[str, Value]]:
    """What a job holds, row by row, without who entered it and when."""
    return {
        row.id: {
            column: getattr(row, column) or None
            for column in facts_of(TABLES[table])
            if column not in ("entered_by", "entered_at")
        }
        for table, held in job.tables().items()
        for row in held
    }


def act(open_job: OpenJob, kind: str, number: int, column: str, text: str) -> None:
    """One act of those above; nothing where there is no such row."""
    job = open_job.job
    if kind == "add zone":
        rows.add_zone(open_job)
    elif kind == "add run" and number < len(job.zones):
        rows.repeat_run(open_job, job.zones[number].id)
    elif kind == "remove" and number < len(job.pipe_runs):
        rows.remove_row(open_job, "pipe_run", job.pipe_runs[number].id)
    elif kind in TABLES and number < len(job.tables()[kind]):
        cells.enter_text(open_job, CellRef(kind, job.tables()[kind][number].id, column), text)


@examples(15)
@given(ACTS)
def test_the_book_ends_as_the_draft_was_and_one_undo_takes_it_back(
    acts: list[tuple[str, int, str, str]],
) -> None:
    with TemporaryDirectory() as folder, Book(Path(folder) / "book.sqlite") as book:
        open_job = OpenJob(book, new_property(book, "12 Elm Street", "AB"), "AB")
        rows.repeat_run(open_job, rows.add_zone(open_job))
        before, undoable = facts(open_job.job), book.count_undoable(open_job.job_id)
        draft = DraftJob(open_job)
        for each in acts:
            try:
                act(draft, *each)
            except RefusedError:
                continue
        assert facts(OpenJob(book, open_job.job_id, "AB").job) == before
        wanted = facts(draft.job)
        draft.keep("much at once")
        assert facts(open_job.job) == wanted
        if wanted != before:
            assert book.count_undoable(open_job.job_id) == undoable + 1
            assert open_job.undo() == "much at once"
            assert facts(open_job.job) == before


def test_a_draft_refuses_a_change_that_only_the_book_can_make(book: Book) -> None:
    open_job = OpenJob(book, new_property(book, "12 Elm Street", "AB"), "AB")
    with pytest.raises(TypeError, match="a draft can't make"):
        DraftJob(open_job).commit([Keep("zone", "z")], "kept")
