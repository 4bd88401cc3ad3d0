"""Books of every earlier format open, hold what they held, and take what came since."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from fieldbook.checks.run import check
from fieldbook.store.book import Book
from fieldbook.store.change import Put
from fieldbook.store.connect import FORMAT

OLD_BOOKS = sorted(Path(__file__).with_name("old_books").glob("*.sql"))


def rebuilt(dump: Path, book_file: Path) -> dict[str, int]:
    """Make the old book from its dump; the rows it holds by table."""
    book_file.parent.mkdir(parents=True)
    with sqlite3.connect(book_file) as raw:
        raw.executescript(dump.read_text("utf-8"))
        names = raw.execute("SELECT name FROM sqlite_schema WHERE type = 'table'").fetchall()
        held = {
            name: raw.execute(f'SELECT count(*) FROM "{name}"').fetchone()[0] for (name,) in names
        }
    raw.close()
    return held


def test_every_format_before_this_one_has_a_book_here() -> None:
    assert [path.stem for path in OLD_BOOKS] == [f"format_{no}" for no in range(1, FORMAT)]


@pytest.mark.parametrize("dump", OLD_BOOKS, ids=lambda path: path.stem)
def test_an_old_book_opens_with_all_it_held(dump: Path, book_file: Path) -> None:
    held = rebuilt(dump, book_file)
    with Book(book_file) as book:
        (job,) = book.jobs()
        loaded = book.load(job.id)
        for table, rows in loaded.tables().items():
            assert len(rows) == held.get(table, 0), table
        assert {flag.severity for flag in check(loaded)} <= {"stop", "fix", "note"}
        zone = loaded.zones[0]
        other = loaded.zones[1].id
        book.commit(job.id, [Put("zone", zone.id, "runs_with", other)], by="AB", what="zone")
    with Book(book_file) as book:
        again = book.load(job.id)
        assert again.zones[0].runs_with == again.zones[1].id
        assert book.undo(job.id, by="AB") == "zone"
    with sqlite3.connect(book_file) as raw:
        assert raw.execute("PRAGMA user_version").fetchone()[0] == FORMAT
        assert raw.execute("PRAGMA quick_check").fetchone()[0] == "ok"
    raw.close()
