"""An office that sends false answers: one sentence, and the book stays as it was."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from an_office import Office
from office_trucks import OfficeTruck

from fieldbook.store.errors import BookError
from fieldbook.store.mending.verify import verify
from fieldbook.store.office.office_tables import ENTRY_COLUMNS


@pytest.fixture
def office(server: str) -> Iterator[Office]:
    """A hub for one test."""
    made = Office(server)
    yield made
    made.drop()


def falsify(office: Office, table: str, select: str) -> None:
    """Replace a table by a view that answers falsely."""
    office.ask(
        f"ALTER TABLE fieldbook.{table} RENAME TO true_{table};"
        f"CREATE VIEW fieldbook.{table} AS {select};"
        f"GRANT SELECT, INSERT ON fieldbook.{table} TO fieldbook_laptop"
    )


def _false(column: str, answer: str) -> str:
    """Entries with a false value in one column."""
    listed = ENTRY_COLUMNS.replace(f'"{column}"', f"{answer} AS {column}")
    return f"SELECT n, {listed} FROM fieldbook.true_entry"


@pytest.mark.parametrize(
    ("table", "select"),
    [
        ("entry", f"SELECT n::text, {ENTRY_COLUMNS} FROM fieldbook.true_entry"),
        ("entry", f"SELECT 2::bigint AS n, {ENTRY_COLUMNS} FROM fieldbook.true_entry"),
        ("entry", f"SELECT -n AS n, {ENTRY_COLUMNS} FROM fieldbook.true_entry"),
        ("entry", f"SELECT NULL::bigint AS n, {ENTRY_COLUMNS} FROM fieldbook.true_entry"),
        ("entry", _false("who", "NULL::text")),
        ("entry", _false("who", "7")),
        ("entry", _false("seq", "-seq")),
        ("hub", "SELECT id, layout::text FROM fieldbook.true_hub"),
        ("hub", "SELECT id, 2 AS layout FROM fieldbook.true_hub"),
        ("hub", "SELECT id, layout FROM fieldbook.true_hub WHERE false"),
        ("laptop_origin", "SELECT origin FROM fieldbook.true_laptop_origin"),
    ],
)
def test_nothing_is_received_from_an_office_that_answers_falsely(
    office: Office, tmp_path: Path, table: str, select: str
) -> None:
    one, two = OfficeTruck(office, tmp_path, "AB"), OfficeTruck(office, tmp_path, "CD")
    one.add("12 Elm Street", 3)
    one.exchange()
    falsify(office, table, select)
    two.add("9 Oak Street")
    before = two.ids()
    said = ""
    try:
        assert two.exchange().received == 0
    except BookError as why:
        said = str(why)
    assert "\n" not in said
    assert two.ids() == before
    assert verify(two.path).wrong == ()
