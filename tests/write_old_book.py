"""Write the book of the format that is being left, made by the code that still writes it.

Run it before FORMAT is raised: python tests/write_old_book.py [NAME [FOLDER]]

Three files are written to FOLDER (tests/book/old_books); NAME is format_N if not given:

- NAME.sql: a dump of a book with a row in every table: a demo job, rows for the tables it leaves
  empty, an undo, a removed row, a cell and a removal in conflict, sign-offs, and a change of
  another program that is in no entry yet;
- NAME.job.json: the job file that this code exports;
- NAME.check.json: what it says on DAY, as `fieldbook check --json` prints flags: of the job in
  the book, then of the job file in an empty book, where nothing is in conflict.

tests/book/test_old_books.py holds every later fieldbook to them.
"""

from __future__ import annotations

import json
import os
import sqlite3
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import asdict
from datetime import date
from pathlib import Path

from fieldbook.actions.board.board import Board
from fieldbook.actions.job_files import export_text, import_file
from fieldbook.checks.registry import check
from fieldbook.records.base import facts_of, new_id
from fieldbook.records.fact import Fact
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.records.values import Value
from fieldbook.store.book import Book
from fieldbook.store.changes import Add, Put, Remove
from fieldbook.store.journal.entry import FORMAT
from fieldbook.store.paths import STATE_VARIABLE
from fieldbook.store.places import WrittenBundle

ROOT = Path(__file__).parents[1]
OLD_BOOKS = ROOT / "tests" / "book" / "old_books"
DAY = date(2026, 8, 20)
"""The day on which the job is checked."""


def main() -> None:
    """Make the book in a folder of its own, then write the three files."""
    name = sys.argv[1] if len(sys.argv) > 1 else f"format_{FORMAT}"
    target = (Path(sys.argv[2]) if len(sys.argv) > 2 else OLD_BOOKS) / f"{name}.sql"
    if target.exists():
        sys.exit(f"{target} is there already: give another name, such as format_{FORMAT}_late.")
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        os.environ[STATE_VARIABLE] = str(folder / "state")
        path = folder / "book.sqlite"
        job_id = fill(path, folder / "other.sqlite")
        write_unsealed(path, job_id)
        target.write_text(dump(path), "utf-8")
        job_file = target.with_suffix(".job.json")
        with Book(path) as book:
            job_file.write_text(export_text(book, job_id), "utf-8")
            jobs = [book.load(job_id)]
        with Book(folder / "empty.sqlite") as book:
            jobs.append(book.load(import_file(book, job_file, "MO").job_id))
        said = [{"job": job_id, "flags": list(map(asdict, check(job, DAY)))} for job in jobs]
    told = json.dumps(said, ensure_ascii=False, indent=2)
    target.with_suffix(".check.json").write_text(told + "\n", "utf-8")
    print(f"Wrote {target} and two files beside it.")


def fill(path: Path, other_path: Path) -> str:
    """Fill a book by what crews do on two laptops. Returns the id of its property."""
    with Book(path) as book, Book(other_path) as other:
        book.laptop.set_initials("MO")
        job_id = import_file(book, ROOT / "demo_jobs" / "alder_lane.json", "MO").job_id
        missing = list(rows_for_empty_tables(book.load(job_id)))
        book.commit(job_id, missing, by="MO", what="rows of every other kind")
        job = book.load(job_id)
        zone, head, splice = job.zones[0], job.heads[0], job.splices[0]
        book.commit(job_id, [Put("zone", zone.id, "name", "front")], by="MO", what="name front")
        book.undo(job_id, by="MO")
        book.commit(job_id, [Remove("head", job.heads[-1].id)], by="MO", what="head removed")
        other.receive(book.shared.entries_of_job(job_id), "here")
        for laptop, who, psi in ((book, "MO", 28.0), (other, "KL", 31.0)):
            laptop.commit(job_id, [Put("head", head.id, "rated_psi", psi)], by=who, what="rated")
        book.commit(job_id, [Remove("splice", splice.id)], by="MO", what="splice removed")
        other.commit(
            job_id, [Put("splice", splice.id, "waterproof", False)], by="KL", what="waterproof"
        )
        book.receive(other.shared.entries_of_job(job_id), "the other")
        book.places.remember_folder("/media/stick")
        book.places.wrote_bundle("0.jsonl.gz", WrittenBundle(1, 3, 0))
        book.seal_entries()
        Board(book).prepare_first_page()
    return job_id


