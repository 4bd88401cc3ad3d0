"""Properties on the board: add, remove, bring back, find by name; the demo; who signs entries."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

from fieldbook.actions.refused import RefusedError
from fieldbook.checks.common.naming import listed, short
from fieldbook.records.base import new_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.printable import printable
from fieldbook.records.tables.job import Job
from fieldbook.records.tables.zones import Zone
from fieldbook.store.book import Book
from fieldbook.store.book_reader import BookReader
from fieldbook.store.changes import Add, Put
from fieldbook.store.holding.keeping import Elsewhere

INITIALS_LONGEST = 8
DEMO_INITIALS = "DEMO"
_PACKAGE = Path(__file__).resolve().parent.parent


def new_property(book: Book, address: str, by: str) -> str:
    """Add a property by its address, as one act; returns the id of its job.

    It is shown in the units of the newest property. Raises RefusedError on a blank address.
    """
    address = printable(address).strip()[:400]
    if not address:
        raise RefusedError("A property needs an address: type the street and number.")
    job_id = new_id()
    add = Add("job", job_id, {"address": address, "units": book.board.usual_units() or "us"})
    book.commit(job_id, [add], by=by, what=f"new property {address}")
    return job_id


def remove_property(book: Book, job_id: str, by: str) -> None:
    """Take a property off the board, as one act; its rows stay."""
    what = f"property {book.load(job_id).job.address} removed"
    book.commit(job_id, [Put("job", job_id, "off_board", True)], by=by, what=what)


def bring_back(book: Book, by: str) -> str:
    """Put the property that was removed last back on the board; returns the id of its job.

    One that was joined with another comes back as it was; the other keeps what it has of it.

    Raises RefusedError when none is removed.
    """
    job_id = book.last_off_board()
    if job_id is None:
        raise RefusedError("No removed property to bring back: open one to undo its entries.")
    job = book.load(job_id).job
    if job.joined_with:
        # To undo the join would take back what was entered in the other property since.
        changes = [Put("job", job_id, name, None) for name in ("off_board", "joined_with")]
        book.commit(job_id, changes, by=by, what=f"property {job.address} put back")
    else:
        book.undo(job_id, by=by)
    return job_id


def find_properties(book: BookReader, names: Sequence[str]) -> list[Job]:
    """The properties with these names, or all of them where no name is given, each once.

    A name is the id, or words of the address or customer in any order. Raises RefusedError on the
    first name that matches no property.
    """
    jobs = book.jobs()
    found: list[Job] = []
    for name in names:
        matching = [job for job in jobs if _is_named(job, name)]
        if not matching:
            _refuse_elsewhere(book, name)
            raise RefusedError(f"No property matches “{name}”: fieldbook jobs lists them.")
        found += [job for job in matching if job not in found]
    return found if names else jobs


def _is_named(job: Job, name: str) -> bool:
    return name == job.id or has_words(f"{job.address} {job.customer}", name)


def has_words(text: str, name: str) -> bool:
    """Whether a text holds each word of a name, in any order."""
    words = name.casefold().split()
    return bool(words) and all(word in text.casefold() for word in words)


def find_elsewhere(book: BookReader, name: str) -> list[Elsewhere]:
    """The properties with this name of which this laptop has a line alone."""
    return [
        far
        for far in book.keeping.elsewhere()
        if name == far.job_id or has_words(f"{far.address} {far.customer}", name)
    ]


def _refuse_elsewhere(book: BookReader, name: str) -> None:
    for far in find_elsewhere(book, name):
        raise RefusedError(f"{far.address} is not on this laptop: fieldbook keep --add fetches it.")


def one_property(book: BookReader, name: str) -> Job:
    """The one property with this name. Raises RefusedError where none or several match."""
    found = find_properties(book, (name,))
    if len(found) > 1:
        raise RefusedError(f"“{name}” names {len(found)} properties: type more of it.")
    return found[0]


def zone_numbered(job: LoadedJob, number: int) -> Zone:
    """The zone of this number. Raises RefusedError where there is none, or several."""
    found = [zone for zone in job.zones if zone.number == number]
    if len(found) == 1:
        return found[0]
    if found:
        raise RefusedError(f"{len(found)} zones have the number {number}: correct it first.")
    numbers = [str(zone.number or "?") for zone in job.zones]
    known = f"its zones are {listed(numbers)}" if numbers else "it has no zone yet"
    raise RefusedError(f"{short(job.job.address)} has no zone {number}: {known}.")


def set_initials(book: Book, typed: str) -> str:
    """Set the initials that sign the entries of this laptop; returns them in capitals.

    Raises RefusedError unless they are 1 to 8 letters or digits.
    """
    initials = "".join(printable(typed).split()).upper()
    # A terminal may send Alt and a digit as a symbol, which is nobody's initial.
    if not initials.isalnum() or len(initials) > INITIALS_LONGEST:
        raise RefusedError(
            f"Type your initials, 1 to {INITIALS_LONGEST} letters or digits: every entry is signed."
        )
    book.laptop.set_initials(initials)
    return initials


def demo_files() -> list[Path]:
    """The job files of the demo properties, in the installed package or beside its source.

    Raises RefusedError when an installation lost them.
    """
    for folder in (_PACKAGE / "_demo_jobs", _PACKAGE.parent / "demo_jobs"):
        found = sorted(folder.glob("*.json"))
        if found:
            return found
    raise RefusedError("The demo properties are not installed: install fieldbook again.")


def fill_demo(book: Book) -> None:
    """Import every demo property into an empty book, signed DEMO."""
    # Imported here: no other property comes from a job file.
    from fieldbook.actions.job_files import import_file  # noqa: PLC0415

    set_initials(book, DEMO_INITIALS)
    for path in demo_files():
        import_file(book, path, DEMO_INITIALS)


@contextmanager
def demo_book() -> Iterator[Book]:
    """A scratch book that holds the demo properties until the block ends."""
    with (
        TemporaryDirectory(prefix="fieldbook-demo-") as folder,
        Book(Path(folder) / "demo.sqlite", scratch=True) as book,
    ):
        fill_demo(book)
        yield book
