"""Measure the exchange with an office of many entries, and its views.

Run it: python tests/measure_hub.py [entries]

Fills a hub of a PostgreSQL server of its own, which syncs as an office's does, with so many valid
entries of many laptops (1,000,000 unless another number is given) by COPY. Then prints the time of
working out what the hub shows of each property (hub refresh), of an exchange that sends 500 and
receives 500, of one that receives 1,000, of one with nothing to do, of one that sends a cell of a
demo property and what was worked out of it, and of the views and questions. The book that exchanges
is new but for what it sends: its cursor says that it received everything up to the last thousand.
Nothing here asserts.
"""

from __future__ import annotations

import os
import sys
import tempfile
import time
from collections.abc import Callable
from functools import partial
from itertools import islice
from pathlib import Path

import psycopg

sys.path.insert(0, str(Path(__file__).with_name("support")))
sys.path.insert(0, str(Path(__file__).with_name("support") / "many_laptops"))

from an_office import VARIABLE, Office, a_server
from firm_entries import entries_of_firm, row_id_of

from fieldbook.actions.exchange.office import exchange_with_office, refresh_hub
from fieldbook.actions.job_files import import_bytes
from fieldbook.actions.properties import demo_files
from fieldbook.store.book import Book
from fieldbook.store.changes import Put
from fieldbook.store.journal.entry import Entry, as_dict
from fieldbook.store.office.ask import ask, questions
from fieldbook.store.office.office_tables import ENTRY_COLUMNS
from fieldbook.store.places import PullCursor


def copy(office: Office, some: list[Entry]) -> None:
    """Add entries at the office as its owner."""
    with psycopg.connect(office.url) as connection, connection.cursor() as cursor:
        names = [name.strip('"') for name in ENTRY_COLUMNS.split(", ")]
        with cursor.copy(f"COPY fieldbook.entry ({ENTRY_COLUMNS}) FROM STDIN".encode()) as out:
            for one in some:
                held = as_dict(one)
                out.write_row([_plain(held[name]) for name in names])


def _plain(part: object) -> object:
    return list(part) if isinstance(part, tuple) else part


def fill(office: Office, count: int, label: int) -> None:
    """Add so many entries, some thousand a transaction."""
    left = entries_of_firm(count, label)
    while some := list(islice(left, 20_000)):
        copy(office, some)


def timed(what: str, act: Callable[[], object]) -> None:
    """Print how long something takes by the clock, and of this program's processor time."""
    began, used = time.perf_counter(), time.process_time()
    found = act()
    passed, spent = 1000 * (time.perf_counter() - began), 1000 * (time.process_time() - used)
    print(f"{what:44} {passed:8.0f} ms, of it here {spent:8.0f} ms   {found}", flush=True)


def last_there(office: Office) -> PullCursor:
    """The last entry of the office."""
    ((number, one),) = office.ask("SELECT n, id FROM fieldbook.entry ORDER BY n DESC LIMIT 1")
    return PullCursor(int(str(number)), str(one))


def measure(office: Office, count: int, folder: Path) -> None:
    """Fill, exchange, look."""
    timed(f"{count} entries by COPY", lambda: fill(office, count, 0))
    office.ask("VACUUM ANALYZE")
    timed("refresh of all", lambda: refresh_hub(office.url, quiet, everything=False))
    office.ask("VACUUM ANALYZE")
    url, cursor = office.laptop(), last_there(office)
    with Book(folder / "book.sqlite") as book:
        exchange_with_office_quietly = partial(exchange_with_office, book, url, quiet)
        ((hub,),) = office.ask("SELECT id FROM fieldbook.hub")
        book.receive_from_office([], f"office {hub}", cursor)
        timed("nothing to do", exchange_with_office_quietly)
        for round_ in range(3):
            job = f"mine-{round_}"
            book.commit(job, [Put("job", job, "address", "x")], by="AB", what="new property")
            notes = [Put("note", f"{job}-{no}", "text", f"note {no}") for no in range(499)]
            book.commit(job, notes, by="AB", what="notes")
            fill(office, 500, 1 + round_)
            timed("500 sent, 500 received", exchange_with_office_quietly)
        for round_ in range(3):
            fill(office, 1000, 11 + round_)
            timed("1,000 received", exchange_with_office_quietly)
        timed("nothing to do again", exchange_with_office_quietly)
        _measure_demo_jobs(book, exchange_with_office_quietly)
    with Book(folder / "another.sqlite") as book:
        pull_all = partial(exchange_with_office, book, office.laptop(), quiet)
        timed("first pull of all", pull_all)
    timed("refresh of what is left", lambda: refresh_hub(office.url, quiet, everything=False))
    for question in questions():
        timed(f"question: {question}", lambda asked=question: len(ask(office.url, asked).rows))  # type: ignore[misc]
    job = row_id_of(0, 7)
    for what, query in (
        ("zones of one job", f"SELECT * FROM office.zone WHERE job_id = '{job}'"),
        ("one job's history", f"SELECT * FROM office.history WHERE job_id = '{job}'"),
        ("all jobs", "SELECT * FROM office.job"),
        ("all zones", "SELECT * FROM office.zone"),
        ("all conflicts", "SELECT * FROM office.conflict"),
    ):
        timed(f"view: {what}", lambda asked=query: f"{len(office.ask(asked))} rows")  # type: ignore[misc]
    print(office.ask("SELECT pg_size_pretty(pg_database_size(current_database()))")[0][0])


def quiet(_done: int, _total: int) -> None:
    """Show no progress."""


def _measure_demo_jobs(book: Book, exchange: Callable[[], object]) -> None:
    """Send each demo property, then one cell of each alone."""
    for file in demo_files():
        job_id = import_bytes(book, file.read_bytes(), "AB").job_id
        timed(f"{file.stem} sent", exchange)
        put = [Put("job", job_id, "customer", "C. Changed")]
        book.commit(job_id, put, by="AB", what="customer")
        timed(f"one cell of {file.stem} sent", exchange)


def as_at_an_office(server: str) -> Office:
    """A hub on a server that keeps what it says it keeps, which the tests' server need not."""
    office = Office(server)
    for setting in ("fsync", "full_page_writes", "synchronous_commit"):
        office.ask(f"ALTER SYSTEM SET {setting} = on")
    office.ask("SELECT pg_reload_conf()")
    return office


def main() -> None:
    """Measure and print."""
    os.environ.pop(VARIABLE, None)
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000
    with tempfile.TemporaryDirectory() as folder, a_server() as server:
        measure(as_at_an_office(server), count, Path(folder) / "truck")


if __name__ == "__main__":
    main()
