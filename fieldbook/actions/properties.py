"""Open a new property, take one away, and set whose initials this laptop's entries carry."""

from __future__ import annotations

from pathlib import Path

from fieldbook.actions.job_files import import_file
from fieldbook.actions.refused import RefusedError
from fieldbook.records.base import new_id
from fieldbook.records.values import printable
from fieldbook.store.book import Book
from fieldbook.store.changes import Add, Put

INITIALS_LONGEST = 8


def new_property(book: Book, address: str, by: str) -> str:
    """Add a property by its address, shown in the units of the last one; returns the job's id.

    Raises RefusedError on an empty address.
    """
    address = printable(address).strip()[:400]
    if not address:
        raise RefusedError("A property needs an address: type the street and number.")
    job_id = new_id()
    add = Add("job", job_id, {"address": address, "units": book.board.usual_units() or "us"})
    book.commit(job_id, [add], by=by, what=f"new property {address}")
    return job_id


def remove_property(book: Book, job_id: str, by: str) -> str:
    """Take a property off the board, in one act that undo brings back; its rows stay."""
    what = f"property {book.load(job_id).job.address} removed"
    book.commit(job_id, [Put("job", job_id, "off_board", True)], by=by, what=what)
    return what


def bring_back(book: Book, by: str) -> str:
    """Put the property removed last back on the board; returns its id.

    Raises RefusedError when none is away.
    """
    job_id = book.last_removed()
    if job_id is None:
        raise RefusedError("No removed property to bring back: open one to undo its entries.")
    book.undo(job_id, by=by)
    return job_id


def set_initials(book: Book, typed: str) -> str:
    """Keep the initials typed on first run; raises RefusedError when they are none."""
    initials = "".join(printable(typed).split()).upper()
    # A terminal may send Alt and a digit as a sign, which is nobody's initial.
    if not initials.isalnum() or len(initials) > INITIALS_LONGEST:
        raise RefusedError(
            f"Type your initials, 1 to {INITIALS_LONGEST} letters or digits: every entry is signed."
        )
    book.laptop.set_initials(initials)
    return initials


DEMO_INITIALS = "DEMO"
_PACKAGE = Path(__file__).resolve().parent.parent


def demo_files() -> list[Path]:
    """The demo job files, inside the installed package or beside its source.

    Raises RefusedError when an installation lost them.
    """
    for folder in (_PACKAGE / "_demo_jobs", _PACKAGE.parent / "demo_jobs"):
        found = sorted(folder.glob("*.json"))
        if found:
            return found
    raise RefusedError("The demo properties are not installed: install fieldbook again.")


def fill_demo(book: Book) -> None:
    """Put every demo property into an empty book."""
    set_initials(book, DEMO_INITIALS)
    for path in demo_files():
        import_file(book, path, DEMO_INITIALS)
