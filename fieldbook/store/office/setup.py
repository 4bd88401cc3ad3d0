"""What the keeper of the office's database does: make the hub, let laptops in and shut them out."""

from __future__ import annotations

import re
import secrets
from collections.abc import Iterator
from contextlib import contextmanager
from textwrap import shorten
from urllib.parse import quote, urlencode

from psycopg import sql

from fieldbook.store.errors import BookError
from fieldbook.store.office import door_sql, office_tables, turn_sql
from fieldbook.store.office.connection import (
    ConnectionLostError,
    OfficeConnection,
    connect_office,
    parse_address,
)
from fieldbook.store.office.derived import derived_sql
from fieldbook.store.office.laptop_roles import (
    close_databases,
    grant_rights,
    is_superuser,
    laptops_let_in,
    on_database,
    open_databases,
)
from fieldbook.store.office.office_tables import LAPTOPS, LAYOUT, READERS
from fieldbook.store.office.sealed import seals_sql
from fieldbook.store.office.sealed.shut_out import distrust_keys, trust_again
from fieldbook.store.office.views import office_views

_NAME = re.compile(r"[a-z][a-z0-9_-]{0,39}")
_OLDEST_SERVER = 140_000
_KEEPERS_OWN = ("user", "password", "passfile", "options", "application_name", "sslcert", "sslkey")
"""Parts of the keeper's address that no laptop's address gets."""
_RESERVED = ("public", "none", LAPTOPS, READERS)
# Either it is in the list of laptops, or in the group of laptops of a database that was restored.
_IS_LAPTOP = f"""
SELECT FROM fieldbook.laptop WHERE name = %s
UNION ALL
SELECT FROM pg_auth_members m
JOIN pg_roles u ON u.oid = m.member JOIN pg_roles g ON g.oid = m.roleid
WHERE u.rolname = %s AND g.rolname = '{LAPTOPS}' AND u.rolname <> current_user
"""
# Roles belong to the whole server, so another hub on it may have made the group already.
_GROUP = """
DO $$ BEGIN
  CREATE ROLE {0} NOLOGIN;
EXCEPTION WHEN duplicate_object OR unique_violation THEN NULL;
END $$
"""
_ORIGIN = "SELECT FROM fieldbook.laptop_origin WHERE origin = %s"
# What a laptop worked out that may have been stolen is not up to date until it is made anew.
_DISOWN = "UPDATE fieldbook.board_line SET digest = '' WHERE made_by = %s"
_VIEW_COLUMNS = """
SELECT c.relname, a.attname FROM pg_class c JOIN pg_attribute a ON a.attrelid = c.oid
WHERE c.relnamespace = 'office'::regnamespace AND a.attnum > 0 AND NOT a.attisdropped
ORDER BY c.relname, a.attnum
"""


def make_hub(url: str, *, alone: bool = False) -> list[str]:
    """Make the hub in a database or bring it up to date, in one transaction. Raises BookError.

    Returns the server's other databases that laptops may connect to. With `alone` the server is the
    hub's alone, and its other databases are closed to laptops.
    """
    with _transaction(url) as connection:
        _check_server(connection)
        for group in (LAPTOPS, READERS):
            connection.execute(_GROUP.format(group).encode())
        for script in (
            "CREATE SCHEMA IF NOT EXISTS fieldbook",
            "CREATE SCHEMA IF NOT EXISTS office",
            office_tables.CHECKS,
            turn_sql.TURN,
            office_tables.TABLES,
            derived_sql.TABLES,
            derived_sql.LEFT_BEHIND,
            derived_sql.FUNCTIONS,
            derived_sql.COUNT_ALL,
            door_sql.DOOR,
            seals_sql.TABLES,
            office_tables.GUARDS,
            derived_sql.TRIGGERS_AND_RIGHTS,
            seals_sql.TRIGGERS_AND_RIGHTS,
        ):
            connection.execute(script.encode())
        _write_layout(connection)
        _make_views(connection)
        for name in laptops_let_in(connection):
            grant_rights(connection, name)
        if is_superuser(connection):
            connection.execute(door_sql.NO_SIDE_DOORS.encode())
        if alone:
            close_databases(connection)
        return open_databases(connection)


def add_laptop(url: str, name: str) -> str:
    """Let a laptop in, or give it a new password; returns the password. Raises BookError."""
    if not _NAME.fullmatch(name) or name in _RESERVED or name.startswith("pg_"):
        raise BookError(
            "A laptop's name has small letters, digits, - and _, a letter first: such as truck-2."
        )
    with _transaction(url) as connection:
        role, password = sql.Identifier(name), secrets.token_urlsafe(24)
        if _is_unused(connection, name):
            connection.execute(sql.SQL("CREATE ROLE {}").format(role))
        # Only a hash is sent, because the server may write statements to its log.
        hashed = connection.pgconn.encrypt_password(
            password.encode(), name.encode(), b"scram-sha-256"
        )
        login = sql.SQL("ALTER ROLE {} LOGIN INHERIT PASSWORD {}")
        connection.execute(login.format(role, sql.Literal(hashed.decode())))
        connection.execute(sql.SQL("GRANT {} TO {}").format(sql.Identifier(LAPTOPS), role))
        grant_rights(connection, name)
        connection.execute(
            "INSERT INTO fieldbook.laptop (name) VALUES (%s) "
            "ON CONFLICT (name) DO UPDATE SET removed = NULL",
            (name,),
        )
        trust_again(connection, name)
    return password


