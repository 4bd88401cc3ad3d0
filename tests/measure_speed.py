"""Measure what a crew waits for, beside an empty Textual app in the same run.

Run it: python tests/measure_speed.py [--runs 9] [--keys 60] [--many 20000] [--before CHECKOUT]

Figures are medians of processor time, which other programs do not lengthen, of runs that take
turns: a start until the board's rows are seen, until a key has moved on it, until a property is
open whose Enter was pressed as the rows came; keys on a property of 48 zones on which every check
is due; memory; what an app at rest does in a second. With `--many` only starts are measured: of a
book of so many properties beside one of ten. `--before` names a checkout of an older
version, such as `git worktree add /tmp/before COMMIT` makes: the commands are measured beside its.
Nothing here asserts.
"""

from __future__ import annotations

import argparse
import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from pathlib import Path

sys.path.insert(0, str(Path(__file__).with_name("support")))

from big_book import fill, make_lines
from builders import all_signed, sound_job
from on_terminal import BACKSPACE, KEY_DOWN, KEY_UP, Terminal, empty_app

from fieldbook.actions.board.board import Board
from fieldbook.actions.job_files import import_bytes
from fieldbook.actions.properties import fill_demo
from fieldbook.jobfile.write import write_job
from fieldbook.store.book import Book

ZONES = 48
IDLE_S = 5.0
OPEN = b"Ground"
"""Stands in the tabs of an open property, and nowhere on the board."""
_FILL = """
import sys
from pathlib import Path
from fieldbook.actions.board.board import Board
from fieldbook.actions.properties import fill_demo
from fieldbook.store.book import Book
with Book(Path(sys.argv[1])) as book:
    fill_demo(book)
    Board(book).all_rows()
"""
"""Fills a book with the demo, and makes the rows of its board."""
COMMANDS = {"jobs": 0.3, "check": 0.65, "day": 0.65}
"""The commands measured, and the most each should take of what it took before."""


