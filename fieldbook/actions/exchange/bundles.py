"""A property by a file: written with all that was ever entered on it, taken on another laptop."""

from __future__ import annotations

import shutil
from collections.abc import Iterable
from pathlib import Path

from fieldbook.actions.exchange.folder_exchange import Told
from fieldbook.actions.files.attached_files import folder_of, place_in
from fieldbook.actions.files.transfer import put_in_place
from fieldbook.actions.open_job import RefusedError
from fieldbook.store.book import Book
from fieldbook.store.exchange.bundle_reader import read_bundle
from fieldbook.store.exchange.bundle_writer import write_bundle
from fieldbook.store.journal.entry import Sealed
from fieldbook.store.sqlite.hashes import is_hash


def write_job_bundle(book: Book, job_id: str, path: Path, *, over: bool, files: bool) -> int:
    """Write all that was ever entered on a property to a file; the entries in it.

    Raises RefusedError with one sentence.
    """
    if path.exists() and not over:
        raise RefusedError(f"{path} is there already: name another file, or add --over.")
    entries = book.shared.entries_of_job(job_id)
    attached = _attached_here(book, entries) if files else {}
    try:
        write_bundle(path, entries, attached)
    except OSError as why:
        raise RefusedError(f"{path} can't be written ({why.strerror}).") from why
    return len(entries)


def _attached_here(book: Book, entries: Iterable[Sealed]) -> dict[str, Path]:
    hashes = {str(one.row.get("sha256")) for one in entries if one.table == "attachment"}
    places = {one: place_in(book.path, one) for one in hashes if is_hash(one)}
    return {one: place for one, place in places.items() if place.is_file()}


def take_bundle(book: Book, path: Path) -> Told:
    """Take a file of entries, and the files attached in it that the book lacks.

    Raises BookError with one sentence; nothing is changed then.
    """
    scratch = folder_of(book.path) / "coming"
    try:
        scratch.mkdir(parents=True, exist_ok=True, mode=0o700)
        bundle = read_bundle(path, lambda sha256: scratch / sha256)
        taken = book.take(bundle.entries, path.name)
        named, got = set(book.shared.attached()), 0
        for sha256, part in bundle.files.items():
            target = place_in(book.path, sha256)
            if sha256 in named and not target.is_file():
                target.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
                put_in_place(part, target, sha256)
                got += 1
    except OSError as why:
        raise RefusedError(f"{path} can't be taken ({why.strerror}): check the disk.") from why
    finally:
        shutil.rmtree(scratch, ignore_errors=True)
    differ = tuple(book.shared.in_conflict()) if taken.new else ()
    return Told(taken.new, 0, len(taken.waiting), got, 0, (), differ)
