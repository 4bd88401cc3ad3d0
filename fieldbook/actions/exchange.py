"""Exchange with other laptops through a folder, or a property by a file, attached files too."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from fieldbook.actions.file_state import CHUNK, hash_of, place_in
from fieldbook.actions.work import RefusedError
from fieldbook.store.book import Book
from fieldbook.store.bundle import is_hash, write_bundle
from fieldbook.store.folder import NAME, Progress, exchange_folder
from fieldbook.store.sealed import Sealed
from fieldbook.store.unbundle import LARGEST_ATTACHED, read_bundle

_FILES = "files"


@dataclass(frozen=True)
class Told:
    """What an exchange did, for a person: counts, and a sentence for each thing refused."""

    got: int
    sent: int
    waiting: int
    files_got: int
    files_sent: int
    refused: tuple[str, ...] = ()


def exchange(book: Book, folder: Path, progress: Progress) -> Told:
    """Exchange everything through a folder. Raises BookError with one sentence."""
    done = exchange_folder(book, folder, progress)
    there = (folder if folder.name == NAME else folder / NAME) / _FILES
    sent, not_sent = _send_files(book, there, done.attached)
    got, not_got = _get_files(book, there)
    refused = (*done.refused, *not_sent, *not_got)
    return Told(done.got, done.sent, len(done.waiting), got, sent, refused)


def _send_files(book: Book, there: Path, attached: Iterable[Sealed]) -> tuple[int, list[str]]:
    """Put the files that entries attach where the folder lacks them."""
    sent, refused = 0, []
    for sha256 in sorted({str(one.row.get("sha256")) for one in attached}):
        source = place_in(book.path, sha256) if is_hash(sha256) else None
        target = there / sha256[:2] / sha256
        if source is None or not source.is_file() or target.is_file():
            continue
        try:
            copy_checked(source, target, sha256)
            sent += 1
        except (OSError, RefusedError) as why:
            refused.append(f"An attached file did not go to {there}: {_reason(why)}.")
    return sent, refused


def _get_files(book: Book, there: Path) -> tuple[int, list[str]]:
    """Take the attached files that the book lacks and the folder has."""
    got, refused = 0, []
    for sha256 in book.attached():
        source, target = there / sha256[:2] / sha256, place_in(book.path, sha256)
        if not is_hash(sha256) or target.is_file() or not source.is_file():
            continue
        try:
            copy_checked(source, target, sha256)
            got += 1
        except (OSError, RefusedError) as why:
            refused.append(f"An attached file was not taken from {there}: {_reason(why)}.")
    return got, refused


def copy_checked(source: Path, target: Path, sha256: str) -> None:
    """Copy a file to where its hash belongs: whole and as its hash says, or not at all."""
    if source.stat().st_size > LARGEST_ATTACHED:
        raise RefusedError("it is larger than 200 MB")
    target.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    part = target.with_name(f"{target.name}.{os.getpid()}.part")
    try:
        with source.open("rb") as held, part.open("wb") as copy:
            shutil.copyfileobj(held, copy, CHUNK)
            copy.flush()
            os.fsync(copy.fileno())
        _put_in_place(part, target, sha256)
    finally:
        part.unlink(missing_ok=True)


def _put_in_place(part: Path, target: Path, sha256: str) -> None:
    if hash_of(part) != sha256:
        raise RefusedError("it is not what its hash says")
    with suppress(OSError):
        part.chmod(0o600)
    part.replace(target)


def _reason(why: Exception) -> str:
    return why.strerror or str(why) if isinstance(why, OSError) else str(why)


def write_job_bundle(book: Book, job_id: str, path: Path, *, over: bool, files: bool) -> int:
    """Write all that was ever entered on a property to a file; the entries in it.

    Raises RefusedError with one sentence.
    """
    if path.exists() and not over:
        raise RefusedError(f"{path} is there already: name another file, or add --over.")
    entries = book.entries_of_job(job_id)
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
    scratch = book.path.with_name(f"{book.path.name}.files") / "coming"
    try:
        scratch.mkdir(parents=True, exist_ok=True, mode=0o700)
        bundle = read_bundle(path, lambda sha256: scratch / sha256)
        taken = book.take(bundle.entries, path.name)
        named, got = set(book.attached()), 0
        for sha256, part in bundle.files.items():
            target = place_in(book.path, sha256)
            if sha256 in named and not target.is_file():
                target.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
                _put_in_place(part, target, sha256)
                got += 1
    except OSError as why:
        raise RefusedError(f"{path} can't be taken ({why.strerror}): check the disk.") from why
    finally:
        shutil.rmtree(scratch, ignore_errors=True)
    return Told(taken.new, 0, len(taken.waiting), got, 0)
