"""The table of board rows, and the triggers that keep one row for each property on the board.

A change of a job deletes its board row in the same transaction (`journal/triggers.py`), and a
trigger here puts a blank row in its place. So a stored row is never older than the record, and a
property is never missing from the board, even if the disk is full before the row is worked out.
"""

from __future__ import annotations

from typing import ClassVar

from sqlalchemy import Connection, Index
from sqlmodel import Field, SQLModel

from fieldbook.records.base import table_of

# A blank row shows only what the job's own row says. lower() in SQLite knows only ASCII, which does
# until the row is worked out in Python.
_BLANK = (
    "INSERT OR IGNORE INTO board_line (id, job_id, sort_key, sought, until, told) "
    "SELECT {number}, id, lower(address), lower(address || ' ' || customer), '', "
    "json_object('job_id', id, 'address', address, 'customer', customer, "
    "'phone', phone, 'access', access) FROM job WHERE {which} AND off_board IS NOT 1"
)


class BoardLine(SQLModel, table=True):
    """The board row of a job.

    `told` is what the board shows, as JSON. It holds up to and with the day `until`; "" marks a row
    that has yet to be worked out. `places` and `runs_out` (as in `StoredRow`) are columns of their
    own, so that a fieldbook that does not know them can still read `told`. Rows are in the order of
    `sort_key`. `sought` is the text in which a part of a word is found. The full-text table stores
    the job's texts under this row's `id`, which is why SQLite must never give an `id` to a second
    job (autoincrement).
    """

    __tablename__ = "board_line"
    __table_args__: ClassVar[tuple[object, ...]] = (
        # With `sought` in it, a search reads this index alone.
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
    places: str | None = None
    runs_out: str | None = None


def make_board(connection: Connection) -> None:
    """Make the table anew with a blank row for each property, and its triggers."""
    connection.exec_driver_sql("DROP TABLE IF EXISTS board_line")
    table_of(BoardLine).create(connection)
    # The count of properties, and the newest of them, are read from this index alone.
    connection.exec_driver_sql(
        "CREATE INDEX IF NOT EXISTS job_on_board ON job (id) WHERE off_board IS NOT 1"
    )
    of_new_job = _BLANK.format(number="NULL", which="id = NEW.id")
    of_deleted_row = _BLANK.format(number="OLD.id", which="id = OLD.job_id")
    for name, event, statement in (
        ("board_job_insert", "INSERT ON job", of_new_job),
        ("board_job_back", "UPDATE OF off_board ON job", of_new_job),
        ("board_line_again", "DELETE ON board_line", of_deleted_row),
    ):
        connection.exec_driver_sql(f"DROP TRIGGER IF EXISTS {name}")
        connection.exec_driver_sql(f"CREATE TRIGGER {name} AFTER {event} BEGIN {statement}; END")
    add_missing_rows(connection)


def add_missing_rows(connection: Connection) -> None:
    """Add a blank row for each property on the board that has none."""
    connection.exec_driver_sql(_BLANK.format(number="NULL", which="1"))
