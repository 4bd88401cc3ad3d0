"""Large books, filled at once by SQL; their rows are like those that a crew types."""

from __future__ import annotations

import sqlite3
from dataclasses import replace
from datetime import date
from pathlib import Path

from fieldbook.actions.board.board import Board
from fieldbook.actions.board.make_row import make_row, to_store
from fieldbook.actions.job_files import import_bytes
from fieldbook.actions.properties import demo_files
from fieldbook.store.book import Book
from fieldbook.store.lifecycle.book_tables import MODEL

STAMP = {"entered_by": "AB", "entered_at": "2026-01-05T08:00:00+00:00"}
DEMO = "14 Alder Lane"
"""The address of the one finished property."""


def address(number: int) -> str:
    """The address of an unfinished property; addresses are in the order of their numbers."""
    return f"{number:05} Long Street"


def fill(path: Path, count: int) -> None:
    """Make a book of one whole demo property and so many that are begun that there are `count`.

    The many are written by another program: the book seals them when it is opened again.
    """
    alder = next(one for one in demo_files() if one.stem == "alder_lane").read_bytes()
    with Book(path) as book:
        book.laptop.set_initials("AB")
    with sqlite3.connect(path) as raw:
        for table, rows in _rows(count).items():
            _insert(raw, table, rows)
    raw.close()
    with Book(path) as book:
        import_bytes(book, alder, "AB")


def make_lines(path: Path) -> None:
    """Store the board's rows of a book that `fill` made: those of the begun ones are all alike.

    To work each out from its job would take minutes for thousands, and gives the same.
    """
    today = date.today()
    with Book(path) as book:
        job = book.load(f"p{1:05}")
        row = make_row(job, today)
        lines = []
        for number in range(1, book.board.count()):
            job_id, there, who = f"p{number:05}", address(number), f"Customer {number}"
            alike = replace(job, job=job.job.with_values(id=job_id, address=there, customer=who))
            shown = replace(row, job_id=job_id, address=there, customer=who)
            lines.append(to_store(shown, alike, today))
        book.board.save(lines)
        # What is left is the demo property.
        Board(book).all_rows()


def _insert(raw: sqlite3.Connection, table: str, rows: list[dict[str, object]]) -> None:
    """Insert rows; a NOT NULL column that they do not name holds an empty text."""
    columns = MODEL.tables[table].columns
    names = [one.name for one in columns if one.name in rows[0] or not one.nullable]
    listed, marks = ", ".join(f'"{name}"' for name in names), ", ".join("?" * len(names))
    raw.executemany(
        f'INSERT INTO "{table}" ({listed}) VALUES ({marks})',
        [tuple(row.get(name, "") for name in names) for row in rows],
    )


def _rows(count: int) -> dict[str, list[dict[str, object]]]:
    rows: dict[str, list[dict[str, object]]] = {"job": [], "supply": [], "zone": []}
    for number in range(1, count):
        job_id = f"p{number:05}"
        told = {"address": address(number), "customer": f"Customer {number}", "units": "us"}
        rows["job"].append({"id": job_id, **told, **STAMP})
        of_job = {"job_id": job_id, **STAMP}
        rows["supply"].append({"id": f"{job_id}s", "static_psi": 60.0, **of_job})
        rows["zone"].append({"id": f"{job_id}z", "number": 1, "name": "lawn", **of_job})
    return rows
