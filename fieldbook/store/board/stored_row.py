"""A stored board row, and the first page of them read by plain sqlite3, before the book is open.

Importing the record takes longer than a first frame, and the rows are there already.
"""

from __future__ import annotations

import sqlite3
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

STORED = "id, job_id, until, told, places, runs_out"
"""The columns of a stored row."""


@dataclass(frozen=True)
class StoredRow:
    """A board row as it is stored: `content` as JSON, which holds up to and with `valid_until`.

    `valid_until` is a day in ISO 8601, or "" for a row that has yet to be worked out. `places` has
    a digit for each place: 0 nothing entered, 1 begun, 2 done. `runs_out` is what runs out first: a
    day in ISO 8601, a space and what it is; "" where nothing does.
    """

    number: int
    job_id: str
    valid_until: str
    content: str
    places: str | None = None
    runs_out: str | None = None


def first_rows(path: Path, most: int) -> list[StoredRow]:
    """At most `most` rows of the book at `path`, in the board's order.

    Empty where they can't be read at once, whatever the reason: opening the book finds and says it.
    """
    query = (
        f"SELECT {STORED} FROM board_line WHERE closed IS NOT 1 "
        "OR NOT EXISTS (SELECT 1 FROM keeping WHERE id = 'closed hidden') "
        "ORDER BY sort_key, job_id LIMIT ?"
    )
    try:
        # Read only: it never makes the file, nor rolls back what an interrupted program left.
        address = f"{path.absolute().as_uri()}?mode=ro"
        with closing(sqlite3.connect(address, uri=True, timeout=0)) as connection:
            return [StoredRow(*row) for row in connection.execute(query, (most,))]
    except (sqlite3.Error, OSError, ValueError):
        return []
