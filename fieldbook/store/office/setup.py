"""What whoever keeps the office's database does: make the hub, add and remove laptops."""

from __future__ import annotations

import re
import secrets
from collections.abc import Iterator
from contextlib import contextmanager
from urllib.parse import quote, urlencode

from psycopg import sql

from fieldbook.store.errors import BookError
from fieldbook.store.office import merge_sql as row_state
from fieldbook.store.office import office_tables
from fieldbook.store.office import rows_sql as rows
from fieldbook.store.office.connection import (
    ConnectionLostError,
    OfficeConnection,
    connect_office,
    parse_address,
)
from fieldbook.store.office.office_tables import LAPTOPS, LAYOUT, READERS
from fieldbook.store.office.views import office_views

_NAME = re.compile(r"[a-z][a-z0-9_-]{0,39}")
_OLDEST_SERVER = 140_000
_KEEPERS_OWN = ("user", "password", "passfile", "options", "application_name", "sslcert", "sslkey")
_RESERVED = ("public", "none", LAPTOPS, READERS)
_IS_LAPTOP = f"""
SELECT FROM fieldbook.laptop WHERE name = %s
UNION ALL
SELECT FROM pg_auth_members m
JOIN pg_roles u ON u.oid = m.member JOIN pg_roles g ON g.oid = m.roleid
WHERE u.rolname = %s AND g.rolname = '{LAPTOPS}' AND u.rolname <> current_user
"""
_GROUP = """
DO $$ BEGIN
  CREATE ROLE {0} NOLOGIN;
EXCEPTION WHEN duplicate_object OR unique_violation THEN NULL;
END $$
"""


def make_hub(url: str) -> None:
    """Make the hub in a database, or complete it; run again it changes nothing more."""
    with _keeping(url) as line:
        _refuse_server(line)
        for group in (LAPTOPS, READERS):
            line.execute(_GROUP.format(group).encode())
        line.execute("CREATE SCHEMA IF NOT EXISTS fieldbook")
        line.execute("CREATE SCHEMA IF NOT EXISTS office")
        for script in (
            office_tables.CHECKS,
            office_tables.TABLES,
            rows.TABLES,
            row_state.FUNCTIONS,
            rows.FUNCTIONS,
            rows.TRIGGER,
            office_tables.guards(),
        ):
            line.execute(script.encode())
        _keep_layout(line)
        _make_views(line)


def add_laptop(url: str, name: str) -> str:
    """Let a laptop in, or give one that is in a new password; returns the password."""
    _refuse_name(name)
    with _keeping(url) as line:
        role, word = sql.Identifier(name), secrets.token_urlsafe(24)
        if _is_free(line, name):
            line.execute(sql.SQL("CREATE ROLE {}").format(role))
        # The server is told a hash, which its log may hold.
        kept = line.pgconn.encrypt_password(word.encode(), name.encode(), b"scram-sha-256")
        line.execute(
            sql.SQL("ALTER ROLE {} LOGIN INHERIT PASSWORD {}").format(
                role, sql.Literal(kept.decode())
            )
        )
        line.execute(sql.SQL("GRANT {} TO {}").format(sql.Identifier(LAPTOPS), role))
        _may_connect(line, "GRANT", "TO", role)
        line.execute(
            "INSERT INTO fieldbook.laptop (name) VALUES (%s) "
            "ON CONFLICT (name) DO UPDATE SET removed = NULL",
            (name,),
        )
    return word


def remove_laptop(url: str, name: str) -> None:
    """Let a laptop in no more, from this moment; what it entered stays."""
    with _keeping(url) as line:
        _refuse_stranger(line, name)
        role = sql.Identifier(name)
        line.execute(sql.SQL("ALTER ROLE {} NOLOGIN PASSWORD NULL").format(role))
        line.execute(sql.SQL("REVOKE {} FROM {}").format(sql.Identifier(LAPTOPS), role))
        _may_connect(line, "REVOKE", "FROM", role)
        line.execute("UPDATE fieldbook.laptop SET removed = now() WHERE name = %s", (name,))
    with connect_office(url) as line:
        line.execute(
            "SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE usename = %s", (name,)
        )


def let_send(url: str, origin: str, name: str) -> None:
    """Let another laptop too send what was written under an origin: its book was copied."""
    with _keeping(url) as line:
        _refuse_stranger(line, name)
        query = "SELECT FROM fieldbook.laptop_origin WHERE origin = %s"
        if line.execute(query, (origin,)).fetchone() is None:
            raise BookError("No laptop has that origin: take it from what the exchange said.")
        line.execute(
            "INSERT INTO fieldbook.also_sends (origin, laptop) VALUES (%s, %s) "
            "ON CONFLICT DO NOTHING",
            (origin, name),
        )


