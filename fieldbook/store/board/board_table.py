"""The table of the board's lines: a row a property, kept in step with the record by triggers.

Lines are made from the record and may be thrown away. Each entry on a job marks its line untrue in
the entry's own transaction, so a line never tells more than the book holds, and none is missing
though the disk is full.
"""

from __future__ import annotations

from typing import ClassVar

from sqlalchemy import Connection, Index
from sqlmodel import Field, SQLModel

from fieldbook.records.base import table_of

_TOLD = (
    "json_object('job_id', id, 'address', address, 'customer', customer, "
    "'phone', phone, 'access', access)"
)
_ROW = (
    "INSERT OR IGNORE INTO board_line (id, job_id, sort_key, sought, until, told) "
    "SELECT {number}, id, lower(address), lower(address || ' ' || customer), '', "
    f"{_TOLD} FROM job WHERE {{which}} AND off_board IS NOT 1"
)
"""A line that tells only what the job's own row does. SQLite lowers ASCII only: it will do until
the line is made."""


def make_board(connection: Connection) -> None:
    """Make the lines anew, none of them told yet, and the triggers that keep them in step."""
    connection.exec_driver_sql("DROP TABLE IF EXISTS board_line")
    table_of(BoardLine).create(connection)
    # Counting the properties, and naming the newest, reads this and no row of a job.
    connection.exec_driver_sql(
        "CREATE INDEX IF NOT EXISTS job_on_board ON job (id) WHERE off_board IS NOT 1"
    )
    added, changed = (_ROW.format(number="NULL", which="id = NEW.id") for _ in range(2))
    again = _ROW.format(number="OLD.id", which="id = OLD.job_id")
    for name, when, then in (
        ("board_job_insert", "INSERT ON job", added),
        ("board_job_back", "UPDATE OF off_board ON job", changed),
        # What an entry makes untrue is deleted; a property that is still on the board keeps a line.
        ("board_line_again", "DELETE ON board_line", again),
    ):
        connection.exec_driver_sql(f"DROP TRIGGER IF EXISTS {name}")
        connection.exec_driver_sql(f"CREATE TRIGGER {name} AFTER {when} BEGIN {then}; END")
    add_missing_rows(connection)


def add_missing_rows(connection: Connection) -> None:
    """Give every property on the board that has no line one."""
    connection.exec_driver_sql(_ROW.format(number="NULL", which="1"))


class BoardLine(SQLModel, table=True):
    """A job's line on the board: every property on the board has one, told or not.

    `told` is the line as JSON, true up to and with the day `until`; empty: it is to be made anew.
    Lines are in the order of `sort_key`. `sought` is what is looked through for parts of words; the
    row number is also that of the job's texts, so it is never given to another job.
    """

    __tablename__ = "board_line"
    __table_args__: ClassVar[tuple[object, ...]] = (
        # With `sought` in it, finding reads this index alone.
        Index("board_line_order", "sort_key", "job_id", "sought"),
        Index("board_line_until", "until"),
        {"sqlite_autoincrement": True},
    )

    id: int | None = Field(default=None, primary_key=True)
    job_id: str = Field(default="", unique=True)
    sort_key: str = ""
    sought: str = ""
    until: str = ""
    told: str = ""
