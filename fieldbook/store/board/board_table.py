"""The table of board rows, and the triggers that keep one row for each property on the board.

A change of a job deletes its board row in the same transaction (`journal/triggers.py`), and a
trigger here puts a blank row in its place. So a stored row is never older than the record, and a
property is never missing from the board, even if the disk is full before the row is worked out.
"""

from __future__ import annotations

from fieldbook.store.sqlite.book_connection import Connection

# A blank row shows only what the job's own row says. lower() in SQLite knows only ASCII, which does
# until the row is worked out in Python.
_BLANK = (
    "INSERT OR IGNORE INTO board_line (id, job_id, sort_key, sought, until, told) "
    "SELECT {number}, id, lower(address), lower(address || ' ' || customer), '', "
    "json_object('job_id', id, 'address', address, 'customer', customer, "
    "'phone', phone, 'access', access) FROM job WHERE {which} AND off_board IS NOT 1"
)


def make_board(connection: Connection) -> None:
    """Make the triggers of the table, which is new, and a blank row for each property."""
    # The count of properties, and the newest of them, are read from this index alone.
    connection.run("CREATE INDEX IF NOT EXISTS job_on_board ON job (id) WHERE off_board IS NOT 1")
    of_new_job = _BLANK.format(number="NULL", which="id = NEW.id")
    of_deleted_row = _BLANK.format(number="OLD.id", which="id = OLD.job_id")
    for name, event, statement in (
        ("board_job_insert", "INSERT ON job", of_new_job),
        ("board_job_back", "UPDATE OF off_board ON job", of_new_job),
        ("board_line_again", "DELETE ON board_line", of_deleted_row),
    ):
        connection.run(f"DROP TRIGGER IF EXISTS {name}")
        connection.run(f"CREATE TRIGGER {name} AFTER {event} BEGIN {statement}; END")
    add_missing_rows(connection)


def add_missing_rows(connection: Connection) -> None:
    """Add a blank row for each property on the board that has none."""
    connection.run(_BLANK.format(number="NULL", which="1"))
