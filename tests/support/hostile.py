"""A book whose texts are hostile: markup, control words, quotes, wide letters; and a conflict."""

from __future__ import annotations

import json
from pathlib import Path

from two_books import all_entries

from fieldbook.actions.cells import enter_text
from fieldbook.actions.job_files import import_bytes
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import demo_files
from fieldbook.checks.finding import CellRef
from fieldbook.records.base import facts_of
from fieldbook.records.loaded_job import FIELD_OF, TABLES
from fieldbook.records.tables.job import Job
from fieldbook.store.book import Book

HOSTILE = (
    "[/]",
    "[bold red]x",
    "[@click=app.quit]q[/]",
    "\\[",
    "$error",
    "{0}%s",
    "'\"`;--",
    "日本",
)


def texts_of(table: str) -> list[str]:
    """The names of a table's columns that take any text."""
    record: type[Job] | type[object] = Job if table == "job" else TABLES[table]
    facts = facts_of(record)  # type: ignore[arg-type]
    return [column for column, fact in facts.items() if fact.kind == "text"]


def hostile_job() -> bytes:
    """A demo property with every text of every row replaced by a hostile one."""
    path = next(path for path in demo_files() if path.stem == "mill_street")
    held = json.loads(path.read_text("utf-8"))
    held["local_rules"] = {"backflow_height_in": 18.0}
    count = 0
    for key, table in (("job", "job"), *((name, table) for table, name in FIELD_OF.items())):
        rows = held.get(key, [])
        for row in rows if isinstance(rows, list) else [rows]:
            for column in texts_of(table):
                row[column] = f"{HOSTILE[count % len(HOSTILE)]}{count}"
                count += 1
    return json.dumps(held).encode()


def fill_hostile(book_file: Path) -> None:
    """Make the book: one property, entered differently on two laptops."""
    with Book(book_file) as book:
        book.laptop.set_initials("[/]")
        job_id = import_bytes(book, hostile_job(), "[/b]").job_id
        with Book(book_file.with_name("other.sqlite")) as other:
            other.receive(all_entries(book), "here")
            for one, text in ((book, HOSTILE[0]), (other, HOSTILE[2])):
                enter_text(OpenJob(one, job_id, text), CellRef("job", job_id, "access"), text)
            book.receive(all_entries(other), "there")
