"""Exchange through a folder: a stick, or a folder that something else keeps alike on two laptops.

Each laptop adds files of its own and never changes one; the name of a file holds the hash of its
content. So it does not matter in which order files appear, or that a stick is pulled out early.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path

from fieldbook.store.book import Book
from fieldbook.store.errors import BookError
from fieldbook.store.exchange.bundle_reader import BundleError, read_bundle
from fieldbook.store.exchange.bundle_writer import write_bundle
from fieldbook.store.journal.entry import Entry
from fieldbook.store.sharing_state import keep_file
from fieldbook.store.sqlite.hashes import hash_of

NAME = "fieldbook-exchange"
_FILE = re.compile(r"(?P<origin>[0-9a-f-]{36})-\d{10}-(?P<hash>[0-9a-f]{64})\.jsonl\.gz")
_MOST_ENTRIES = 5_000
"""Entries in one file."""


@dataclass
class Exchanged:
    """What an exchange did: entries that came, went and wait, files that were refused."""

    got: int = 0
    sent: int = 0
    waiting: set[str] = field(default_factory=set)
    refused: list[str] = field(default_factory=list)
    attached: list[Entry] = field(default_factory=list)
    """Of the entries that went, those that attach a file."""


def exchange_steps(book: Book, folder: Path, done: Exchanged) -> Iterator[tuple[int, int]]:
    """Take what the folder holds and the book lacks; put there what it lacks: a file a step.

    Yields how much is done, of how much; `done` tells what. Each step is kept before the next, so
    that it may end anywhere. Raises BookError.
    """
    there = ready(folder)
    yield from _get(book, there, done)
    yield from _put(book, there, done)


def ready(folder: Path) -> Path:
    """The folder of the exchange inside the one that was named, made if need be."""
    if not folder.is_dir():
        raise BookError(f"There is no folder {folder}: put the stick in, or make the folder first.")
    there = folder if folder.name == NAME else folder / NAME
    try:
        there.mkdir(exist_ok=True, mode=0o700)
    except OSError as why:
        raise BookError(f"{there} can't be made ({why.strerror}): check the folder.") from why
    return there


def _files(there: Path) -> list[str]:
    """The names of the files of entries in a folder, those that hold the first entries first."""
    try:
        names = sorted(os.listdir(there))
    except OSError as why:
        raise BookError(f"{there} can't be read ({why.strerror}): check the folder.") from why
    return sorted((name for name in names if _FILE.fullmatch(name)), key=lambda one: one[37:])


def _get(book: Book, there: Path, done: Exchanged) -> Iterator[tuple[int, int]]:
    read = book.shared.files_read()
    names = [name for name in _files(there) if name not in read]
    for number, name in enumerate(names):
        yield number, len(names)
        try:
            entries = _sound(there / name)
        except BundleError as why:
            done.refused.append(str(why))
            continue
        received = book.receive(entries, name, also=partial(keep_file, name=name))
        done.got += received.new
        done.waiting |= received.waiting


def _sound(path: Path) -> list[Entry]:
    """The entries of a file that is what its name says."""
    entries = read_bundle(path).entries
    match = _FILE.fullmatch(path.name)
    if match is None or hash_of(path) != match["hash"]:
        raise BundleError(f"{path} is refused: it was changed. Nothing was taken from it.")
    return entries


def _put(book: Book, there: Path, done: Exchanged) -> Iterator[tuple[int, int]]:
    """Write what is not in any file here; a file that is taken away is written again."""
    present = set(_files(there))
    upto = max(
        (last for name, last in book.shared.files_read().items() if name in present), default=0
    )
    for part, last in _parts(book, upto, present):
        yield done.sent, done.sent + len(part)
        name = f"{book.origin}-{last:010}-{{sha256}}.jsonl.gz"
        try:
            written = write_bundle(there / name, part, {})
            _sync(there)
        except OSError as why:
            raise BookError(
                f"{there} takes no more ({why.strerror}): what is there is whole; make room and "
                "exchange again."
            ) from why
        book.shared.wrote_file(written.name, last)
        done.sent += len(part)
        done.attached += [one for one in part if one.table == "attachment"]


def _parts(book: Book, upto: int, present: set[str]) -> Iterator[tuple[list[Entry], int]]:
    """The entries beyond a number that did not come from a file that is here, by the file."""
    part: list[Entry] = []
    last = upto
    for number, entry in book.shared.entries_not_from(present, upto):
        part.append(entry)
        last = number
        if len(part) == _MOST_ENTRIES:
            yield part, last
            part = []
    if part:
        yield part, last


def _sync(folder: Path) -> None:
    """Have the names in a folder on the disk, where the system can."""
    with suppress(OSError):
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