def rows_for_empty_tables(job: LoadedJob) -> Iterator[Add]:
    """A row for each table of which the job has none."""
    ids = {name: rows[0].id for name, rows in job.tables().items() if rows}
    for name, record in TABLES.items():
        if name in ids:
            continue
        values = {column: a_value(fact, ids) for column, fact in facts_of(record).items()}
        ids[name] = new_id()
        kept = {column: value for column, value in values.items() if value not in (None, "")}
        if name == "wire_test":
            # A job file is refused in which a zone ran and nothing did.
            del kept["ran_nothing"]
        yield Add(name, ids[name], kept)


def a_value(fact: Fact, ids: dict[str, str]) -> Value:
    """A value that a column of this kind takes, or None where the program fills it."""
    if fact.links_to:
        return ids.get(fact.links_to)
    simple: dict[str, Value] = {
        "amount": min(fact.low + 1.5, fact.high),
        "whole": int(fact.low) + 1,
        "text": f"the {fact.label.lower()}",
        "day": "2026-05-04",
        "clock": "2026-05-04T09:30",
        "choice": fact.choices[0] if fact.choices else None,
        "tick": True,
        "colour": "red",
    }
    return simple.get(fact.kind)


_CHOSEN = (
    "INSERT INTO keeping (id, since) VALUES ('chosen', '2026-05-04')",
    "INSERT INTO kept_property (job_id, how, at) VALUES ('another', 'picked', '2026-05-04')",
    "INSERT INTO taken_in (place_id, job_id) VALUES ('office 1', 'another')",
    "INSERT INTO passed_over (name, job_id) VALUES ('1.jsonl.gz', 'another')",
    "INSERT INTO put_away_entry (id, origin, seq, job_id) VALUES ('e', 'o', 1, 'another')",
    """INSERT INTO not_here (job_id, sort_key, sought, told, places, runs_out, off_board, changed,
      made_from, made_number, newest, clocks, put_away)
    VALUES ('another', 'z', 'z', '{}', '', '', 1, '', '', 0, 0, '{}', '')""",
)


def write_unsealed(path: Path, job_id: str) -> None:
    """Change a phone number as another program would: it waits in the outbox, in no entry yet.

    Add the rows that only an exchange with an office makes, or a book of chosen properties.
    """
    raw = sqlite3.connect(path)
    with raw:
        raw.execute("UPDATE job SET phone = '555 0199' WHERE id = ?", (job_id,))
        raw.execute(
            "INSERT INTO office_file (place_id, sha256) VALUES ('office 1', ?)", ("0" * 64,)
        )
        for statement in _CHOSEN:
            raw.execute(statement)
    empty = [
        name
        for (name,) in raw.execute(
            "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT GLOB 'words_*'"
        ).fetchall()
        if raw.execute(f'SELECT 1 FROM "{name}"').fetchone() is None
    ]
    raw.close()
    assert not empty, f"no row in {empty}"


def dump(path: Path) -> str:
    """The book as SQL, with the numbers in its header, which a plain dump leaves out."""
    raw = sqlite3.connect(path)
    try:
        header = [
            f"PRAGMA {name}={raw.execute(f'PRAGMA {name}').fetchone()[0]};"
            for name in ("application_id", "user_version")
        ]
        # iterdump writes a full-text table as rows of tables that only SQLite may make: it is
        # left out of the dump and made by a statement of its own.
        (made,) = raw.execute("SELECT sql FROM sqlite_schema WHERE name = 'words'").fetchone()
        words = raw.execute(
            "SELECT 'INSERT INTO words (rowid, job_id, labels, told) VALUES (' || rowid || ', ' "
            "|| quote(job_id) || ', ' || quote(labels) || ', ' || quote(told) || ');' FROM words"
        ).fetchall()
        raw.execute("BEGIN")
        raw.execute("DROP TABLE words")
        lines = [*header, *raw.iterdump(), f"{made};", *(line for (line,) in words)]
        raw.rollback()
        return "\n".join(lines) + "\n"
    finally:
        raw.close()


if __name__ == "__main__":
    main()
