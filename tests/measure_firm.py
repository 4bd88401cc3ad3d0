"""Measure a firm's book: taken from a stick, opened, changed, closed, verified, made anew.

Run it: python tests/measure_firm.py [entries ...]

For each number of entries (30,000, 300,000 and 1,000,000 unless told; a property has 50) it makes a
stick by script, then does each piece of work in a process of its own and prints its milliseconds,
of the processor and of the clock, those of the processor for each entry where the work grows with
them, and the most memory that the process took. Processor time is what other programs disturb
least, but a busy machine lengthens it too: the last column is the same piece of plain Python (JSON
and SHA-256 of a list) timed just before, to compare runs by. Nothing here asserts.
"""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from itertools import islice
from pathlib import Path

sys.path.insert(0, str(Path(__file__).with_name("support")))
sys.path.insert(0, str(Path(__file__).with_name("support") / "many_laptops"))

from firm_entries import PER_PROPERTY, entries_of_firm

from fieldbook.actions.board.board import Board
from fieldbook.actions.exchange.folder_exchange import exchange_through_folder
from fieldbook.store.book import Book
from fieldbook.store.changes import Put
from fieldbook.store.exchange.bundle_writer import write_bundle
from fieldbook.store.exchange.folder import exchange_folder
from fieldbook.store.mending.in_place import rebuild_in_place
from fieldbook.store.mending.verify import verify

SIZES = (30_000, 300_000, 1_000_000)
_BUNDLE = 5_000
_ROWS = 34
"""Rows of a board that a large terminal shows."""
Spent = tuple[float, float]
"""Seconds of the processor and of the clock."""


def make_stick(folder: Path, count: int) -> None:
    """Write so many entries to the folder, as one laptop of the firm would pass them on."""
    there, left, upto = exchange_folder(folder), entries_of_firm(count), 0
    origin = "0" * 8 + "-0000-0000-0000-" + "f" * 12
    while batch := list(islice(left, _BUNDLE)):
        upto += len(batch)
        write_bundle(there / f"{origin}-{upto:010}-{{sha256}}.jsonl.gz", batch, {})


def timed(act: Callable[[], object]) -> Spent:
    """What something takes."""
    began, clock = time.process_time(), time.perf_counter()
    act()
    return time.process_time() - began, time.perf_counter() - clock


def _exchange(path: Path, stick: Path) -> Spent:
    with Book(path) as book:
        spent = timed(lambda: exchange_through_folder(book, stick, lambda *_: None))
        book.laptop.set_initials("AB")
    return spent


def _open_and_board(path: Path) -> Spent:
    opened: list[Book] = []

    def open_it() -> None:
        opened.append(Book(path))
        board = Board(opened[0])
        board.prepare_first_page()
        board.stale_count()
        board.listing().window(0, _ROWS)

    spent = timed(open_it)
    opened[0].close()
    return spent


def _one_entry(path: Path, *, closing: bool) -> Spent:
    with Book(path) as book:
        job_id = book.board.page(0, 1)[0].job_id
        change = Put("job", job_id, "customer", str(time.time()))
        entered = timed(lambda: book.commit(job_id, [change], by="AB", what="customer"))
        closed = timed(book.close)
    return closed if closing else entered


def _verify(path: Path) -> Spent:
    wrong: list[str] = []
    spent = timed(lambda: wrong.extend(verify(path).wrong))
    assert not wrong, wrong
    return spent


WORK: dict[str, tuple[bool, Callable[[Path, Path], Spent]]] = {
    "first pull from the stick": (True, _exchange),
    "exchange of nothing new": (False, _exchange),
    "open and board, no row made": (False, lambda path, _: _open_and_board(path)),
    "open and board": (False, lambda path, _: _open_and_board(path)),
    "one entry, first after opening": (False, lambda path, _: _one_entry(path, closing=False)),
    "closing after one entry": (False, lambda path, _: _one_entry(path, closing=True)),
    "exchange of these entries": (False, _exchange),
    "exchange of nothing new again": (False, _exchange),
    "verify": (True, lambda path, _: _verify(path)),
    "rebuild in place": (True, lambda path, _: timed(lambda: rebuild_in_place(path))),
    "verify the rebuilt book": (True, lambda path, _: _verify(path)),
}
"""Each piece of work in turn, and whether it grows with the number of entries."""


def _yardstick_us() -> float:
    """Microseconds of the processor for one piece of plain Python, the best of some."""
    fields = [str(number) * 4 for number in range(18)]

    def work() -> None:
        for _ in range(2_000):
            hashlib.sha256(json.dumps(fields).encode()).hexdigest()

    return min(timed(work)[0] for _ in range(5)) / 2_000 * 1e6


def _peak_mb() -> float:
    """The most memory that this process took; 0 where the system does not say."""
    try:
        lines = Path("/proc/self/status").read_text("ascii").splitlines()
    except OSError:
        return 0.0
    return next(float(line.split()[1]) / 1024 for line in lines if line.startswith("VmHWM"))


def measure(count: int, folder: Path) -> None:
    """Measure a book of so many entries."""
    stick, path = folder / "stick", folder / "book.sqlite"
    stick.mkdir()
    _, spent = timed(lambda: make_stick(stick, count))
    print(f"{count} entries, {count // PER_PROPERTY} properties; the stick took {spent:.0f} s")
    for what, (grows, _) in WORK.items():
        command = [sys.executable, __file__, "--work", what, str(path), str(stick)]
        said = subprocess.run(command, check=True, stdout=subprocess.PIPE, text=True).stdout
        used, passed, peak, yardstick = map(float, said.split())
        each = f"{1000 * used / count:8.4f} ms an entry" if grows else " " * 20
        print(
            f"  {what:32} {1000 * used:10.1f} ms, clock {1000 * passed:10.1f} ms {each}, "
            f"peak {peak:4.0f} MB, yardstick {yardstick:.1f} us",
            flush=True,
        )
    print(f"  the book {path.stat().st_size / 1e6:.0f} MB", flush=True)


def main() -> None:
    """Measure and print."""
    for count in [int(word) for word in sys.argv[1:]] or SIZES:
        with tempfile.TemporaryDirectory(prefix="fieldbook-measure-") as folder:
            # The tokens of its books belong to no laptop.
            os.environ["HOME"] = folder
            measure(count, Path(folder))


if __name__ == "__main__":
    if sys.argv[1:2] == ["--work"]:
        yardstick = _yardstick_us()
        work = WORK[sys.argv[2]][1]
        used, passed = work(Path(sys.argv[3]), Path(sys.argv[4]))
        print(used, passed, _peak_mb(), yardstick)
    else:
        main()
