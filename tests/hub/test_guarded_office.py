"""What a laptop may do at the office, and what nobody may, tried with SQL of its own."""

from __future__ import annotations

import subprocess

import psycopg
import pytest
from an_office import Office
from made_entries import entry
from psycopg import errors, sql

from fieldbook.store.errors import BookError
from fieldbook.store.journal.entry import Entry
from fieldbook.store.office.connection import connect_office
from fieldbook.store.office.push import insert_entries
from fieldbook.store.office.setup import add_laptop, laptop_url, let_send, make_hub, remove_laptop


def an_entry(origin: str, seq: int = 1) -> Entry:
    prev = an_entry(origin, seq - 1).id if seq > 1 else ""
    return entry(origin=origin, seq=seq, prev=prev, op="name", value='"x"')


def claim(office: Office, url: str, origin: str) -> None:
    office.ask("INSERT INTO fieldbook.laptop_origin (origin) VALUES (%s)", origin, url=url)


@pytest.fixture(scope="module")
def laptops(office: Office) -> tuple[str, str]:
    one, two = office.laptop(), office.laptop()
    claim(office, one, "one")
    claim(office, two, "two")
    for url, origin in ((one, "one"), (two, "two")):
        with connect_office(url) as connection:
            insert_entries(connection, [an_entry(origin)])
    return one, two


def test_a_laptop_reads_everything_and_adds_only_its_own(
    office: Office, laptops: tuple[str, str]
) -> None:
    one, _ = laptops
    assert len(office.ask("SELECT id FROM fieldbook.entry", url=one)) == 2
    with psycopg.connect(one, autocommit=True) as connection:
        for origin in ("two", "unclaimed"):
            with pytest.raises(errors.InsufficientPrivilege, match="row-level security"):
                insert_entries(connection, [an_entry(origin, 2)])
        connection.execute("SET ROLE fieldbook_laptop")
        with pytest.raises(errors.InsufficientPrivilege, match="row-level security"):
            insert_entries(connection, [an_entry("two", 3)])
        assert insert_entries(connection, [an_entry("one", 2)]).count == 1


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE fieldbook.entry SET who = 'X'",
        "DELETE FROM fieldbook.entry",
        "TRUNCATE fieldbook.entry",
        "INSERT INTO fieldbook.entry (n, id) OVERRIDING SYSTEM VALUE VALUES (1, 'x')",
        "INSERT INTO fieldbook.entry (id, pushed_by) VALUES ('x', 'two')",
        "UPDATE fieldbook.laptop_origin SET laptop = session_user",
        "DELETE FROM fieldbook.laptop_origin",
        "TRUNCATE fieldbook.laptop_origin",
        "INSERT INTO fieldbook.laptop_origin (origin, laptop) VALUES ('three', 'two')",
        "INSERT INTO fieldbook.file (sha256, laptop, size) VALUES ('x', 'two', 0)",
        "DELETE FROM fieldbook.file",
        "UPDATE fieldbook.file_part SET content = ''",
        "DELETE FROM fieldbook.row",
        "UPDATE fieldbook.row SET cells = '{}'",
        "INSERT INTO fieldbook.board_line (job_id, line, made_from) VALUES ('x', '{}', 1)",
        "UPDATE fieldbook.board_line SET made_by = 'two'",
        "DELETE FROM fieldbook.board_line",
        "UPDATE fieldbook.job_state SET digest = ''",
        "DELETE FROM fieldbook.derived",
        "DELETE FROM fieldbook.conflict",
        "DELETE FROM fieldbook.shared_row",
        "SELECT * FROM fieldbook.laptop",
        "SELECT * FROM office.job",
        "SELECT fieldbook.count_job('x')",
        "SELECT fieldbook.entries_of('x')",
        "SELECT rolpassword FROM pg_authid",
        "ALTER TABLE fieldbook.entry DISABLE TRIGGER ALL",
        "DROP TRIGGER kept ON fieldbook.entry",
        "ALTER TABLE fieldbook.entry DISABLE ROW LEVEL SECURITY",
        "CREATE TABLE fieldbook.mine (a int)",
        "CREATE TEMPORARY TABLE mine (a int)",
        "SET session_replication_role = replica",
        "SET temp_file_limit = -1",
        "SELECT lo_create(0)",
        "SELECT lo_from_bytea(0, 'x')",
        "SELECT pg_advisory_lock(7305211, 1)",
        "SELECT pg_try_advisory_xact_lock_shared(1)",
        "SELECT pg_logical_emit_message(false, 'x', 'y')",
        "UPDATE fieldbook.laptop SET daily_mb = 9000",
        "SELECT fieldbook.count_sent(-1)",
        "CREATE ROLE friend",
        "SELECT setval(pg_get_serial_sequence('fieldbook.entry', 'n'), 1)",
    ],
)
def test_a_laptop_can_do_no_more(office: Office, laptops: tuple[str, str], statement: str) -> None:
    with pytest.raises(errors.InsufficientPrivilege):
        office.ask(statement, url=laptops[0])