def main() -> None:
    """Measure in a folder of its own, and print."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    parser.add_argument("--runs", type=int, default=9)
    parser.add_argument("--keys", type=int, default=60)
    parser.add_argument("--many", type=int)
    parser.add_argument("--before", type=Path)
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        os.environ["HOME"] = folder
        if asked.many is not None:
            _many(Path(folder), asked.many, asked.runs)
            return
        demo, large = _books(Path(folder))
        empty = empty_app(Path(folder))
        _starts(_app(demo), empty, asked.runs)
        for size in ((80, 24), (120, 40)):
            _keys(_app(large), empty, size, asked.keys)
        if asked.before is not None:
            _commands(Path(folder), asked.before, asked.runs)


def _books(folder: Path) -> tuple[Path, Path]:
    """A book of the demo, and one of a large property whose work is all done and signed."""
    demo, large = folder / "demo.sqlite", folder / "large.sqlite"
    with Book(demo) as book:
        fill_demo(book)
        Board(book).all_rows()
    with Book(large) as book:
        book.laptop.set_initials("AB")
        import_bytes(book, write_job(all_signed(sound_job(ZONES))).encode(), "AB")
        Board(book).all_rows()
    return demo, large


def _app(book: Path) -> list[str]:
    return [sys.executable, "-m", "fieldbook", "--book", str(book)]


def until(command: list[str], text: bytes, then: bytes = b"", next_text: bytes = b"") -> float:
    """Processor seconds of a start until a text is painted, or one after a key was pressed."""
    terminal = Terminal(command)
    try:
        found = terminal.wait_for(text)
        if then:
            terminal.send(then)
            found = terminal.wait_for(next_text)
        return found
    finally:
        terminal.stop()


def _many(folder: Path, many: int, runs: int) -> None:
    """Starts on a book of many properties and on one of ten, in turn."""
    apps = []
    for count in (10, many):
        book = folder / f"{count}.sqlite"
        fill(book, count)
        make_lines(book)
        apps.append(_app(book))
    first = b"Customer 1"
    tasks: dict[str, Callable[[list[str]], float]] = {
        "board with its rows": lambda app: until(app, first),
        "property opened": lambda app: until(app, first, b"\r", OPEN),
    }
    for name, task in tasks.items():
        taken = [[task(app) for app in apps] for _ in range(runs)]
        few, more = (1000 * statistics.median(column) for column in zip(*taken, strict=True))
        report(f"{many} properties: {name}, ms", more, few, 1.3, beside="of 10")


def _starts(app: list[str], empty: list[str], runs: int) -> None:
    """Starts of both apps in turn, as far as each figure says."""
    tasks: dict[str, tuple[float, Callable[[], float]]] = {
        "empty app, ready": (1.0, lambda: until(empty, b"eady")),
        "board with its rows": (2.0, lambda: until(app, b"Alder")),
        "board moved by a key": (2.0, lambda: until(app, b"Alder", KEY_DOWN, b"Quarry")),
        "property opened": (4.0, lambda: until(app, b"Alder", b"\r", OPEN)),
    }
    found: dict[str, list[float]] = {name: [] for name in tasks}
    for _ in range(runs):
        for name, (_, task) in tasks.items():
            found[name].append(task())
    plain = statistics.median(found["empty app, ready"])
    for name, (aim, _) in tasks.items():
        report(f"{name}, ms", 1000 * statistics.median(found[name]), 1000 * plain, aim)


def _keys(app: list[str], empty: list[str], size: tuple[int, int], count: int) -> None:
    """Keys on the large property and in an empty Input in turn; then memory and rest."""
    print(f"{ZONES} zones, every check due, {size[0]} by {size[1]}:")
    sheet, field = Terminal(app, size), Terminal(empty, size)
    field.settle(1.0)
    sheet.wait_for(b"1 property")
    sheet.send(b"\r")
    sheet.wait_for(OPEN)
    sheet.settle()
    plain: list[float] = []
    for place in (b"1", b"2", b"3", b"4", b"5"):
        sheet.send(b"\x1b" + place)
        sheet.settle()
        moves, letters = [], []
        for number in range(count):
            plain.append(field.key(b"5"))
            # Down and up again by turns, three down for one up: it walks through the sheet.
            moves.append(sheet.key(KEY_UP if number % 4 == 3 else KEY_DOWN))
        for number in range(count):
            # Four digits and back: what a value has.
            letter = b"5" if number % 8 < 4 else BACKSPACE
            plain.append(field.key(letter))
            letters.append(sheet.key(letter))
        sheet.send(b"\x1b")
        sheet.settle()
        _report_keys(f"place {place.decode()}, a key that moves", moves, plain)
        _report_keys(f"place {place.decode()}, a key that types", letters, plain)
    report("peak memory, MB", sheet.peak_mb(), field.peak_mb(), 2.2)
    written, worked, rested = sheet.written_bytes(), sheet.cpu_s(), field.cpu_s()
    time.sleep(IDLE_S)
    at_rest = field.cpu_s()
    print(f"{'idle, bytes/s written':<36} {(sheet.written_bytes() - written) / IDLE_S:8.1f}")
    report(
        "idle, ms/s worked",
        1000 * (sheet.cpu_s() - worked) / IDLE_S,
        1000 * (at_rest - rested) / IDLE_S,
        1.0,
    )
    sheet.stop()
    field.stop()


def _report_keys(what: str, ours: Sequence[float], plain: Sequence[float]) -> None:
    """The median and the 99th percentile of a key's processor time."""
    report(f"{what}, ms", 1000 * statistics.median(ours), 1000 * statistics.median(plain), 1.5)
    report("  the 99th of 100", 1000 * _p99(ours), 1000 * _p99(plain), 3.0)


def _p99(values: Sequence[float]) -> float:
    return sorted(values)[min(len(values) - 1, round(0.99 * len(values)))]


def _commands(folder: Path, before: Path, runs: int) -> None:
    """Each command as it is and as it was before, in turn, each on a book of its own."""
    here = Path(__file__).parents[1]
    books = {here: folder / "now.sqlite", before: folder / "before.sqlite"}
    for checkout, book in books.items():
        _used_s(checkout, "-c", _FILL, str(book))
    found: dict[tuple[str, Path], list[float]] = {}
    for _ in range(runs):
        for name in COMMANDS:
            for checkout, book in books.items():
                used = _used_s(checkout, "-m", "fieldbook", "--book", str(book), name)
                found.setdefault((name, checkout), []).append(used)
    for name, aim in COMMANDS.items():
        now, then = (statistics.median(found[name, checkout]) for checkout in (here, before))
        report(f"fieldbook {name}, ms", 1000 * now, 1000 * then, aim, beside="before")


def _used_s(checkout: Path, *arguments: str) -> float:
    """The processor time of a Python program that imports from a checkout."""
    environment = {**os.environ, "PYTHONPATH": str(checkout)}
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    command = subprocess.Popen(
        [sys.executable, *arguments],
        env=environment,
        cwd=checkout,
        stdout=subprocess.DEVNULL,
    )
    _, _, used = os.wait4(command.pid, 0)
    return used.ru_utime + used.ru_stime


def report(what: str, ours: float, other: float, aim: float, beside: str = "empty") -> None:
    """Print one line: our figure, the other, their ratio, and the aim."""
    print(f"{what:<36} {ours:8.1f}  {beside} {other:8.1f}  ratio {ours / other:5.2f}  aim <= {aim}")


if __name__ == "__main__":
    main()
