"""What all commands share: the book, the property that is named, errors as one sentence."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

import click

from fieldbook.store.errors import BookError

if TYPE_CHECKING:
    from fieldbook.store.book import Book

# Commands import what they use when they run: `fieldbook` itself must show its first frame
# before the record and the store are imported.
# ruff: noqa: PLC0415

NO_INITIALS = "CLI"
_T = TypeVar("_T")


class ToldError(click.ClickException):
    """One sentence on standard error; exit 2, as 1 says that a check found a stop."""

    exit_code = 2


def book_at(path: Path) -> Book:
    """The book at `path`, or one sentence and exit 2."""
    from fieldbook.store.book import Book

    return told(lambda: Book(path))


def one_job(book: Book, named: str) -> str:
    """The id of the one property that is named so."""
    from fieldbook.cli.output import named_jobs

    found = told(lambda: named_jobs(book, (named,)))
    if len(found) > 1:
        raise ToldError(f"“{named}” names {len(found)} properties: type more of it.")
    return found[0].id


def write_file(file: Path, text: str, *, over: bool) -> None:
    """Write a new file and say so."""
    from fieldbook.actions.refused import write_new

    told(lambda: write_new(file, text, over=over))
    click.echo(f"Wrote {file}.")


def told(act: Callable[[], _T]) -> _T:
    """Do it; what is refused becomes one sentence on standard error and exit 2."""
    from fieldbook.actions.refused import RefusedError

    try:
        return act()
    except (RefusedError, BookError) as why:
        raise ToldError(plain(str(why))) from why


def plain(text: str) -> str:
    """Text that a terminal shows and doesn't obey."""
    from fieldbook.records.values import printable

    return printable(text)