def laptop_url(url: str, name: str, word: str) -> str:
    """The address that a laptop uses: the administrator's, with the laptop's name and password."""
    parts = {key: str(part) for key, part in parse_address(url).items() if key not in _KEEPERS_OWN}
    database, place = quote(parts.pop("dbname", ""), safe=""), ""
    if not set("/,@") & set(parts.get("host", "/") + parts.get("port", "")):
        host = parts.pop("host")
        place = (f"[{host}]" if ":" in host else host) + f":{parts.pop('port', '5432')}"
    more = f"?{urlencode(parts, safe='/')}" if parts else ""
    return f"postgresql://{name}:{quote(word, safe='')}@{place}/{database}{more}"


@contextmanager
def _keeping(url: str) -> Iterator[OfficeConnection]:
    """One transaction at the office, whole or not at all; a failure is one sentence."""
    try:
        with connect_office(url) as line, line.transaction():
            yield line
    except ConnectionLostError as why:
        raise BookError(str(why)) from why


def _refuse_server(line: OfficeConnection) -> None:
    if line.info.server_version < _OLDEST_SERVER:
        raise BookError("The hub needs PostgreSQL 14 or newer: update the server first.")
    (encoding,) = line.execute("SHOW server_encoding").fetchone() or ("",)
    if encoding != "UTF8":
        raise BookError(f"The database holds text as {encoding}: make one WITH ENCODING 'UTF8'.")


def _keep_layout(line: OfficeConnection) -> None:
    line.execute(
        "INSERT INTO fieldbook.hub (layout) VALUES (%s) ON CONFLICT (one) DO NOTHING", (LAYOUT,)
    )
    line.execute("UPDATE fieldbook.hub SET layout = %s WHERE layout < %s", (LAYOUT, LAYOUT))
    _database(line, "REVOKE CONNECT, TEMPORARY ON DATABASE {} FROM PUBLIC")
    _database(line, f"GRANT CONNECT ON DATABASE {{}} TO {READERS}")


def _make_views(line: OfficeConnection) -> None:
    held: dict[str, list[str]] = {}
    for view, column in line.execute(
        "SELECT c.relname, a.attname FROM pg_class c JOIN pg_attribute a ON a.attrelid = c.oid "
        "WHERE c.relnamespace = 'office'::regnamespace AND a.attnum > 0 AND NOT a.attisdropped "
        "ORDER BY c.relname, a.attnum"
    ):
        held.setdefault(view, []).append(column)
    for view in office_views(held):
        line.execute(view.encode())
    line.execute(f"GRANT USAGE ON SCHEMA office TO {READERS}".encode())
    line.execute(f"GRANT SELECT ON ALL TABLES IN SCHEMA office TO {READERS}".encode())


def _may_connect(line: OfficeConnection, verb: str, way: str, role: sql.Identifier) -> None:
    (name,) = line.execute("SELECT current_database()").fetchone() or ("",)
    line.execute(
        sql.SQL("{} CONNECT ON DATABASE {} {} {}").format(
            sql.SQL(verb), sql.Identifier(name), sql.SQL(way), role
        )
    )


def _database(line: OfficeConnection, statement: str) -> None:
    """Run a statement that names this database."""
    (name,) = line.execute("SELECT current_database()").fetchone() or ("",)
    line.execute(sql.SQL(statement).format(sql.Identifier(name)))


def _refuse_name(name: str) -> None:
    if not _NAME.fullmatch(name) or name in _RESERVED or name.startswith("pg_"):
        raise BookError(
            "A laptop's name is small letters, digits, - and _, a letter first, such as truck-2."
        )


def _is_free(line: OfficeConnection, name: str) -> bool:
    """Whether there is no such role yet; one that is there for something else is refused."""
    if line.execute("SELECT FROM pg_roles WHERE rolname = %s", (name,)).fetchone() is None:
        return True
    if line.execute(_IS_LAPTOP.encode(), (name, name)).fetchone() is None:
        raise BookError(f"{name} is a role of the database already: name the laptop otherwise.")
    return False


def _refuse_stranger(line: OfficeConnection, name: str) -> None:
    found = line.execute("SELECT FROM fieldbook.laptop WHERE name = %s", (name,)).fetchone()
    if found is None:
        names = [row[0] for row in line.execute("SELECT name FROM fieldbook.laptop ORDER BY name")]
        raise BookError(f"The hub has no laptop {name!r}: it has {', '.join(names) or 'none yet'}.")
