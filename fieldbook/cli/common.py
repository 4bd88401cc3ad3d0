"""What all commands share: the open book, a refusal as one sentence, text safe for a terminal."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
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
def usable(path: str) -> Iterator[None]:
    """Turn what the system says of a path that no file can have into a CommandError."""
    try:
        yield
    except (OSError, RuntimeError, ValueError) as why:
        reason = (isinstance(why, OSError) and why.strerror) or str(why).rstrip(".")
        raise CommandError(f"{_shown(path)} can't be used ({reason}): name another.") from why


def reached(path: Path) -> Path:
    """The same path, once the system has looked for it. Raises as the system does."""
    with suppress(FileNotFoundError, NotADirectoryError):
        path.lstat()
    return path


class _FilePath(click.Path):
    """A path that some file may have: not empty, not too long, in a folder that can be searched."""

    def convert(
        self,
        value: str | os.PathLike[str],
        param: click.Parameter | None,
        ctx: click.Context | None,
    ) -> Path:
        """The path; an empty one, as from a variable that isn't set, would be this folder."""
        if not str(value):
            raise CommandError("An empty path was given: name a file or a folder.")
        with usable(str(value)):
            return reached(Path(value))


FILE_PATH = _FilePath()
"""The type of every argument that is a path."""
_LONGEST_SHOWN = 100


def _shown(path: str) -> str:
    """A path for a sentence; of a very long one its end."""
    return plain(path if len(path) <= _LONGEST_SHOWN else f"...{path[-_LONGEST_SHOWN:]}")


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
    click.echo(f"Wrote {plain(str(file))}.")


def plain(text: str) -> str:
    """Text without characters that a terminal would obey, such as escapes."""
    from fieldbook.records.printable import printable

    return printable(text)


@contextmanager
def progress_bar(what: str) -> Iterator[Callable[[int, int], None]]:
    """A progress bar on standard error, if that is a terminal."""
    if not sys.stderr.isatty():
        yield lambda _done, _total: None
        return
    from rich.console import Console
    from rich.progress import Progress

    with Progress(console=Console(stderr=True), transient=True) as shown:
        task = shown.add_task(what, total=None)
        yield lambda done, total: shown.update(task, completed=done, total=max(total, 1))
