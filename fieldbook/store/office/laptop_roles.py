"""What the server grants to the role of each laptop, and the limits that the role can't lift."""

from __future__ import annotations

from contextlib import suppress

from psycopg import errors, sql

from fieldbook.store.office.connection import OfficeConnection
from fieldbook.store.office.office_tables import LAPTOPS
from fieldbook.store.office.turn_sql import SESSIONS

# A backup of the database alone has the list of laptops, but neither their roles nor who is a
# member of which. A role of that name that is in no group may be somebody else's.
_LET_IN = f"""
SELECT l.name FROM fieldbook.laptop l
JOIN pg_roles u ON u.rolname = l.name
JOIN pg_auth_members m ON m.member = u.oid
JOIN pg_roles g ON g.oid = m.roleid AND g.rolname = '{LAPTOPS}'
WHERE l.removed IS NULL GROUP BY l.name ORDER BY l.name
"""
_OPEN = f"""
SELECT datname FROM pg_database
WHERE datallowconn AND datname <> current_database()
  AND has_database_privilege('{LAPTOPS}', oid, 'CONNECT')
ORDER BY datname
"""
_IS_SUPERUSER = "SELECT rolsuper FROM pg_roles WHERE rolname = current_user"


def laptops_let_in(connection: OfficeConnection) -> list[str]:
    """The names of the laptops that are let in and have a role on this server."""
    return [str(row[0]) for row in connection.execute(_LET_IN.encode())]


def grant_rights(connection: OfficeConnection, name: str) -> None:
    """Let a laptop's role connect, a few times at once; run again it changes nothing.

    A role can't lift its own CONNECTION LIMIT, as it can every time-out.
    """
    role = sql.Identifier(name)
    on_database(connection, "GRANT CONNECT ON DATABASE {} TO {}", role)
    # From PostgreSQL 16 on a keeper who did not make the role, as after a restore, has no right to.
    with suppress(errors.InsufficientPrivilege), connection.transaction():
        limit = sql.SQL("ALTER ROLE {} CONNECTION LIMIT {}")
        connection.execute(limit.format(role, sql.Literal(SESSIONS)))
        if is_superuser(connection):
            # Of all limits of a session, only those that a superuser sets for it can't be lifted.
            on_database(
                connection, "ALTER ROLE {1} IN DATABASE {0} SET temp_file_limit = '1GB'", role
            )
        else:
            # Only a member of a role may end its sessions: that of a laptop that keeps the turn.
            connection.execute(sql.SQL("GRANT {} TO CURRENT_USER").format(role))


def open_databases(connection: OfficeConnection) -> list[str]:
    """The other databases of the server to which laptops may connect, by name."""
    return [str(row[0]) for row in connection.execute(_OPEN.encode())]


def close_databases(connection: OfficeConnection) -> None:
    """Let only their owners, and roles that have the right by name, into the other databases."""
    for name in open_databases(connection):
        closing = sql.SQL("REVOKE CONNECT, TEMPORARY ON DATABASE {} FROM PUBLIC")
        connection.execute(closing.format(sql.Identifier(name)))


def is_superuser(connection: OfficeConnection) -> bool:
    """Whether the connected role is a superuser."""
    return connection.execute(_IS_SUPERUSER).fetchone() == (True,)


def on_database(connection: OfficeConnection, statement: str, *roles: sql.Identifier) -> None:
    """Run a statement on the database that is connected: its first {} is the database's name."""
    (name,) = connection.execute("SELECT current_database()").fetchone() or ("",)
    connection.execute(sql.SQL(statement).format(sql.Identifier(name), *roles))