def test_an_origin_belongs_to_who_claimed_it_first(
    office: Office, laptops: tuple[str, str]
) -> None:
    with pytest.raises(errors.UniqueViolation):
        claim(office, laptops[1], "one")


def test_the_reader_reads_the_views_and_nothing_else(office: Office) -> None:
    name = f"reader_{office.name}"
    with psycopg.connect(office.url, autocommit=True) as connection:
        role = sql.Identifier(name)
        connection.execute(
            sql.SQL("CREATE ROLE {} LOGIN PASSWORD 'w' IN ROLE fieldbook_office").format(role)
        )
    url = laptop_url(office.url, name, "w")
    for view in ("job", "terminal", "conflict", "history", "board", "flag", "due", "laptop"):
        office.ask(f"SELECT * FROM office.{view}", url=url)
    for statement, refusal in (
        ("SELECT * FROM fieldbook.entry", errors.InsufficientPrivilege),
        ("SELECT * FROM fieldbook.board_line", errors.InsufficientPrivilege),
        ("SELECT fieldbook.put_derived('x', 'x', '{}')", errors.InsufficientPrivilege),
        # A view on more than one table is not for writing, whoever asks.
        ("DELETE FROM office.job", errors.ObjectNotInPrerequisiteState),
    ):
        with pytest.raises(refusal):
            office.ask(statement, url=url)
    with psycopg.connect(office.url, autocommit=True) as connection:
        connection.execute(sql.SQL("DROP OWNED BY {}; DROP ROLE {}").format(role, role))


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE fieldbook.entry SET who = 'X'",
        "DELETE FROM fieldbook.entry WHERE n = 1",
        "TRUNCATE fieldbook.entry CASCADE",
        "DELETE FROM fieldbook.file",
        "UPDATE fieldbook.file_part SET no = 1",
    ],
)
def test_the_owner_cannot_change_an_entry_either(
    office: Office, laptops: tuple[str, str], statement: str
) -> None:
    with pytest.raises(errors.InsufficientPrivilege, match="is never changed or deleted"):
        office.ask(statement)


def test_an_entry_with_a_wrong_id_is_refused_from_the_owner_too(office: Office) -> None:
    with pytest.raises(errors.CheckViolation, match="as_it_was_sealed"):
        office.ask(
            "INSERT INTO fieldbook.entry (id, origin, seq, prev, clock, wall, who, act, kind, "
            'target, what, job_id, "table", row_id, op, value, parents, format) SELECT '
            "md5(id), origin, seq, prev, clock, wall, 'X', act, kind, target, what, job_id, "
            '"table", row_id, op, value, parents, format FROM fieldbook.entry'
        )


def test_entries_are_added_one_after_another(office: Office, laptops: tuple[str, str]) -> None:
    one, two = laptops
    with psycopg.connect(one) as first, psycopg.connect(two) as second:
        insert_entries(first, [an_entry("one", 7)])
        second.execute("SET statement_timeout = '100ms'")
        with pytest.raises(errors.QueryCanceled):
            insert_entries(second, [an_entry("two", 7)])
        first.rollback()
        second.rollback()
        second.isolation_level = psycopg.IsolationLevel.REPEATABLE_READ
        with pytest.raises(errors.RaiseException, match="READ COMMITTED"):
            insert_entries(second, [an_entry("two", 7)])


def dump(office: Office) -> str:
    ran = subprocess.run(
        ["pg_dump", "--schema-only", office.url], capture_output=True, text=True, check=True
    )
    return "\n".join(line for line in ran.stdout.splitlines() if "restrict" not in line)


