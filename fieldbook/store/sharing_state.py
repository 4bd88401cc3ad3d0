"""Where entries were exchanged: files that were read or written, the folder used last."""

from __future__ import annotations

from sqlalchemy import Connection

from fieldbook.records.base import now

_FOLDER = "folder:"


def keep_file(connection: Connection, name: str, upto: int = 0) -> None:
    """Remember a file of entries that was read whole, or written up to an entry's number."""
    query = "INSERT OR IGNORE INTO exchange_file (name, upto) VALUES (?, ?)"
    connection.exec_driver_sql(query, (name, upto))


def files_read(connection: Connection) -> dict[str, int]:
    """The files of entries that were read whole, or written up to an entry's number."""
    rows = connection.exec_driver_sql("SELECT name, upto FROM exchange_file")
    return {str(row[0]): int(row[1]) for row in rows}


def keep_place(connection: Connection, place: str) -> None:
    """Remember a folder that entries were exchanged through, now."""
    connection.exec_driver_sql(
        "INSERT INTO exchange_place (id, got, got_id, at) VALUES (?, 0, '', ?) "
        "ON CONFLICT (id) DO UPDATE SET at = excluded.at",
        (f"{_FOLDER}{place}", now()),
    )


def last_place(connection: Connection) -> str:
    """The folder used last, or nothing."""
    query = "SELECT id FROM exchange_place WHERE id LIKE ? ORDER BY at DESC LIMIT 1"
    found = connection.exec_driver_sql(query, (f"{_FOLDER}%",)).scalar()
    return str(found or "").removeprefix(_FOLDER)
