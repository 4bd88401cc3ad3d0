"""Measure a large book beside a small one in the same run: open and board, finding, one commit.

Run it: python tests/measure_book.py [properties]

Prints, with 10 and with many properties (10,000 unless told): the processor's time to open the book
and show its board, and what of it is the board alone; the same while no line is made yet, and what
one slice of making them takes; a page anywhere; finding. Then the p50 and p99 of a commit of one
entry, and a job's loading beside plain sqlite3 reading the same rows, by the clock. Nothing here
asserts.
"""

from __future__ import annotations

import os
import shutil
import sqlite3
import sys
import tempfile
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

sys.path.insert(0, str(Path(__file__).with_name("support")))

from big_book import DEMO, address, fill

from fieldbook.actions.board.board import Board
from fieldbook.records.loaded_job import TABLES
from fieldbook.store.book import Book
from fieldbook.store.changes import Put

ROWS = 34
"""Lines of a board that a large terminal shows."""


def open_and_board(path: Path) -> tuple[float, float]:
    """Milliseconds of the processor to open a book and have its board, and of the board alone."""
    began = time.process_time()
    with Book(path) as book:
        opened = time.process_time()
        show(Board(book))
        done = time.process_time()
    return 1000 * (done - began), 1000 * (done - opened)


def show(board: Board) -> None:
    """Read what the screen asks for when a book is opened."""
    board.prepare_first_page()
    listed = board.listing()
    board.stale_count()
    listed.window(0, ROWS)


def main() -> None:
    """Measure and print."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    folder = Path(tempfile.mkdtemp(prefix="fieldbook-measure-"))
    # The tokens of its books belong to no laptop.
    os.environ["HOME"] = str(folder)
    small, large = folder / "small.sqlite", folder / "large.sqlite"
    fill(small, 10)
    fill(large, count)
    for path in (small, large):
        whole, board = open_and_board(path)
        told = f"{whole:.1f} ms, board {board:.1f} ms"
        print(f"{'first open, none made':26} {told} ({path.stem})")
    _make_all(small)
    _make_all(large)
    best = {path: min(open_and_board(path) for _ in range(15)) for path in (small, large)}
    for at, what in enumerate(("open and board", "of it the board")):
        few, many = best[small][at], best[large][at]
        print(f"{what:26} {few:.1f} ms of 10, {many:.1f} ms of {count}, {many / few:.2f}x")
    with Book(large) as book:
        _pages_and_finding(book, count)
        job_id = book.board.rows_numbered(book.board.find(DEMO))[0].job_id
        _commits(book, job_id)
        loads = min(_timed(lambda: book.load(job_id)) for _ in range(9))
    plain = sqlite3.connect(large)
    raw = min(_timed(lambda: _read(plain, job_id)) for _ in range(9))
    plain.close()
    print(f"{'load of one job':26} {loads:.2f} ms, plain sqlite3 {raw:.2f} ms, {loads / raw:.1f}x")
    shutil.rmtree(folder)


def _make_all(path: Path) -> None:
    """Make every line in slices, as the app does between keys."""
    with Book(path) as book:
        board = Board(book)
        times = []
        while board.stale_count():
            times.append(_timed(lambda: board.catch_up(())))
        if times:
            times.sort()
            told = f"{len(times)} slices, {sum(times) / 1000:.1f} s"
            longest = f"p50 {times[len(times) // 2]:.0f} ms, longest {times[-1]:.0f} ms"
            print(f"{'make every line':26} {told}, {longest} ({path.stem})")


def _pages_and_finding(book: Book, count: int) -> None:
    board = Board(book)
    listed = board.listing()
    for first in (0, count // 2, count - ROWS):
        spent = min(_timed(partial(listed.window, first, ROWS)) for _ in range(5))
        print(f"{f'page from {first}':26} {spent:.2f} ms")
    for typed in (address(count - 1), "long street", "lawn", "l", "nothing of it"):
        spent = min(_timed(partial(_find, board, typed)) for _ in range(5))
        found = board.find(typed)
        print(f"{'find ' + typed:26} {spent:.1f} ms, {len(found)} found")


def _find(board: Board, typed: str) -> None:
    """Find, and read what the screen shows of it."""
    board.find(typed).window(0, ROWS)


def _commits(book: Book, job_id: str) -> None:
    times = []
    for number in range(400):
        change = Put("job", job_id, "customer", f"Customer {number}")
        commit = partial(book.commit, job_id, [change], by="AB", what="customer")
        times.append(_timed(commit))
    times.sort()
    print(f"{'commit of one entry':26} p50 {times[200]:.1f} ms, p99 {times[396]:.1f} ms")


def _read(plain: sqlite3.Connection, job_id: str) -> list[object]:
    return [
        plain.execute(f'SELECT * FROM "{name}" WHERE job_id = ?', (job_id,)).fetchall()
        for name in TABLES
    ]


def _timed(act: Callable[[], object]) -> float:
    began = time.perf_counter()
    act()
    return 1000 * (time.perf_counter() - began)


if __name__ == "__main__":
    main()