def test_making_the_hub_again_changes_nothing(office: Office) -> None:
    before = dump(office), office.ask("SELECT * FROM fieldbook.hub")
    make_hub(office.url)
    assert (dump(office), office.ask("SELECT * FROM fieldbook.hub")) == before


def test_a_new_column_is_added_to_its_view_and_a_newer_view_stays(office: Office) -> None:
    columns = (
        "SELECT attname FROM pg_attribute WHERE attrelid = 'office.note'::regclass "
        "AND attnum > 0 ORDER BY attnum"
    )
    whole = {row[0] for row in office.ask(columns)}
    office.ask("DROP VIEW office.note; CREATE VIEW office.note AS SELECT ''::text AS place")
    office.ask("CREATE VIEW office.built_on_it AS SELECT place FROM office.note")
    make_hub(office.url)
    assert {row[0] for row in office.ask(columns)} == whole
    assert office.ask(columns)[0] == ("place",)
    office.ask("DROP VIEW office.built_on_it; DROP VIEW office.note")
    office.ask("CREATE VIEW office.note AS SELECT ''::text AS not_known_yet")
    make_hub(office.url)
    assert office.ask(columns) == [("not_known_yet",)]
    office.ask("DROP VIEW office.note")
    make_hub(office.url)


@pytest.mark.parametrize(
    "name",
    ["", "Truck", 'a"; DROP ROLE x', "fieldbook_laptop", "pg_monitor", "public", "a" * 41],
)
def test_a_laptop_s_name_is_plain(office: Office, name: str) -> None:
    with pytest.raises(BookError, match="small letters"):
        add_laptop(office.url, name)


def test_a_laptop_gets_a_new_password_is_removed_and_another_sends_for_it(office: Office) -> None:
    name = f"truck-{office.name[-6:]}"
    old = office.laptop(name)
    claim(office, old, "mine")
    new = office.laptop(name)
    assert office.ask("SELECT session_user", url=new) == [(name,)]
    with pytest.raises(BookError, match="does not let this laptop in"), connect_office(old):
        pass
    with psycopg.connect(new, autocommit=True) as connection:
        remove_laptop(office.url, name)
        with pytest.raises(psycopg.OperationalError):
            connection.execute("SELECT 1")
    with pytest.raises(BookError, match="does not let this laptop in"), connect_office(new):
        pass
    other = office.laptop(f"{name}b")
    let_send(office.url, "mine", f"{name}b")
    with connect_office(other) as connection:
        assert insert_entries(connection, [an_entry("mine")]).count == 1
    with pytest.raises(BookError, match="No laptop has that origin"):
        let_send(office.url, "nobody's", name)
    for act in (remove_laptop, lambda url, who: let_send(url, "mine", who)):
        with pytest.raises(BookError, match="has no laptop 'nobody'"):
            act(office.url, "nobody")
    assert office.ask("SELECT session_user", url=office.laptop(name)) == [(name,)]


def test_a_role_of_somebody_else_is_left_alone(office: Office) -> None:
    name = f"clerk_{office.name[-6:]}"
    office.ask(f"CREATE ROLE {name}")
    with pytest.raises(BookError, match=r"has a role .* already"):
        add_laptop(office.url, name)
    office.ask(f"DROP ROLE {name}")


def test_the_keeper_need_not_be_a_superuser(server: str) -> None:
    keeper = f"keeper_{Office.new_name()}"
    office = Office(server, keeper=keeper)
    try:
        url = office.laptop()
        claim(office, url, "o")
        with connect_office(url) as connection:
            job = entry(table="job", row_id="j", value='{"address":"12 Elm Street"}')
            assert insert_entries(connection, [job]).count == 1
        assert office.ask("SELECT id, address FROM office.job") == [("j", "12 Elm Street")]
        with pytest.raises(errors.InsufficientPrivilege, match="is never changed or deleted"):
            office.ask("DELETE FROM fieldbook.entry")
        ran = subprocess.run(["pg_dump", office.url], capture_output=True, text=True, check=False)
        assert (ran.returncode, "12 Elm Street" in ran.stdout) == (0, True), ran.stderr
        make_hub(office.url)
    finally:
        office.drop()
