"""Measure a large book beside a small one in the same run: open and board, one commit, one job.

Run it: python tests/measure_book.py [properties]

Prints the time to open the book and list its board with 10 and with many properties (10,000
unless told), finding one among all, the p50 and p99 of a commit of one entry, and a job's loading
beside plain sqlite3 reading the same rows. Nothing here asserts.
"""

from __future__ import annotations

import json
import shutil
import sqlite3
import sys
import tempfile
import time
from pathlib import Path

from fieldbook.actions.board import Board
from fieldbook.actions.demo import demo_files
from fieldbook.actions.job_files import import_bytes
from fieldbook.records.loaded import TABLES
from fieldbook.store.book import Book
from fieldbook.store.change import Put


def filled(path: Path, count: int) -> None:
    """A book with one whole demo property and so many that are begun."""
    alder = next(one for one in demo_files() if one.stem == "alder_lane").read_bytes()
    with Book(path) as book:
        import_bytes(book, alder, "AB")
        for number in range(1, count):
            begun = {
                "fieldbook": 1,
                "job": {"id": f"p{number}", "address": f"{number} Long Street", "customer": "C"},
                "supply": {"static_psi": 60.0},
                "zones": [{"id": "z1", "number": 1, "name": "lawn"}],
            }
            import_bytes(book, json.dumps(begun).encode(), "AB")


def open_and_board(path: Path) -> float:
    """Milliseconds to open a book and have its board, its lines kept before."""
    began = time.perf_counter()
    with Book(path) as book:
        Board(book).lines()
        return 1000 * (time.perf_counter() - began)


def main() -> None:
    """Measure and print."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    folder = Path(tempfile.mkdtemp(prefix="fieldbook-measure-"))
    small, large = folder / "small.sqlite", folder / "large.sqlite"
    began = time.perf_counter()
    filled(small, 10)
    filled(large, count)
    print(f"{'made':26} {time.perf_counter() - began:.0f} s")
    for path in (small, large):
        open_and_board(path)
    few = min(open_and_board(small) for _ in range(5))
    many = min(open_and_board(large) for _ in range(5))
    print(f"{'open and board':26} {few:.0f} ms of 10, {many:.0f} ms of {count}")
    with Book(large) as book:
        lines = Board(book).lines()
        for typed in (f"{count - 1} long", "long street", "lawn"):
            began = time.perf_counter()
            found = book.find(typed)
            spent = 1000 * (time.perf_counter() - began)
            print(f"{'find ' + typed:26} {spent:.1f} ms, {len(found)} found")
        job_id = next(line.job_id for line in lines if "Alder" in line.address)
        times = []
        for number in range(400):
            began = time.perf_counter()
            change = Put("job", job_id, "customer", f"Customer {number}")
            book.commit(job_id, [change], by="AB", what="customer")
            times.append(1000 * (time.perf_counter() - began))
        times.sort()
        print(f"{'commit of one entry':26} p50 {times[200]:.1f} ms, p99 {times[396]:.1f} ms")
        loads = min(_timed(lambda: book.load(job_id)) for _ in range(9))
    plain = sqlite3.connect(large)
    raw = min(_timed(lambda: _read(plain, job_id)) for _ in range(9))
    plain.close()
    print(f"{'load of one job':26} {loads:.2f} ms, plain sqlite3 {raw:.2f} ms, {loads / raw:.1f}x")
    shutil.rmtree(folder)


def _read(plain: sqlite3.Connection, job_id: str) -> list[object]:
    return [
        plain.execute(f'SELECT * FROM "{name}" WHERE job_id = ?', (job_id,)).fetchall()
        for name in TABLES
    ]


def _timed(act: object) -> float:
    assert callable(act)
    began = time.perf_counter()
    act()
    return 1000 * (time.perf_counter() - began)


if __name__ == "__main__":
    main()
