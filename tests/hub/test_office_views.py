"""The office's views show what a book with the same entries shows."""

from __future__ import annotations

import random
import uuid
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import psycopg
import pytest
from an_office import Office
from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from made_entries import entry
from office_trucks import OfficeTruck
from psycopg import sql
from psycopg.rows import dict_row

from fieldbook.actions import cells as entering
from fieldbook.actions import log_wires, rows
from fieldbook.actions import signing as proofs
from fieldbook.actions.exchange.office import refresh_hub
from fieldbook.actions.job_files import import_bytes
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import demo_files, new_property
from fieldbook.checks.finding import CellRef
from fieldbook.records.ids import once_id, valve_id
from fieldbook.records.loaded_job import RECORDS
from fieldbook.store.book import Book
from fieldbook.store.changes import Add, Change, Keep, Put, Remove
from fieldbook.store.errors import BookError
from fieldbook.store.office.push import insert_entries
from fieldbook.store.sqlite.row_statements import select_rows

Connection = psycopg.Connection[Any]


@pytest.fixture(scope="module")
def connection(office: Office) -> Iterator[Connection]:
    with psycopg.connect(office.url, autocommit=True) as opened:
        yield opened


def refreshed(office: Office) -> None:
    """Have the hub's keeper work out what is not up to date."""
    refresh_hub(office.url, lambda *_: None, everything=False)


def in_the_book(book: Book, job_id: str) -> dict[str, list[dict[str, Any]]]:
    """Every row of a property, by table, as its tables hold it."""
    found = {}
    with book._connection.begin():
        for name in RECORDS:
            record, column = RECORDS[name], "id" if name == "job" else "job_id"
            found[name] = list(select_rows(book._connection, record, column, job_id))
    return found


def in_the_views(connection: Connection, job_id: str) -> dict[str, list[dict[str, Any]]]:
    """The same, as the office's views show it."""
    found = {}
    for name in RECORDS:
        column = "id" if name == "job" else "job_id"
        query = sql.SQL('SELECT * FROM office.{} WHERE {} = %s ORDER BY id COLLATE "C"')
        asked = query.format(sql.Identifier(name), sql.Identifier(column))
        rows = connection.cursor(row_factory=dict_row).execute(asked, (job_id,)).fetchall()
        assert all(row.pop("up_to_date") for row in rows)
        found[name] = rows
    return found


def test_a_whole_property_shows_as_in_the_book(
    office: Office, connection: Connection, tmp_path: Path
) -> None:
    truck = OfficeTruck(office, tmp_path, "AB")
    with truck.open() as book:
        for file in demo_files():
            import_bytes(book, file.read_bytes(), "AB")
        open_job = OpenJob(book, new_property(book, "12 Elm Street", "AB"), "AB")
        zone = rows.add_zone(open_job)
        at = CellRef("valve", valve_id(zone), "colour")
        log_wires.log_wire(open_job, at, "red", "", {"zone_id": zone, "kind": "zone"})
        proofs.tick_flush(open_job, zone)
        static = CellRef("supply", once_id(open_job.job_id, "supply"), "static_psi")
        for typed in ("62.1", "4.3 bar", "61"):
            entering.enter_text(open_job, static, typed)
        open_job.undo()
        proofs.sign_off(open_job, "price", proofs.Override("A. Foreman", "a test"))
        rows.repeat_run(open_job, zone)
        rows.remove_row(open_job, "pipe_run", open_job.job.pipe_runs[0].id)
    truck.exchange()
    with truck.open() as book:
        jobs = [one.id for one in book.jobs()]
        assert len(jobs) > 5
        for job_id in jobs:
            assert in_the_views(connection, job_id) == in_the_book(book, job_id)
    columns = "SELECT count(*) FROM information_schema.columns WHERE table_schema = 'office'"
    assert office.ask(columns) > [(300,)]


CELLS: tuple[tuple[str, str, tuple[Any, ...]], ...] = (
    ("zone", "name", ("lawn", "beds", "")),
    ("zone", "number", (1, 2, 3, None)),
    ("supply", "static_psi", (60.5, 62.1, 1 / 3, None)),
    ("controller", "outdoor", (True, False, None)),
    ("note", "text", ("a", "é“", "")),
)
ACTS = st.lists(
    st.tuples(
        st.integers(0, 2),
        st.sampled_from(
            ["put", "put", "put", "add", "remove", "keep", "undo", "receive", "customer"]
        ),
        st.integers(0, 999),
    ),
    min_size=4,
    max_size=30,
)


def change(job_id: str, kind: str, pick: random.Random) -> Change:
    """A change that somebody might make in a property of a few rows."""
    table, column, values = pick.choice(CELLS)
    row_id = f"{job_id[:30]}{table}{pick.randint(0, 1)}"
    if kind == "customer":
        return Put("job", job_id, "customer", pick.choice("XYZ"))
    if kind == "put":
        return Put(table, row_id, column, pick.choice(values))
    if kind == "add":
        return Add(table, row_id, {column: pick.choice(values)})
    return Remove(table, row_id) if kind == "remove" else Keep(table, row_id)


