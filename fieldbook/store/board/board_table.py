"""The table of board rows, and the triggers that keep one row for each property on the board.

A change of a job deletes its board row in the same transaction (`journal/triggers.py`), and a
trigger here puts a blank row in its place. So a stored row is never older than the record, and a
property is never missing from the board, even if the disk is full before the row is worked out.

A property that is not on this laptop has a row too, copied from its line in the table `not_here`.
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

# Such a row holds for ever: nothing here could work it out anew.
_FAR = (
    "INSERT OR IGNORE INTO board_line "
    "(job_id, sort_key, sought, until, told, places, runs_out, closed) "
    "SELECT job_id, sort_key, sought, '9999-12-31', told, places, runs_out, closed FROM not_here "
    "WHERE {which} AND off_board = 0 AND job_id NOT IN (SELECT id FROM job)"
)
_FAR_GONE = (
    "DELETE FROM board_line WHERE job_id = {row}.job_id AND job_id NOT IN (SELECT id FROM job)"
)
# Properties with one address show a note on both (`store/find_neighbours.py`). So where one comes,
# goes or gets another address, the rows of those that begin alike are worked out again: the same
# house number, and the same first letter after it, as postal abbreviations leave both. "0" comes
# right after the signs that may follow a number, so "12" is found beside "12, Elm" and not "120".
_ALIKE = (
    "UPDATE board_line SET until = '' WHERE job_id IN ("
    "SELECT id FROM job WHERE off_board IS NOT 1 AND id <> {row}.id "
    "AND address COLLATE NOCASE >= {start} AND address COLLATE NOCASE < {start} || '0' "
    "AND lower({after_job}) = lower({after_row}))"
)


def _alike(row: str) -> str:
    start = f"rtrim(substr({row}.address, 1, instr({row}.address || ' ', ' ') - 1), ',.')"
    after = "substr({0}.address, instr({0}.address || ' ', ' ') + 1, 1)"
    return _ALIKE.format(
        row=row, start=start, after_job=after.format("job"), after_row=after.format(row)
    )


def make_board(connection: Connection) -> None:
    """Make the triggers of the table, which is new, and a blank row for each property."""
    # The count of properties, and the newest of them, are read from this index alone.
    connection.run("CREATE INDEX IF NOT EXISTS job_on_board ON job (id) WHERE off_board IS NOT 1")
    # So that properties of one address are found without reading all of them.
    connection.run(
        "CREATE INDEX IF NOT EXISTS job_by_address ON job (address COLLATE NOCASE) "
        "WHERE off_board IS NOT 1"
    )
    connection.run(
        "CREATE INDEX IF NOT EXISTS job_joined ON job (joined_with) WHERE joined_with IS NOT NULL"
    )
    of_new_job = _BLANK.format(number="NULL", which="id = NEW.id")
    of_deleted_row = _BLANK.format(number="OLD.id", which="id = OLD.job_id")
    far = _FAR.format(which="job_id = NEW.job_id")
    for name, event, statement in (
        ("board_far_insert", "INSERT ON not_here", far),
        ("board_far_update", "UPDATE ON not_here", f"{_FAR_GONE.format(row='NEW')}; {far}"),
        ("board_far_delete", "DELETE ON not_here", _FAR_GONE.format(row="OLD")),
        # Imported from a job file, say: whatever brings the property here, its line goes.
        ("board_job_here", "INSERT ON job", "DELETE FROM not_here WHERE job_id = NEW.id"),
        ("board_job_insert", "INSERT ON job", of_new_job),
        ("board_job_back", "UPDATE OF off_board ON job", of_new_job),
        ("board_alike_new", "INSERT ON job", _alike("NEW")),
        (
            "board_alike_changed",
            "UPDATE OF address, off_board ON job",
            f"{_alike('OLD')}; {_alike('NEW')}",
        ),
        ("board_line_again", "DELETE ON board_line", of_deleted_row),
    ):
        connection.run(f"DROP TRIGGER IF EXISTS {name}")
        connection.run(f"CREATE TRIGGER {name} AFTER {event} BEGIN {statement}; END")
    add_missing_rows(connection)


def add_missing_rows(connection: Connection) -> None:
    """Add a row for each property on the board that has none: blank, or copied from its line."""
    connection.run(_BLANK.format(number="NULL", which="1"))
    connection.run(_FAR.format(which="1"))
