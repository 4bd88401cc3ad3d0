"""A laptop that keeps the turn to add entries does not hold the others up."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from pathlib import Path

import psycopg
import pytest
from an_office import Office
from made_entries import entry
from office_trucks import OfficeTruck
from psycopg import errors, sql

from fieldbook.store.errors import BookError
from fieldbook.store.office.connection import connect_office
from fieldbook.store.office.push import insert_entries
from fieldbook.store.office.setup import make_hub
from fieldbook.store.office.turn_sql import SESSIONS

LIFTED = (
    "SET idle_in_transaction_session_timeout = 0; SET statement_timeout = 0; SET lock_timeout = 0"
)
FUNCTION = "SELECT pg_get_functiondef('fieldbook.one_after_another'::regproc)"


@pytest.fixture
def kept(server: str) -> Iterator[Office]:
    """A hub that a keeper without a superuser's rights made; its turns are shorter."""
    made = Office(server, keeper=f"keeper_{Office.new_name()}")
    shorten(made)
    yield made
    made.drop()


def shorten(office: Office) -> None:
    """Let laptops wait for 1 s, then 2 s, instead of more than a minute."""
    ((text,),) = office.ask(FUNCTION)
    assert "'{5,10,20,40}'" in str(text)
    office.ask(str(text).replace("'{5,10,20,40}'", "'{1,2}'"))


def take_the_turn(url: str, origin: str) -> psycopg.Connection:
    """A laptop that lifts its time-outs, adds an entry and commits nothing."""
    sleeper = psycopg.connect(url, autocommit=True)
    sleeper.execute(LIFTED)
    sleeper.execute("INSERT INTO fieldbook.laptop_origin (origin) VALUES (%s)", (origin,))
    sleeper.autocommit = False
    insert_entries(sleeper, [entry(origin=origin, op="name", value='"x"')])
    return sleeper


def test_a_laptop_that_sleeps_in_its_turn_is_cut_off_and_another_one_gets_it(
    kept: Office, tmp_path: Path
) -> None:
    sleeper = take_the_turn(kept.laptop(), "sleeper's")
    truck = OfficeTruck(kept, tmp_path, "AB")
    truck.add("12 Elm Street")
    with psycopg.connect(kept.url) as backup:
        # A backup that runs has this lock on every table, and is not taken for the sleeper.
        backup.execute("LOCK TABLE fieldbook.turn IN ACCESS SHARE MODE")
        assert truck.exchange().sent == 1
        backup.execute("SELECT 1")
    with pytest.raises(psycopg.OperationalError):
        sleeper.execute("SELECT 1")
    held = kept.ask("SELECT count(*) FROM fieldbook.entry WHERE origin = %s", "sleeper's")
    assert held == [(0,)]


def test_a_laptop_that_sleeps_over_derived_rows_is_cut_off_too(
    kept: Office, tmp_path: Path
) -> None:
    truck = OfficeTruck(kept, tmp_path, "AB")
    truck.add("12 Elm Street")
    assert truck.exchange().sent == 1
    sleeper = psycopg.connect(kept.laptop())
    sleeper.execute(LIFTED)
    made = (
        '{"rows":[],"conflicts":[],"facts":[],"line":{},"as_of":"2026-01-01","until":"2026-01-01"}'
    )
    ((job_id, digest),) = kept.ask("SELECT job_id, digest FROM fieldbook.job_state")
    put = "SELECT fieldbook.put_derived(%s, %s, %s)"
    assert sleeper.execute(put, (job_id, digest, made)).fetchall() == [(True,)]
    truck.add("14 Elm Street")
    assert truck.exchange().sent == 1
    with pytest.raises(psycopg.OperationalError):
        sleeper.execute("SELECT 1")
    assert kept.ask("SELECT FROM office.board WHERE NOT up_to_date") == []


def test_several_connections_that_sleep_in_turn_are_cut_off_too(
    kept: Office, tmp_path: Path
) -> None:
    url = kept.laptop()
    sleeper = take_the_turn(url, "sleeper's")
    queued = psycopg.connect(url)
    queued.execute(LIFTED)
    more = [entry(origin="sleeper's", seq=2, op="name", value='"y"')]
    asking = threading.Thread(target=lambda: insert_entries(queued, more))
    asking.start()
    # The second connection waits for its turn ahead of the other laptop.
    while not kept.ask("SELECT FROM pg_locks WHERE relation IS NOT NULL AND NOT granted"):
        pass
    truck = OfficeTruck(kept, tmp_path, "AB")
    truck.add("12 Elm Street")
    assert truck.exchange().sent == 1
    asking.join()
    truck.add("14 Elm Street")
    assert truck.exchange().sent == 1
    for connection in (sleeper, queued):
        with pytest.raises(psycopg.OperationalError):
            connection.execute("SELECT 1")