def act(
    truck: OfficeTruck, others: list[OfficeTruck], job_id: str, kind: str, pick: random.Random
) -> None:
    """Do one thing on a laptop, unless the book refuses it."""
    theirs = pick.choice(others).entries() if kind == "receive" else []
    with truck.open() as book:
        if kind == "receive":
            book.receive(pick.sample(theirs, pick.randint(0, len(theirs))), "a folder")
            return
        try:
            if kind == "undo":
                # The property itself stays.
                if book.count_undoable(job_id) > 1:
                    book.undo(job_id, by=truck.who)
            else:
                book.commit(job_id, [change(job_id, kind, pick)], by=truck.who, what=kind)
        except (BookError, KeyError):
            return


@examples(5)
@given(acts=ACTS, seed=st.integers(0, 999))
def test_whatever_three_laptops_do_the_views_show_what_a_book_shows(
    office: Office,
    connection: Connection,
    tmp_path_factory: pytest.TempPathFactory,
    acts: list[tuple[int, str, int]],
    seed: int,
) -> None:
    folder = tmp_path_factory.mktemp("trucks")
    trucks = [OfficeTruck(office, folder, by, "none") for by in ("AB", "CD", "EF")]
    with trucks[0].open() as book:
        job_id = new_property(book, f"{seed} Elm Street", "AB")
    seen = trucks[0].entries()
    for truck in trucks[1:]:
        with truck.open() as book:
            book.receive(seen, "a folder")
    for number, kind, picked in acts:
        act(trucks[number], trucks, job_id, kind, random.Random(picked))
    entries = list({one.id: one for truck in trucks for one in truck.entries()}.values())
    random.Random(seed).shuffle(entries)
    for start in range(0, len(entries), 7):
        insert_entries(connection, entries[start : start + 7])
    refreshed(office)
    with trucks[0].open() as book:
        book.receive(entries, "a folder")
        assert in_the_views(connection, job_id) == in_the_book(book, job_id)
        query = 'SELECT "table", row_id, "column", kind FROM {} WHERE job_id = {} ORDER BY 1, 2, 3'
        of_office = query.format("fieldbook.conflict", "%s")
        there = connection.execute(of_office.encode(), (job_id,)).fetchall()
        with book._connection.begin():
            of_book = query.format("conflict", "?")
            here = book._connection.run(of_book, (job_id,)).all()
        assert there == [tuple(row) for row in here]


@pytest.mark.parametrize(
    ("column", "value", "shown"),
    [
        ("address", "5", ""),
        ("address", "null", ""),
        ("off_board", "1", True),
        ("off_board", "false", False),
        ("off_board", '"yes"', None),
        ("off_board", "2", None),
    ],
)
def test_a_value_that_its_column_cannot_hold_is_null(
    office: Office, connection: Connection, column: str, value: str, shown: object
) -> None:
    job = uuid.uuid4().hex
    insert_entries(
        connection,
        [entry(table="job", row_id=job, job_id=job, value=f'{{"{column}":{value}}}')],
    )
    refreshed(office)
    assert in_the_views(connection, job)["job"][0][column] == shown


@pytest.mark.parametrize(
    ("value", "amount", "whole"),
    [
        ("1e-320", 0.0, None),
        ("1e200", 1e200, None),
        ("1e308", None, None),
        ('"62"', None, None),
        ("true", None, None),
        ("3", 3.0, 3),
        ("3.0", 3.0, None),
        ("1234567890123456789", 1234567890123456789.0, None),
    ],
)
def test_a_number_out_of_range_breaks_no_view(
    office: Office, connection: Connection, value: str, amount: float | None, whole: int | None
) -> None:
    job = uuid.uuid4().hex
    row = f'{{"job_id":"{job}","static_psi":{value},"number":{value}}}'
    insert_entries(
        connection,
        [
            entry(table="job", row_id=job, job_id=job, value="{}"),
            entry(table="supply", row_id=f"s{job}", job_id=job, value=row),
            entry(table="zone", row_id=f"z{job}", job_id=job, value=row),
        ],
    )
    refreshed(office)
    found = in_the_views(connection, job)
    assert found["supply"][0]["static_psi"] == amount
    assert found["zone"][0]["number"] == whole


def test_the_views_of_conflicts_and_of_the_history(office: Office, tmp_path: Path) -> None:
    one, two = OfficeTruck(office, tmp_path, "AB"), OfficeTruck(office, tmp_path, "CD")
    job_id = one.add("12 Elm Street", 1)
    one.exchange()
    two.exchange()
    one.enter(job_id, "first")
    two.enter(job_id, "second")
    for truck in (one, two):
        truck.exchange()
    query = (
        'SELECT address, "table", "column", kind, value, who, shown FROM office.conflict '
        "WHERE job_id = %s ORDER BY shown DESC"
    )
    cell = ("12 Elm Street", "job", "customer", "cell")
    conflicts = office.ask(query, job_id)
    with two.open_job(job_id) as open_job:
        shown = open_job.job.job.customer
    versions = [("second", "CD"), ("first", "AB")]
    versions.sort(key=lambda version: version[0] != shown)
    assert conflicts == [(*cell, *version, version[0] == shown) for version in versions]
    query = 'SELECT who, "column", value FROM office.history WHERE job_id = %s ORDER BY n DESC'
    assert office.ask(query, job_id)[0] == ("CD", "customer", "second")
    two.enter(job_id, "settled")
    two.exchange()
    assert office.ask("SELECT FROM office.conflict WHERE job_id = %s", job_id) == []
