"""Exchange a whole book through a folder: on a stick, or one that a program keeps in step.

Each laptop only adds bundles of its own, and the name of a bundle holds the hash of its content. So
bundles may appear in any order, and a stick may be pulled out at any time. A bundle that is spoilt
is written again by the laptop that made it (`folder_state.py`).
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from fieldbook.store.book import Book
from fieldbook.store.disk import sync_folder
from fieldbook.store.errors import BookError
from fieldbook.store.exchange.bundle_reader import Bundle, BundleError, read_bundle, shown
from fieldbook.store.exchange.bundle_writer import ROOM_FOR_SEALS, fitting, write_bundle
from fieldbook.store.exchange.folder_state import FolderState, as_written, gaps, mark_spoilt
from fieldbook.store.journal.entry import Entry
from fieldbook.store.places import WrittenBundle
from fieldbook.store.seals.seal_table import Stored

NAME = "fieldbook-exchange"
_MOST_ENTRIES = 5_000
"""Entries in one bundle."""


@dataclass
class FolderResult:
    """What an exchange did so far.

    `received` and `sent` count entries, `waiting` are the ids of entries that wait for a parent,
    `refused` holds a sentence for each bundle that was not accepted, and `attached` the entries
    that were sent and attach a file. `unsigned` and `wrongly_signed` count received entries whose
    maker nothing proves; `warnings` are sentences on that, and on entries that were refused.
    """

    received: int = 0
    sent: int = 0
    waiting: set[str] = field(default_factory=set)
    refused: list[str] = field(default_factory=list)
    attached: list[Entry] = field(default_factory=list)
    unsigned: int = 0
    wrongly_signed: int = 0
    warnings: list[str] = field(default_factory=list)


def exchange_steps(
    book: Book, folder: Path, result: FolderResult, *, anew: bool = False
) -> Iterator[tuple[int, int]]:
    """Receive the bundles that the book lacks, then write what the folder lacks.

    Yields how much is done and of how much before each bundle. Every bundle is committed before the
    next, so a caller may stop at any of them. `anew` reads every own bundle again, and writes those
    that are not as they were written. Raises BookError.
    """
    there = exchange_folder(folder)
    place = str(there.absolute())
    if not anew and book.places.nothing_new(place, _state(book, there)):
        return
    result.warnings += filter(None, [book.seal_entries()])
    yield from _receive_bundles(book, there, result)
    yield from _write_bundles(book, there, result, anew=anew)
    if not result.refused:
        book.places.remember_state(place, _state(book, there))


def _state(book: Book, there: Path) -> str:
    """The folder's names and sizes and the book's last entry and seal, as one hash."""
    listed = FolderState(there).fingerprint()
    here = f"{book.places.last_number()} {book.shared.last_seal()}"
    return hashlib.sha256(f"{here} {listed}".encode()).hexdigest()


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


def _receive_bundles(book: Book, there: Path, result: FolderResult) -> Iterator[tuple[int, int]]:
    # Also those that were passed over while a property in them was not held here.
    known = book.places.known_bundles().keys() - book.keeping.files_to_read_again()
    names = [name for name in FolderState(there).names() if name not in known]
    for number, name in enumerate(names):
        yield number, len(names)
        try:
            bundle = read_checked(there / name)
        except BundleError as why:
            result.refused.append(str(why))
            mark_spoilt(there / name)
            continue
        received = book.receive_bundle(bundle.entries, name, bundle.seals)
        result.received += received.new
        result.waiting |= received.waiting
        result.unsigned += received.unsigned
        result.wrongly_signed += received.wrongly_signed
        result.warnings += received.warnings


def read_checked(path: Path) -> Bundle:
    """The content of a bundle, which has the hash in its name. Raises BundleError."""
    bundle = read_bundle(path)
    if not as_written(path):
        raise BundleError(
            f"{shown(path)} is refused, because it was changed: exchange again on the laptop that "
            "wrote it, which then writes it anew."
        )
    return bundle


def _write_bundles(
    book: Book, there: Path, result: FolderResult, *, anew: bool
) -> Iterator[tuple[int, int]]:
    """Write what no whole bundle in the folder holds."""
    state, own = FolderState(there), book.places.written_bundles()
    whole = state.whole(own, anew=anew)
    written: set[str] = set()
    for after, upto in gaps(own[name] for name in whole & own.keys()):
        for entries, covered in _batches(book, after, upto, whole):
            yield result.sent, result.sent + len(entries)
            seals = fitting(book.shared.seals_naming(entries))
            written.add(_write_bundle(book, there, covered, entries, seals))
            result.sent += len(entries)
            result.attached += [entry for entry in entries if entry.table == "attachment"]
    # Seals that no bundle here holds, such as the first ones of a book that went unsigned before.
    held = book.places.written_seals(whole | written)
    missing = [number for number in book.shared.seals_not_from(whole) if number not in held]
    last = book.places.last_number()
    for seals in book.shared.seals_numbered(missing, ROOM_FOR_SEALS):
        # The range of a bundle that covers no entry.
        written.add(_write_bundle(book, there, (last + 1, last), [], seals))
    state.remove_spoilt(own.keys() & set(state.names()) - whole, written)


def _write_bundle(
    book: Book,
    there: Path,
    covered: tuple[int, int],
    entries: list[Entry],
    seals: list[Stored],
) -> str:
    """Write one bundle, which covers these numbers of the book's entries; returns its name."""
    name = f"{book.origin}-{covered[1]:010}-{{sha256}}.jsonl.gz"
    try:
        file = write_bundle(there / name, entries, {}, [stored.seal for stored in seals])
        sync_folder(there)
    except OSError as why:
        raise BookError(
            f"{there} takes no more ({why.strerror}): what was written is whole. Make room and "
            "exchange again."
        ) from why
    numbers = [stored.number for stored in seals]
    book.places.wrote_bundle(file.name, WrittenBundle(*covered, file.stat().st_size), numbers)
    return file.name


def _batches(
    book: Book, after: int, upto: int | None, whole: set[str]
) -> Iterator[tuple[list[Entry], tuple[int, int]]]:
    """The entries in a range of numbers that came from no whole bundle in the folder, in batches.

    Yields each batch with the numbers that it covers: the last of a range covers all of the rest.
    """
    batch: list[Entry] = []
    first = last = after
    for number, entry in book.shared.entries_not_from(whole, after):
        if upto is not None and number > upto:
            break
        if len(batch) == _MOST_ENTRIES:
            yield batch, (first + 1, last)
            batch, first = [], last
        batch.append(entry)
        last = number
    if batch:
        yield batch, (first + 1, last if upto is None else upto)
