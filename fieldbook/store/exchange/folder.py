"""Exchange a whole book through a folder: on a stick, or one that a program keeps in step.

Each laptop only adds bundles of its own and never changes one, and the name of a bundle holds the
hash of its content. So bundles may appear in any order, and a stick may be pulled out at any time.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path

from fieldbook.store.attached import hash_of
from fieldbook.store.book import Book
from fieldbook.store.errors import BookError
from fieldbook.store.exchange.bundle_reader import BundleError, read_bundle, shown
from fieldbook.store.exchange.bundle_writer import write_bundle
from fieldbook.store.journal.entry import Entry

NAME = "fieldbook-exchange"
_BUNDLE = re.compile(
    r"(?P<origin>[0-9a-f-]{36})-(?P<order>\d{10}-(?P<hash>[0-9a-f]{64})\.jsonl\.gz)"
)
"""The origin that wrote it, the number of its last entry in that laptop's book, and its hash."""
_MOST_ENTRIES = 5_000
"""Entries in one bundle."""


@dataclass
class FolderResult:
    """What an exchange did so far.

    `received` and `sent` count entries, `waiting` are the ids of entries that wait for a parent,
    `refused` holds a sentence for each bundle that was not accepted, and `attached` the entries
    that were sent and attach a file.
    """

    received: int = 0
    sent: int = 0
    waiting: set[str] = field(default_factory=set)
    refused: list[str] = field(default_factory=list)
    attached: list[Entry] = field(default_factory=list)


def exchange_steps(book: Book, folder: Path, result: FolderResult) -> Iterator[tuple[int, int]]:
    """Receive the bundles that the book lacks, then write what the folder lacks.

    Yields how much is done and of how much before each bundle. Every bundle is committed before the
    next, so a caller may stop at any of them. Raises BookError.
    """
    there = exchange_folder(folder)
    yield from _receive_bundles(book, there, result)
    yield from _write_bundles(book, there, result)


def exchange_folder(folder: Path) -> Path:
    """The folder of bundles in the folder that a person named, made if it is missing."""
    if not folder.is_dir():
        raise BookError(f"There is no folder {folder}: put the stick in, or make the folder first.")
    there = folder if folder.name == NAME else folder / NAME
    try:
        there.mkdir(exist_ok=True, mode=0o700)
    except OSError as why:
        raise BookError(f"{there} can't be made ({why.strerror}): check the folder.") from why
    return there


def _bundle_names(there: Path) -> list[str]:
    """The names of the bundles in a folder, those with early entries first."""
    try:
        matches = [_BUNDLE.fullmatch(name) for name in sorted(os.listdir(there))]
    except OSError as why:
        raise BookError(f"{there} can't be read ({why.strerror}): check the folder.") from why
    found = sorted((match for match in matches if match), key=lambda match: match["order"])
    return [match.string for match in found]


def _receive_bundles(book: Book, there: Path, result: FolderResult) -> Iterator[tuple[int, int]]:
    known = book.places.known_bundles()
    names = [name for name in _bundle_names(there) if name not in known]
    for number, name in enumerate(names):
        yield number, len(names)
        try:
            entries = _read_checked(there / name)
        except BundleError as why:
            result.refused.append(str(why))
            continue
        received = book.receive_bundle(entries, name)
        result.received += received.new
        result.waiting |= received.waiting


def _read_checked(path: Path) -> list[Entry]:
    """The entries of a bundle whose content has the hash in its name. Raises BundleError."""
    entries = read_bundle(path).entries
    match = _BUNDLE.fullmatch(path.name)
    if match is None or hash_of(path) != match["hash"]:
        raise BundleError(
            f"{shown(path)} is refused, because it was changed: delete it, and exchange again on "
            "the laptop that wrote it."
        )
    return entries


def _write_bundles(book: Book, there: Path, result: FolderResult) -> Iterator[tuple[int, int]]:
    """Write what no bundle in the folder holds; one that was deleted is written again."""
    present = set(_bundle_names(there))
    known = book.places.known_bundles().items()
    written_to = max((last for name, last in known if name in present), default=0)
    for entries, last in _batches(book, written_to, present):
        yield result.sent, result.sent + len(entries)
        name = f"{book.origin}-{last:010}-{{sha256}}.jsonl.gz"
        try:
            written = write_bundle(there / name, entries, {})
            _sync(there)
        except OSError as why:
            raise BookError(
                f"{there} takes no more ({why.strerror}): what was written is whole. Make room and "
                "exchange again."
            ) from why
        book.places.wrote_bundle(written.name, last)
        result.sent += len(entries)
        result.attached += [entry for entry in entries if entry.table == "attachment"]


def _batches(book: Book, number: int, present: set[str]) -> Iterator[tuple[list[Entry], int]]:
    """The entries after a number that came from no bundle in the folder, and the last's number."""
    batch: list[Entry] = []
    last = number
    for last, entry in book.shared.entries_not_from(present, number):
        batch.append(entry)
        if len(batch) == _MOST_ENTRIES:
            yield batch, last
            batch = []
    if batch:
        yield batch, last


def _sync(folder: Path) -> None:
    """Write the names in a folder to the disk, where the system can do that."""
    with suppress(OSError):
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
