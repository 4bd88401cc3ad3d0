"""The rows that the office works out in SQL are those that books work out in Python."""

from __future__ import annotations

import json
import random
from collections.abc import Iterator
from typing import Any

import psycopg
import pytest
from an_office import Office
from examples import examples
from hypothesis import HealthCheck, given
from hypothesis import strategies as st
from made_entries import STEPS, of_row

from fieldbook.store.journal.entry import Entry
from fieldbook.store.journal.latest_versions import accept_every_value
from fieldbook.store.journal.merge import merge_row
from fieldbook.store.office.push import insert_entries

_ROW = 'SELECT cells FROM fieldbook.row WHERE "table" = %s AND row_id = %s'
_CONFLICTS = (
    'SELECT "column", kind, heads FROM fieldbook.conflict WHERE "table" = %s AND row_id = %s'
)


@pytest.fixture(scope="module")
def connection(office: Office) -> Iterator[psycopg.Connection[Any]]:
    with psycopg.connect(office.url, autocommit=True) as opened:
        yield opened


def shown(connection: psycopg.Connection[Any], one: Entry) -> tuple[Any, Any]:
    """The row and its conflicts, as the office has them."""
    row = connection.execute(_ROW, (one.table, one.row_id)).fetchone()
    conflicts = connection.execute(_CONFLICTS, (one.table, one.row_id)).fetchall()
    return row and row[0], {
        (column, kind, tuple(sorted(heads))) for column, kind, heads in conflicts
    }


def wanted(entries: list[Entry]) -> tuple[Any, Any]:
    """The same as a book has them, without blank cells."""
    state = merge_row(entries, accept_every_value)
    conflicts = {(one.column, one.kind, tuple(sorted(one.entry_ids))) for one in state.conflicts}
    if state.values is None:
        return None, set()
    return json.loads(json.dumps(state.values)), conflicts


@examples(150, [HealthCheck.function_scoped_fixture])
@given(
    table=st.sampled_from(["zone", "zone", "zone", "job", "sign_off", "not_known_yet"]),
    steps=STEPS,
    seed=st.integers(0, 99),
)
def test_the_office_merges_as_books_do_in_whatever_order_entries_arrive(
    connection: psycopg.Connection[Any], table: str, steps: list[Any], seed: int
) -> None:
    entries = of_row(table, steps)
    shuffled = list({one.id: one for one in entries}.values())
    random.Random(seed).shuffle(shuffled)
    cut = seed % (len(shuffled) + 1)
    for part in (shuffled[:cut], shuffled[cut:]):
        insert_entries(connection, part)
    assert shown(connection, entries[0]) == wanted(entries)
