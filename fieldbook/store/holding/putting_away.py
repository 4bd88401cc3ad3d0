"""Put a property away from this laptop: its rows and entries go, its line stays.

Whoever calls it has made sure that every entry is somewhere else too: `not_at_office` says which
are not known to be at an office, and `files_of` in which files of a folder they may be.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import replace

from fieldbook.records.base import now
from fieldbook.records.loaded_job import RECORDS
from fieldbook.store.holding.lines import (
    FarLine,
    plain_places,
    plain_row,
    plain_runs_out,
    save_line,
    whole_line,
)
from fieldbook.store.journal.put_away import remove_entries
from fieldbook.store.journal.triggers import GUARDED, guard, unguard
from fieldbook.store.sqlite.book_connection import Connection

# Received from an office; or written here, and an exchange with one has sent all up to a number.
_NOT_AT_OFFICE = """
SELECT id, n, came FROM journal
WHERE job_id = ? AND NOT (came LIKE 'office %' OR (
  origin IN (SELECT id FROM origin)
  AND n <= (SELECT coalesce(max(got), 0) FROM exchange_place WHERE id LIKE 'sent:%')))
"""
_WRITTEN = """
SELECT name, CAST(got_id AS INTEGER), upto FROM exchange_file
LEFT JOIN exchange_place ON exchange_place.id = 'bundle:' || name WHERE upto > 0
"""
_NUMBERS = "SELECT n FROM journal WHERE job_id = ?"
_RECEIVED = """
SELECT DISTINCT came FROM journal WHERE job_id = ? AND came IN (SELECT name FROM exchange_file)
"""
_LAST_OF_JOB = "SELECT clock, wall FROM journal WHERE job_id = ? ORDER BY clock DESC LIMIT 1"


def not_at_office(connection: Connection, job_id: str) -> Mapping[str, tuple[int, str]]:
    """The entries of a property that no office is known to have: by id, number and where it came.

    An entry made here came from "".
    """
    rows = connection.run(_NOT_AT_OFFICE, (job_id,)).all()
    return {str(entry_id): (int(number), str(came)) for entry_id, number, came in rows}


def files_of(connection: Connection, job_id: str) -> set[str]:
    """The files of folders that may hold entries of a property: received ones, and own ones."""
    numbers = [int(row[0]) for row in connection.run(_NUMBERS, (job_id,))]
    found = {str(row[0]) for row in connection.run(_RECEIVED, (job_id,))}
    for name, first, upto in connection.run(_WRITTEN):
        if any((first or 1) <= number <= upto for number in numbers):
            found.add(str(name))
    return found


def put_away(connection: Connection, job_id: str) -> int:
    """Remove a property from the book, in the caller's transaction; returns how many entries."""
    line = _line_of(connection, job_id)
    # They are read again when the property is fetched, or held for another reason.
    for name in files_of(connection, job_id):
        connection.run("INSERT OR IGNORE INTO passed_over VALUES (?, ?)", (name, job_id))
    _remove_rows(connection, job_id)
    count = remove_entries(connection, job_id)
    for table in ("taken_in", "kept_property"):
        connection.run(f"DELETE FROM {table} WHERE job_id = ?", (job_id,))
    save_line(connection, line)
    return count


def _remove_rows(connection: Connection, job_id: str) -> None:
    number = connection.run("SELECT id FROM board_line WHERE job_id = ?", (job_id,)).value()
    connection.run("DELETE FROM conflict WHERE job_id = ?", (job_id,))
    connection.run(
        "DELETE FROM row_heads WHERE row_id IN (SELECT row_id FROM journal WHERE job_id = ?)",
        (job_id,),
    )
    # The job's own row comes last: the others refer to it.
    for table in sorted(RECORDS, key="job".__eq__):
        if table in GUARDED:
            unguard(connection, table)
        column = "id" if table == "job" else "job_id"
        connection.run(f'DELETE FROM "{table}" WHERE {column} = ?', (job_id,))
        if table in GUARDED:
            guard(connection, table)
    # The triggers can't tell this from a crew that removes every row.
    connection.run("DELETE FROM outbox")
    with suppress(sqlite3.OperationalError):
        connection.run("DELETE FROM words WHERE rowid = ?", (number,))


def _line_of(connection: Connection, job_id: str) -> FarLine:
    """The line of a property as its board row has it now."""
    query = "SELECT told, places, runs_out, closed FROM board_line WHERE job_id = ?"
    row = connection.run(query, (job_id,)).first()
    at, off_board = now(), row is None
    if row is None:
        job = connection.run("SELECT address, customer FROM job WHERE id = ?", (job_id,)).first()
        address, customer = job or ("", "")
        row = (json.dumps({"address": address, "customer": customer}), "", "", 0)
    clock, wall = connection.run(_LAST_OF_JOB, (job_id,)).first() or (0, "")
    line = FarLine(
        job_id,
        plain_row(json.loads(row[0])),
        str(wall)[:10],
        f"put away here on {at[:10]}",
        plain_places(row[1]),
        plain_runs_out(row[2]),
        off_board,
    )
    return replace(whole_line(line, int(clock)), put_away=at, closed=bool(row[3]))
