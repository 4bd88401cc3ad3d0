"""Rows that were only added and changed are merged by a short way: the long way says the same."""

from __future__ import annotations

import json
from typing import Any
from unittest.mock import patch

import pytest
from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from made_entries import STEPS, VALUES, entry, of_row

from fieldbook.records.column_values import column_accepts
from fieldbook.store.journal import merge
from fieldbook.store.journal.entry import ADD, Entry
from fieldbook.store.journal.merge import RowState, merge_row

CHANGES = st.lists(
    # The column, its value, and how much later than the entry before it.
    st.tuples(st.sampled_from(["name", "number", "spacing_ft"]), VALUES, st.integers(0, 2)),
    max_size=6,
)


def both_ways(entries: list[Entry]) -> tuple[RowState, RowState]:
    """The row by the way that is taken, and by the long way."""
    with patch.object(merge, "_merge_plain", lambda *_: None):
        whole = merge_row(entries, column_accepts)
    return merge_row(entries, column_accepts), whole


def typed_one_after_the_other(changes: list[tuple[str, Any, int]]) -> list[Entry]:
    """The entries of a zone whose cells one laptop changes, each having seen what was before."""
    made = [entry(value=json.dumps({"job_id": "j", "name": "lawn"}))]
    seen: dict[str, str] = {}
    for column, value, later in changes:
        before = made[-1]
        parent = seen.get(column, made[0].id)
        change = entry(
            seq=before.seq + 1,
            clock=before.clock + later,
            who="CD",
            op=column,
            value=json.dumps(value),
            parents=(parent,),
        )
        seen[column] = change.id
        made.append(change)
    return made


@examples(60)
@given(CHANGES, st.randoms(use_true_random=False))
def test_changes_one_after_the_other(changes: list[tuple[str, Any, int]], random: Any) -> None:  # noqa: ANN401
    entries = typed_one_after_the_other(changes)
    random.shuffle(entries)
    short, whole = both_ways(entries)
    assert short == whole
    assert list((short.values or {}).items()) == list((whole.values or {}).items())


@examples(60)
@given(st.sampled_from(["zone", "job", "sign_off"]), STEPS)
def test_whatever_was_entered(table: str, steps: list[Any]) -> None:
    short, whole = both_ways(of_row(table, steps))
    assert short == whole


@pytest.mark.parametrize("count", [1, 4])
def test_the_short_way_is_taken(count: int, monkeypatch: pytest.MonkeyPatch) -> None:
    changes = [("name", f"lawn {number}", 1) for number in range(1, count)]
    entries = typed_one_after_the_other(changes)
    monkeypatch.setattr(merge, "_build_graph", None)
    assert merge_row(entries, column_accepts).values == {
        "job_id": "j",
        "name": f"lawn {count - 1}" if count > 1 else "lawn",
        "entered_by": "AB" if count == 1 else "CD",
        "entered_at": entries[0].wall,
    }


def test_a_second_version_of_a_cell_takes_the_long_way() -> None:
    added, first = typed_one_after_the_other([("name", "front", 1)])
    second = entry(origin="p", op="name", clock=9, value='"back"', parents=(added.id,))
    state = merge_row([added, first, second], column_accepts)
    assert [conflict.column for conflict in state.conflicts] == ["name"]
    assert added.op == ADD
