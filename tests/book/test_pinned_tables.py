"""The tables of the current format are pinned: no change of them can slip past existing books.

What a change needs is decided by the code that opens a book, tried on tables made from the pin.
"""

from __future__ import annotations

import sqlite3
from contextlib import closing
from difflib import unified_diff
from pathlib import Path

import pytest
from pin_tables import pin, tables

from fieldbook.store.errors import BookError
from fieldbook.store.journal.entry import FORMAT
from fieldbook.store.lifecycle.known_layout import own_parts, record_parts
from fieldbook.store.lifecycle.layout import (
    difference,
    parts_of_model,
    refuse_incompatible,
    refuse_newer,
)

ADDED = """
The model only gained tables, columns or indexes: each book gets them when it is next opened.
Pin the tables as they are now with

    python tests/support/pin_tables.py
"""
CHANGED = f"""
Books of format {FORMAT} can't be brought up to this model by adding to them. In this order:
1. With the code as it was before the change (git worktree add), write the book of the format that
   is being left: python tests/write_old_book.py
2. Raise FORMAT in fieldbook/store/journal/entry.py.
3. Write the step that brings a book of format {FORMAT} up, and call it in _prepare of
   fieldbook/store/lifecycle/connect.py.
4. Pin the tables of the new format: python tests/support/pin_tables.py
"""


def advice(pinned: str) -> str:
    """What is to be done about a model that is not as pinned; nothing when it is."""
    if pinned == tables():
        return ""
    changes = "\n".join(unified_diff(pinned.split("\n"), tables().split("\n"), "pin", "model", n=2))
    with closing(sqlite3.connect(":memory:")) as book:
        book.executescript(pinned)
        found = difference(book)
        try:
            refuse_newer(book, found, Path("the pin"))
            refuse_incompatible(found, Path("the pin"))
        except BookError:
            return changes + CHANGED
    return changes + (ADDED if found.missing else CHANGED)


def test_the_tables_are_as_pinned() -> None:
    told = advice(pin().read_text("utf-8"))
    assert not told, told
    assert own_parts().union(record_parts()) == parts_of_model(), ADDED
    assert own_parts().isdisjoint(record_parts())


@pytest.mark.parametrize(
    ("now", "before", "wanted"),
    [
        ("  waters VARCHAR NOT NULL,\n", "", ADDED),
        ("  design_flow_gpm FLOAT,\n", "", ADDED),
        ("CREATE INDEX ix_zone_job_id ON zone (job_id);\n", "", ADDED),
        ("  kind VARCHAR,\n  nozzle_gpm", "  kind VARCHAR NOT NULL,\n  nozzle_gpm", ADDED),
        ("  design_flow_gpm FLOAT,", "  design_flow_gpm VARCHAR,", CHANGED),
        ("  waters VARCHAR NOT NULL,\n", "  drinks VARCHAR NOT NULL,\n", CHANGED),
        ("  waters VARCHAR NOT NULL,\n", "  waters VARCHAR NOT NULL UNIQUE,\n", CHANGED),
        ("  format INTEGER NOT NULL,\n", "", CHANGED),
    ],
)
def test_what_a_change_needs_is_said(now: str, before: str, wanted: str) -> None:
    pinned = tables().replace(now, before, 1)
    assert pinned != tables()
    assert advice(pinned).endswith(wanted)
