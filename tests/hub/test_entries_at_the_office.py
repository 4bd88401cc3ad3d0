"""The office's server checks an entry exactly as a laptop does."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import psycopg
import pytest
from an_office import Office
from examples import examples
from hypothesis import HealthCheck, example, given
from hypothesis import strategies as st
from made_entries import entry

from fieldbook.store.journal.entry import (
    ADD,
    DELETED,
    Entry,
    EntryError,
    as_dict,
    from_dict,
    is_hostile,
)
from fieldbook.store.office.limits import fits_office
from fieldbook.store.office.office_tables import HOSTILE
from fieldbook.store.office.push import insert_entries

Connection = psycopg.Connection[Any]
TRICKY = st.sampled_from(
    [
        "",
        "\x7f",
        "\x1f\b\f\n\r\t",
        '"\\/',
        "\u2028\ufeff\uffff",
        "\U0001d518\U0010ffff",
        "\u00e9",
        "e\u0301",
        "\0",
    ]
)
TEXT = st.text(st.characters(exclude_categories=["Cs"]), max_size=12) | TRICKY
PLAIN = st.none() | st.booleans() | st.integers() | st.floats() | TEXT | st.text(max_size=4)
VALUE = (
    PLAIN.map(lambda held: json.dumps(held, ensure_ascii=False))
    | PLAIN.map(json.dumps)
    | st.dictionaries(TEXT, PLAIN, max_size=3).map(
        lambda held: json.dumps({**held, "job_id": "j"}, ensure_ascii=False)
    )
    | st.sampled_from(
        [
            "[]",
            '{"job_id":"j","a":[1]}',
            '{"a":[1],"a":1,"job_id":"j"}',
            '{"job_id":"j","job_id":"k"}',
            '{"job_id":"k","job_id":"j"}',
            "9" * 5000,
            "1e400",
            "1e999999999",
            "-0.0",
            "NaN",
            "[" * 9000,
            '{"a":' + "[" * 3000 + "]" * 3000 + ',"a":1,"job_id":"j"}',
            '{"job_id":1}',
            '{"a":"\\ud800","job_id":"j"}',
            '{"a":"\\u0000","job_id":"j"}',
            '{"\\u0000":1,"job_id":"j"}',
            ' { "a" : 1 ,\t"job_id":"j" } \r\n',
            "\xa01",
            "",
            "nope",
            "01",
            "1 2",
        ]
    )
)
CLEAN = TEXT.map(lambda text: text.replace("\0", ""))
ENTRY = st.builds(
    entry,
    origin=CLEAN,
    seq=st.integers(0, (1 << 62) - 1),
    prev=TEXT,
    wall=TEXT,
    who=TEXT,
    what=TEXT,
    table=st.sampled_from(["job", "zone"]) | TEXT,
    row_id=st.sampled_from(["j", "r" * 201, "r"]),
    op=st.sampled_from([ADD, ADD, "name", DELETED, "n" * 201]),
    value=VALUE,
    parents=st.lists(TEXT, max_size=3).map(tuple),
)


@pytest.fixture(scope="module")
def connection(office: Office) -> Iterator[Connection]:
    with psycopg.connect(office.url, autocommit=True) as opened:
        yield opened


def office_accepts(connection: Connection, one: Entry) -> bool:
    try:
        return insert_entries(connection, [one]).count <= 1
    except (psycopg.IntegrityError, psycopg.DataError, psycopg.OperationalError):
        return False


def laptops_accept(one: Entry) -> bool:
    try:
        return from_dict({**as_dict(one), "parents": list(one.parents)}) == one
    except EntryError:
        return False


@examples(300, [HealthCheck.function_scoped_fixture])
@given(one=ENTRY)
@example(one=entry(value='{"a":[1],"a":1,"job_id":"j"}'))
def test_the_office_accepts_what_laptops_accept_and_nothing_else(
    connection: Connection, one: Entry
) -> None:
    there = office_accepts(connection, one)
    if there:
        assert laptops_accept(one)
    elif laptops_accept(one):
        assert not fits_office(one)


def test_a_hostile_character_is_the_same_there_as_here(connection: Connection) -> None:
    query = "SELECT c FROM generate_series(1, %s) c WHERE c NOT BETWEEN %s AND %s AND chr(c) ~ %s"
    found = connection.execute(query, (0x10FFFF, 0xD800, 0xDFFF, HOSTILE)).fetchall()
    here = [c for c in range(1, 0x110000) if not 0xD800 <= c <= 0xDFFF and is_hostile(chr(c))]
    assert [row[0] for row in found] == here


@examples(200, [HealthCheck.function_scoped_fixture])
@given(texts=st.lists(CLEAN, min_size=6, max_size=6), parents=st.lists(CLEAN, max_size=3))
def test_the_office_computes_the_hash_that_python_does(
    connection: Connection, texts: list[str], parents: list[str]
) -> None:
    names = ("origin", "prev", "who", "what", "act", "target")
    one = entry(**dict(zip(names, texts, strict=True)), parents=tuple(parents))
    values = [getattr(one, name) for name in as_dict(one) if name != "id"]
    values = [list(part) if isinstance(part, tuple) else part for part in values]
    marks = ", ".join(
        "%s::text[]" if isinstance(part, list) else "%s::bigint" if type(part) is int else "%s"
        for part in values
    )
    found = connection.execute(f"SELECT fieldbook.sealed_id({marks})".encode(), values).fetchone()
    assert found == (one.id,)


@pytest.mark.parametrize(
    "parents", ["ARRAY['a', NULL]", "ARRAY[['a'], ['b']]", "'[0:1]={a,b}'::text[]"]
)
def test_parents_of_another_shape_are_refused_or_read_as_a_list(
    connection: Connection, parents: str
) -> None:
    whole = entry(
        origin=parents, op="name", parents=("a", "b") if "NULL" not in parents else ("a",)
    )
    held = as_dict(whole)
    names = [f'"{name}"' for name in held]
    marks = [parents if name == "parents" else "%s" for name in held]
    query = f"INSERT INTO fieldbook.entry ({', '.join(names)}) VALUES ({', '.join(marks)})"
    values = [part for name, part in held.items() if name != "parents"]
    if "=" in parents:
        connection.execute(query.encode(), values)
        query = "SELECT parents FROM fieldbook.entry WHERE id = %s"
        assert connection.execute(query, (whole.id,)).fetchone() == (["a", "b"],)
    else:
        with pytest.raises(psycopg.errors.CheckViolation, match="plain_parents"):
            connection.execute(query.encode(), values)
