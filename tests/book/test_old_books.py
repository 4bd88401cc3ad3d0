"""Books of every earlier format open, hold what they held, and take what came since."""

from __future__ import annotations

import os
import signal
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

from fieldbook.checks.run import check
from fieldbook.store.book import Book
from fieldbook.store.change import Put
from fieldbook.store.connect import FORMAT
from fieldbook.store.verify import verify

ROUNDS = int(os.environ.get("FIELDBOOK_KILL_ROUNDS", "6"))
STRIKE = """
import os, signal, sys
from pathlib import Path
from sqlalchemy import event
from sqlalchemy.engine import Engine
from fieldbook.store.book import Book

left = int(sys.argv[2])

@event.listens_for(Engine, "before_cursor_execute")
def strike(*_told):
    global left
    left -= 1
    if left == 0:
        os.kill(os.getpid(), signal.SIGKILL)

Book(Path(sys.argv[1])).close()
print(int(sys.argv[2]) - left)
"""
"""Opens a book and dies before the statement of the number given; prints how many there are."""
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
        assert all(one.who for one in book.held(job.id, zone.id, "number"))
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


@pytest.mark.parametrize("dump", OLD_BOOKS, ids=lambda path: path.stem)
def test_a_book_struck_while_it_is_brought_up_opens_with_all_it_held(
    dump: Path, tmp_path: Path
) -> None:
    statements = int(opened_until(dump, tmp_path / "whole" / "book.sqlite", 10**9).stdout)
    steps = range(1, statements + 1)
    for step in {*steps[:: max(len(steps) // ROUNDS, 1)], statements}:
        book_file = tmp_path / str(step) / "book.sqlite"
        assert opened_until(dump, book_file, step).returncode == -signal.SIGKILL
        held = rebuilt(dump, tmp_path / f"{step}-held" / "book.sqlite")
        with Book(book_file) as book:
            (job,) = book.jobs()
            for table, rows in book.load(job.id).tables().items():
                assert len(rows) == held.get(table, 0), (step, table)
        assert verify(book_file).wrong == ()


def opened_until(dump: Path, book_file: Path, step: int) -> subprocess.CompletedProcess[str]:
    """Open the old book in a process that dies before a statement."""
    rebuilt(dump, book_file)
    command = [sys.executable, "-c", STRIKE, str(book_file), str(step)]
    return subprocess.run(command, capture_output=True, text=True, check=False)
