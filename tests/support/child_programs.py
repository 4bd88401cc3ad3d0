"""Programs that tests run in a process of their own and kill, to see what is on disk afterwards.

`command(program, ...)` is the command line that runs one of them. They are functions of a real
file, not text in a test, so that the type checker reads them too.
"""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Callable, Sequence
from itertools import count
from pathlib import Path

from old_books import rebuilt

from fieldbook.actions import cells
from fieldbook.actions.exchange.folder_exchange import exchange_through_folder
from fieldbook.actions.open_job import OpenJob
from fieldbook.checks.finding import CellRef
from fieldbook.store.book import Book
from fieldbook.store.sqlite.book_connection import Connection, Rows


def command(program: Callable[..., None], *arguments: object) -> list[str]:
    """The command line that runs a program of this file with these arguments, as text."""
    return [sys.executable, __file__, program.__name__, *map(str, arguments)]


def write_customers(book_file: str, job_id: str, last: str) -> None:
    """Enter "Customer 1" and so on after the last one, printing each number once committed."""
    with Book(Path(book_file)) as book:
        open_job = OpenJob(book, job_id, "AB")
        for number in count(int(last) + 1):
            cells.enter_text(open_job, CellRef("job", job_id, "customer"), f"Customer {number}")
            print(number, flush=True)


def open_counting(*book_files: str) -> None:
    """Open and close books, and print how many statements each took."""
    strike = _Strike(0)
    strike.before_statements()
    for book_file in book_files:
        strike.done = 0
        Book(Path(book_file)).close()
        print(strike.done)


def open_each_until(folder: str, strikes: str) -> None:
    """Open copies of an old book, each in a fork that dies before one of its statements.

    The folder has the book as `0/book.sqlite`, which is opened whole, and as SQL in `dump.sql`. So
    many statements die, evenly apart, and the last. Each has a folder of its own, named by the
    number of the statement. Prints each number with the signal that its fork died of. Forks, since
    each would otherwise import for a second what it needs.
    """
    whole = _Strike(0)
    whole.before_statements()
    Book(Path(folder, "0", "book.sqlite")).close()
    steps = range(1, whole.done + 1)
    for step in sorted({*steps[:: max(whole.done // int(strikes), 1)], whole.done}):
        book_file = Path(folder, str(step), "book.sqlite")
        rebuilt(Path(folder, "dump.sql"), book_file)
        if child := os.fork():
            print(step, os.WTERMSIG(os.waitpid(child, 0)[1]), flush=True)
        else:
            _Strike(step).before_statements()
            Book(book_file).close()
            os._exit(0)


def exchange_until(book_file: str, folder: str, step: str) -> None:
    """Exchange with a folder, and die before the fsync number `step`."""
    strike, fsync = _Strike(int(step)), os.fsync

    def struck(descriptor: int) -> None:
        strike()
        fsync(descriptor)

    os.fsync = struck  # type: ignore[assignment]
    with Book(Path(book_file)) as book:
        exchange_through_folder(book, Path(folder), lambda *_: None)


def exchange_in_small_parts(book_file: str, url: str) -> None:
    """Exchange with an office three entries at a time, printing how far it is after each part."""
    # Imported here, since the other programs need no office.
    from fieldbook.actions.exchange.office import exchange_with_office
    from fieldbook.store.office import office_exchange

    office_exchange._BATCHES = ((3, 4),) * 3
    with Book(Path(book_file)) as book:
        exchange_with_office(book, url, lambda *done: print(*done, flush=True))


class _Strike:
    """Kills this process at the call of a given number, counted from 1."""

    def __init__(self, at: int) -> None:
        self.at, self.done = at, 0

    def before_statements(self) -> None:
        """Count every statement on a book's connection from now on, before it runs."""
        run = Connection.run

        def struck(book: Connection, statement: str, values: Sequence[object] = ()) -> Rows:
            self()
            return run(book, statement, values)

        Connection.run = struck  # type: ignore[method-assign, assignment]

    def __call__(self) -> None:
        """Count one call; die where it is the last."""
        self.done += 1
        if self.done == self.at:
            os.kill(os.getpid(), signal.SIGKILL)


if __name__ == "__main__":
    globals()[sys.argv[1]](*sys.argv[2:])
