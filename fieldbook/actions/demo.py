"""The demo properties: invented ones at different stages, each telling what is wrong with it."""

from __future__ import annotations

from pathlib import Path

from fieldbook.actions.job_files import import_file
from fieldbook.actions.open_job import RefusedError
from fieldbook.actions.properties import set_initials
from fieldbook.store.book import Book

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
