"""What all commands share: the open book, a refusal as one sentence, text safe for a terminal."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

from fieldbook.languages.language_texts import LANGUAGE_VARIABLE, LANGUAGES, language_named
from fieldbook.store.errors import BookError

if TYPE_CHECKING:
    from fieldbook.store.book import Book
    from fieldbook.store.book_reader import BookReader

# Imports inside the functions keep `fieldbook` from loading the record before its first frame.
# ruff: noqa: PLC0415

NO_INITIALS = "CLI"
"""Signs what a command enters on a laptop without initials."""


def in_language(command: Callable[..., None]) -> Callable[..., None]:
    """Give a command the option --language; where it is not given, the environment names it."""
    return click.option(
        "--language",
        metavar="CODE",
        envvar=LANGUAGE_VARIABLE,
        callback=_language,
        help=f"{' or '.join(LANGUAGES)}, instead of {LANGUAGE_VARIABLE}.",
    )(command)


def _language(_context: click.Context, _option: click.Parameter, code: str | None) -> str | None:
    if not code:
        return None
    language = language_named(code)
    if language is None:
        raise CommandError(f"There is no language {plain(code)}: choose {' or '.join(LANGUAGES)}.")
    return language


class CommandError(click.ClickException):
    """One sentence on standard error, and exit code 2: 1 says that a check found a stop."""

    exit_code = 2


@contextmanager
def refusals() -> Iterator[None]:
    """Turn a RefusedError or BookError into a CommandError."""
    from fieldbook.actions.refused import RefusedError

    try:
        yield
    except (RefusedError, BookError) as error:
        raise CommandError(plain(str(error))) from error


@contextmanager
def open_book(path: Path) -> Iterator[Book]:
    """The book at `path`, open until the block ends; its refusals are those of the command."""
    from fieldbook.store.book import Book

    with refusals(), Book(path) as book:
        yield book


@contextmanager
def read_book(path: Path, *, lists: bool = False) -> Iterator[BookReader]:
    """The book at `path` for reading, also while the app has it open; see `snapshot.reading`."""
    from fieldbook.store.snapshot import reading

    with refusals(), reading(path, lists=lists) as book:
        yield book


def write_file(file: Path, text: str, *, over: bool) -> None:
    """Write a new file and say so."""
    from fieldbook.actions.refused import write_new

    with refusals():
        write_new(file, text, over=over)
    click.echo(f"Wrote {file}.")


def plain(text: str) -> str:
    """Text without characters that a terminal would obey, such as escapes."""
    from fieldbook.records.printable import printable

    return printable(text)
