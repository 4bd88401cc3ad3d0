"""Measure what verifying, rebuilding and backing up a large book take for each entry.

Run it: python tests/measure_mending.py [properties ...]

For each number of properties (3 entries each; 2,000 and 20,000 unless told) it prints, in processor
milliseconds for each entry: verify, rebuild in place, the backup on closing after one entry beside
the one that copies all; and the most memory that verify and rebuild take. Nothing here asserts.
"""

from __future__ import annotations

import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).with_name("support")))

from big_book import fill

from fieldbook.actions import cells
from fieldbook.actions.open_job import OpenJob
from fieldbook.checks.finding import CellRef
from fieldbook.store.book import Book
from fieldbook.store.mending.in_place import rebuild_in_place
from fieldbook.store.mending.verify import verify

WORK = ("open", "verify", "rebuild")


def close_after_one(path: Path) -> float:
    """Processor seconds to close a book in which one entry was made."""
    book = Book(path)
    job = OpenJob(book, book.jobs()[0].id, "AB")
    cells.enter_text(job, CellRef("job", job.job_id, "customer"), str(time.time()))
    began = time.process_time()
    book.close()
    return time.process_time() - began


def work(what: str, path: Path) -> None:
    """Do one thing in this process, and print its processor seconds and the memory it took, MB."""
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    began = time.process_time()
    if what == "verify":
        wrong = verify(path).wrong
        assert not wrong, wrong
    elif what == "rebuild":
        rebuild_in_place(path)
    else:
        Book(path).close()
    spent = time.process_time() - began
    took = (resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before) / 1024
    print(f"{spent:.3f} {took:.1f}")


def main() -> None:
    """Measure and print."""
    for count in [int(word) for word in sys.argv[1:]] or [2_000, 20_000]:
        with tempfile.TemporaryDirectory(prefix="fieldbook-measure-") as folder:
            path = Path(folder) / "book.sqlite"
            fill(path, count)
            entries = verify(path).entries
            print(f"{count} properties, {entries} entries, {path.stat().st_size / 1e6:.0f} MB")
            small = close_after_one(path)
            print(f"  {'closing after one entry':24} {1000 * small:8.1f} ms")
            for what in WORK:
                command = [sys.executable, __file__, "--work", what, str(path)]
                said = subprocess.run(command, check=True, capture_output=True, text=True).stdout
                spent, memory = map(float, said.split())
                each = 1000 * spent / entries
                print(f"  {what:24} {each:8.4f} ms an entry, {memory:.0f} MB more memory")


if __name__ == "__main__":
    if sys.argv[1:2] == ["--work"]:
        work(sys.argv[2], Path(sys.argv[3]))
    else:
        main()
