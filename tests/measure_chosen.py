"""Measure a laptop that holds chosen properties beside one that holds the whole firm.

Run it: python tests/measure_chosen.py [entries [chosen]]

Fills a hub of a PostgreSQL server of its own with so many valid entries (100,000 unless another
number is given; a property has 50). Then prints what the first exchange of a whole book takes, and
of one that holds chosen properties (20), what fetching one takes, an exchange after 1,000 entries
of others, one with nothing to do, a property put away, and the size of each book with what is
beside it. The office has worked out no board rows: lines are made of the properties' own entries.
Nothing here asserts.
"""

from __future__ import annotations

import os
import sys
import tempfile
from functools import partial
from pathlib import Path

sys.path.insert(0, str(Path(__file__).with_name("support")))
sys.path.insert(0, str(Path(__file__).with_name("support") / "many_laptops"))

from an_office import VARIABLE, Office, a_server
from firm_entries import PER_PROPERTY, row_id_of
from measure_hub import as_at_an_office, fill, quiet, timed

from fieldbook.actions.exchange.office import exchange_with_office
from fieldbook.actions.holding.fetch_property import fetch_from_office
from fieldbook.actions.holding.leave_laptop import put_away
from fieldbook.store.book import Book
from fieldbook.store.changes import Put


def size_mb(folder: Path) -> str:
    """The megabytes of a book, and of all that is in its folder."""
    book = (folder / "book.sqlite").stat().st_size
    every = sum(file.stat().st_size for file in folder.rglob("*") if file.is_file())
    return f"{book / 1e6:.1f} MB of book, {every / 1e6:.1f} MB with journal and backups"


def measure(office: Office, count: int, chosen: int, folder: Path) -> None:
    """Fill, exchange, look."""
    timed(f"{count} entries by COPY", lambda: fill(office, count, 0))
    office.ask("VACUUM ANALYZE")
    _measure_chosen(office, count, chosen, folder / "chosen")
    with Book(folder / "whole" / "book.sqlite") as book:
        exchange = partial(exchange_with_office, book, office.laptop(), quiet)
        timed("whole: first exchange", lambda: exchange().received)
        timed("whole: nothing to do", lambda: exchange().received)
    print(f"whole: {size_mb(folder / 'whole')}")


def _measure_chosen(office: Office, count: int, chosen: int, folder: Path) -> None:
    url = office.laptop()
    with Book(folder / "book.sqlite") as book:
        book.keeping.keep_chosen()
        job = "mine"
        book.commit(job, [Put("job", job, "address", "1 Own Street")], by="AB", what="property")
        exchange = partial(exchange_with_office, book, url, quiet)
        timed("chosen: first exchange, lines alone", lambda: exchange().received)
        step = max(count // PER_PROPERTY // chosen, 1)
        jobs = [row_id_of(0, number * step) for number in range(chosen)]
        for number, job_id in enumerate(jobs):
            act = partial(fetch_from_office, book, url, job_id, quiet)
            if number < 3:
                timed("chosen: a property fetched", act)
            else:
                act()
        timed("chosen: nothing to do", lambda: exchange().received)
        fill(office, 1000, 11)
        timed("chosen: 1,000 entries of others", lambda: exchange().received)
        timed("chosen: a property put away", lambda: put_away(book, jobs[0]))
        timed("chosen: it is fetched again", lambda: fetch_from_office(book, url, jobs[0], quiet))
        held, far = len(book.keeping.held_jobs()), book.keeping.count_elsewhere()
    print(f"chosen: {held} held, {far} lines; {size_mb(folder)}")


def main() -> None:
    """Measure and print."""
    numbers = [int(word) for word in sys.argv[1:]]
    count, chosen = (numbers + [100_000, 20][len(numbers) :])[:2]
    os.environ.pop(VARIABLE, None)
    with a_server() as server, tempfile.TemporaryDirectory() as folder:
        office = as_at_an_office(server)
        measure(office, count, chosen, Path(folder))
        office.drop()


if __name__ == "__main__":
    main()
