"""What is only ever added to: no writer changes or deletes a signature, or a journal's entry."""

from __future__ import annotations

from sqlalchemy import Connection

GUARDED = {
    "sign_off": "a sign-off stays as it was signed",
    "journal": "the journal stays as it was sealed",
}
"""By table, the sentence for a writer that would change it."""


def guard(connection: Connection, table: str) -> None:
    """Make the triggers that refuse a change of this table, where they are not there."""
    for verb in ("UPDATE", "DELETE"):
        connection.exec_driver_sql(
            f"CREATE TRIGGER IF NOT EXISTS {table}_no_{verb.lower()} BEFORE {verb} ON {table} "
            f"BEGIN SELECT RAISE(ABORT, '{GUARDED[table]}'); END"
        )


def unguard(connection: Connection, table: str) -> None:
    """Take the triggers away, for as long as this transaction needs."""
    for verb in ("update", "delete"):
        connection.exec_driver_sql(f"DROP TRIGGER IF EXISTS {table}_no_{verb}")