def remove_laptop(url: str, name: str) -> int:
    """Shut a laptop out at once, and distrust its keys; the entries that it sent stay.

    Returns how many keys. The other laptops learn of them with their next exchange. Raises
    BookError.
    """
    with _transaction(url) as connection:
        _check_laptop(connection, name)
        role = sql.Identifier(name)
        connection.execute(sql.SQL("ALTER ROLE {} NOLOGIN PASSWORD NULL").format(role))
        connection.execute(sql.SQL("REVOKE {} FROM {}").format(sql.Identifier(LAPTOPS), role))
        on_database(connection, "REVOKE CONNECT ON DATABASE {} FROM {}", role)
        connection.execute("UPDATE fieldbook.laptop SET removed = now() WHERE name = %s", (name,))
    # After the commit, or the laptop could connect again in between.
    with _transaction(url) as connection:
        connection.execute(
            "SELECT pg_terminate_backend(pid, 5000) FROM pg_stat_activity WHERE usename = %s",
            (name,),
        )
        # Only now: a session that slept over derived rows would have kept this waiting.
        connection.execute(_DISOWN, (name,))
        return distrust_keys(connection, name)


def let_send(url: str, origin: str, name: str) -> None:
    """Let another laptop send an origin's entries too: its book was copied. Raises BookError."""
    with _transaction(url) as connection:
        _check_laptop(connection, name)
        if connection.execute(_ORIGIN, (origin,)).fetchone() is None:
            raise BookError("No laptop has that origin: copy it from what the exchange printed.")
        connection.execute(
            "INSERT INTO fieldbook.also_sends (origin, laptop) VALUES (%s, %s) "
            "ON CONFLICT DO NOTHING",
            (origin, name),
        )


def laptop_url(url: str, name: str, password: str) -> str:
    """The address for a laptop: the keeper's, with the name and password of the laptop."""
    parts = {key: str(part) for key, part in parse_address(url).items() if key not in _KEEPERS_OWN}
    database, place = quote(parts.pop("dbname", ""), safe=""), ""
    # A socket's folder, or several hosts, cannot stand before the database: they stay parameters.
    if not set("/,@") & set(parts.get("host", "/") + parts.get("port", "")):
        host = parts.pop("host")
        place = (f"[{host}]" if ":" in host else host) + f":{parts.pop('port', '5432')}"
    parameters = f"?{urlencode(parts, safe='/')}" if parts else ""
    return f"postgresql://{name}:{quote(password, safe='')}@{place}/{database}{parameters}"


@contextmanager
def _transaction(url: str) -> Iterator[OfficeConnection]:
    """A connection in one transaction. Raises BookError for whatever fails."""
    try:
        with connect_office(url) as connection, connection.transaction():
            yield connection
    except ConnectionLostError as why:
        raise BookError(str(why)) from why


def _check_server(connection: OfficeConnection) -> None:
    if connection.info.server_version < _OLDEST_SERVER:
        raise BookError("The hub needs PostgreSQL 14 or newer: update the server first.")
    (encoding,) = connection.execute("SHOW server_encoding").fetchone() or ("",)
    if encoding != "UTF8":
        raise BookError(
            f"The database holds text as {encoding}: create another one WITH ENCODING 'UTF8'."
        )


def _write_layout(connection: OfficeConnection) -> None:
    connection.execute(
        "INSERT INTO fieldbook.hub (layout) VALUES (%s) ON CONFLICT (one) DO NOTHING", (LAYOUT,)
    )
    connection.execute("UPDATE fieldbook.hub SET layout = %s WHERE layout < %s", (LAYOUT, LAYOUT))
    on_database(connection, "REVOKE CONNECT, TEMPORARY ON DATABASE {} FROM PUBLIC")
    on_database(connection, "GRANT CONNECT ON DATABASE {} TO {}", sql.Identifier(READERS))


def _make_views(connection: OfficeConnection) -> None:
    existing: dict[str, list[str]] = {}
    for view, column in connection.execute(_VIEW_COLUMNS):
        existing.setdefault(view, []).append(column)
    for statement in office_views(existing):
        connection.execute(statement.encode())
    connection.execute(f"GRANT USAGE ON SCHEMA office TO {READERS}".encode())
    connection.execute(f"GRANT SELECT ON ALL TABLES IN SCHEMA office TO {READERS}".encode())


def _is_unused(connection: OfficeConnection, name: str) -> bool:
    """Whether there is no role of this name. Raises BookError if there is and it is no laptop."""
    role = connection.execute("SELECT FROM pg_roles WHERE rolname = %s", (name,)).fetchone()
    if role is None:
        return True
    if connection.execute(_IS_LAPTOP.encode(), (name, name)).fetchone() is None:
        raise BookError(f"The database has a role {name} already: give the laptop another name.")
    return False


def _check_laptop(connection: OfficeConnection, name: str) -> None:
    rows = connection.execute("SELECT name FROM fieldbook.laptop ORDER BY name").fetchall()
    names = [str(row[0]) for row in rows]
    if name not in names:
        listed = shorten(", ".join(names), 100, placeholder=" ...") or "none yet"
        raise BookError(f"The hub has no laptop {name!r}: it has {listed}.")
