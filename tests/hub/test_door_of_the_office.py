"""What the office refuses from a laptop: a broken chain, what is too large, and too much a day."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import psycopg
import pytest
from an_office import Office
from click.testing import CliRunner
from made_entries import entry
from office_trucks import OfficeTruck
from psycopg import errors

from fieldbook.cli.main import main
from fieldbook.store.errors import BookError
from fieldbook.store.journal.entry import Entry
from fieldbook.store.office.door_sql import DAILY_MB, LONGEST_PARENTS, MOST_PARENTS
from fieldbook.store.office.files import _ADD_PART
from fieldbook.store.office.limits import fits_office
from fieldbook.store.office.push import insert_entries
from fieldbook.store.office.setup import make_hub


def link(origin: str, seq: int, prev: str, **more: object) -> Entry:
    return entry(origin=origin, seq=seq, prev=prev, op="name", value='"x"', **more)


@pytest.fixture
def laptop(office: Office) -> Iterator[psycopg.Connection]:
    """A new laptop's connection."""
    with psycopg.connect(office.laptop(), autocommit=True) as connection:
        yield connection


def claim(laptop: psycopg.Connection) -> str:
    origin = f"o-{laptop.info.user}"
    laptop.execute("INSERT INTO fieldbook.laptop_origin (origin) VALUES (%s)", (origin,))
    return origin


def test_an_entry_must_follow_the_one_before_it(laptop: psycopg.Connection) -> None:
    origin = claim(laptop)
    first = link(origin, 1, "")
    second = link(origin, 2, first.id)
    fork = link(origin, 2, first.id, who="CD")
    assert insert_entries(laptop, [first, second]).count == 2
    refused = "does not follow the one before it: run fieldbook verify"
    for prev in ("", first.id, "f" * 64):
        with pytest.raises(errors.CheckViolation, match=f"entry 3 {refused}"):
            insert_entries(laptop, [link(origin, 3, prev)])
    # A copied book goes on under the same origin until it is noticed: both follow an entry.
    assert insert_entries(laptop, [fork, link(origin, 3, fork.id)]).count == 2
    assert insert_entries(laptop, [link(origin, 3, second.id)]).count == 1


def test_a_missing_entry_is_no_broken_chain_but_another_in_its_place_is(
    laptop: psycopg.Connection,
) -> None:
    origin = claim(laptop)
    fourth = link(origin, 4, "")
    fifth = link(origin, 5, fourth.id)
    assert insert_entries(laptop, [fifth]).count == 1
    with pytest.raises(errors.CheckViolation, match="entry 5 does not follow"):
        insert_entries(laptop, [link(origin, 4, "", who="CD")])
    assert insert_entries(laptop, [fourth]).count == 1


@pytest.mark.parametrize(
    "parents", [("a",) * (MOST_PARENTS + 1), ("a" * (LONGEST_PARENTS + 1),)], ids=["many", "long"]
)
def test_an_entry_with_too_many_parents_is_refused_there_and_not_sent_from_here(
    laptop: psycopg.Connection, parents: tuple[str, ...]
) -> None:
    large = link(claim(laptop), 1, "", parents=parents)
    assert not fits_office(large)
    with pytest.raises(errors.CheckViolation, match="too many parents"):
        insert_entries(laptop, [large])


def test_a_laptop_sends_so_much_a_day_and_the_rest_later(office: Office, tmp_path: Path) -> None:
    truck = OfficeTruck(office, tmp_path, "AB")
    name = truck.url.partition("//")[2].partition(":")[0]
    office.ask("UPDATE fieldbook.laptop SET daily_mb = 0 WHERE name = %s", name)
    truck.add("12 Elm Street")
    with pytest.raises(BookError, match=r"takes no more from this laptop today \(0 MB a day\)"):
        truck.exchange()
    office.ask("UPDATE fieldbook.laptop SET daily_mb = 1 WHERE name = %s", name)
    assert truck.exchange().sent == 1
    with psycopg.connect(truck.url, autocommit=True) as connection:
        for number in range(3):
            connection.execute(_ADD_PART, ("a" * 64, number, b"x" * 250_000))
        with pytest.raises(errors.ConfigurationLimitExceeded):
            connection.execute(_ADD_PART, ("a" * 64, 3, b"x" * 250_000))
        office.ask("UPDATE fieldbook.sent_today SET day = day - 1 WHERE laptop = %s", name)
        connection.execute(_ADD_PART, ("a" * 64, 3, b"x" * 250_000))
    sent = office.ask("SELECT bytes FROM fieldbook.sent_today WHERE laptop = %s", name)
    assert sent == [(250_000,)]


def test_other_databases_are_named_and_closed_where_the_hub_is_alone(
    office: Office, server: str
) -> None:
    other = f"{server.rpartition('/')[0]}/template1"
    laptop = f"{office.laptop().rpartition('/')[0]}/template1"
    office.ask("GRANT CONNECT ON DATABASE template1 TO PUBLIC", url=other)
    said = CliRunner().invoke(main, ["hub", "init", office.url]).output
    assert "may connect to other databases of this server too: " in said
    assert "template1" in said
    office.ask("SELECT 1", url=laptop)
    assert (
        "other databases"
        not in CliRunner()
        .invoke(main, ["hub", "init", "--alone", office.url])
        .output.partition("Next:")[2]
    )
    with pytest.raises(psycopg.OperationalError, match="permission denied for database"):
        office.ask("SELECT 1", url=laptop)
    office.ask("GRANT CONNECT ON DATABASE template1, postgres TO PUBLIC", url=other)


def test_an_older_hub_gets_its_door(office: Office, tmp_path: Path) -> None:
    truck = OfficeTruck(office, tmp_path, "AB")
    truck.add("12 Elm Street")
    assert truck.exchange().sent == 1
    office.ask(
        "DROP TRIGGER at_the_door ON fieldbook.entry; DROP TRIGGER at_the_door ON "
        "fieldbook.file_part; DROP TABLE fieldbook.sent_today CASCADE; "
        "ALTER TABLE fieldbook.laptop DROP COLUMN daily_mb; "
        "GRANT EXECUTE ON FUNCTION lo_create(oid) TO PUBLIC; "
        "GRANT CREATE ON SCHEMA public TO PUBLIC"
    )
    make_hub(office.url)
    truck.add("14 Elm Street")
    assert truck.exchange().sent == 1
    assert office.ask("SELECT DISTINCT daily_mb FROM fieldbook.laptop") == [(DAILY_MB,)]
    for statement in (
        "SELECT lo_create(0)",
        "CREATE TABLE public.mine (a text)",
        "DELETE FROM fieldbook.sent_today",
    ):
        with pytest.raises(errors.InsufficientPrivilege):
            office.ask(statement, url=truck.url)