def test_a_turn_that_nobody_may_end_is_one_sentence_after_a_while(
    kept: Office, server: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("fieldbook.store.office.office_exchange._PAUSE_S", 0.0)
    truck = OfficeTruck(kept, tmp_path, "AB")
    truck.add("12 Elm Street")
    administrator = f"{server.rpartition('/')[0]}/{kept.name}"
    with psycopg.connect(administrator) as holder:
        holder.execute("LOCK TABLE fieldbook.turn IN EXCLUSIVE MODE")
        with pytest.raises(BookError, match="busy with another laptop's entries") as refused:
            truck.exchange()
        assert "\n" not in str(refused.value)
        holder.rollback()
    assert truck.exchange().sent == 1


@pytest.mark.parametrize(
    "statement",
    [
        "LOCK TABLE fieldbook.turn IN ACCESS SHARE MODE",
        "LOCK TABLE fieldbook.turn IN EXCLUSIVE MODE",
        "LOCK TABLE fieldbook.entry IN SHARE MODE",
        "SELECT FROM fieldbook.turn FOR UPDATE",
        "SELECT FROM fieldbook.entry FOR UPDATE",
        "ALTER ROLE CURRENT_USER CONNECTION LIMIT 90",
    ],
)
def test_a_laptop_takes_no_lock_by_itself(office: Office, statement: str) -> None:
    with pytest.raises(errors.InsufficientPrivilege):
        office.ask(f"BEGIN; {statement}", url=office.laptop())


def test_an_advisory_lock_of_a_laptop_hinders_nobody(office: Office, tmp_path: Path) -> None:
    truck = OfficeTruck(office, tmp_path, "AB")
    truck.add("12 Elm Street")
    with psycopg.connect(office.url) as connection:
        connection.execute("SELECT pg_advisory_lock(7305211, 1)")
        assert truck.exchange().sent == 1


def test_a_laptop_has_few_connections(office: Office) -> None:
    url = office.laptop()
    opened = [psycopg.connect(url) for _ in range(SESSIONS)]
    with pytest.raises(psycopg.OperationalError, match="too many connections for role"):
        psycopg.connect(url)
    for connection in opened:
        connection.close()


def test_an_older_hub_gets_turns_and_its_laptops_their_limits(
    office: Office, tmp_path: Path
) -> None:
    truck = OfficeTruck(office, tmp_path, "AB")
    truck.add("12 Elm Street")
    assert truck.exchange().sent == 1
    name = truck.url.partition("//")[2].partition(":")[0]
    office.ask(
        "CREATE OR REPLACE FUNCTION fieldbook.one_after_another() RETURNS trigger "
        "LANGUAGE plpgsql AS $$ BEGIN PERFORM pg_advisory_xact_lock(7305211, 1); RETURN NULL; "
        "END $$; DROP TABLE fieldbook.turn"
    )
    role = sql.Identifier(name)
    with psycopg.connect(office.url, autocommit=True) as connection:
        connection.execute(sql.SQL("ALTER ROLE {} CONNECTION LIMIT -1").format(role))
        on = sql.SQL("REVOKE CONNECT ON DATABASE {} FROM {}")
        connection.execute(on.format(sql.Identifier(office.name), role))
    with pytest.raises(BookError, match="does not let this laptop in"), connect_office(truck.url):
        pass
    make_hub(office.url)
    truck.add("14 Elm Street")
    assert truck.exchange().sent == 1
    limit = office.ask("SELECT rolconnlimit FROM pg_roles WHERE rolname = %s", name)
    assert limit == [(SESSIONS,)]
    assert "fieldbook.turn" in str(office.ask(FUNCTION))


def test_the_server_notices_soon_that_a_connection_is_dead(office: Office) -> None:
    # Otherwise a laptop whose signal comes and goes would soon have no connection left.
    with connect_office(office.laptop()) as connection:
        for name, wanted in (("tcp_keepalives_idle", "15"), ("idle_session_timeout", "10min")):
            assert connection.execute(f"SHOW {name}".encode()).fetchone() == (wanted,)
