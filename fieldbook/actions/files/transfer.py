"""Attached files that travel with entries: by hash, only where the other end lacks them."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

from fieldbook.actions.files.attached_files import place_in
from fieldbook.actions.open_job import RefusedError
from fieldbook.store.book import Book
from fieldbook.store.journal.entry import Sealed
from fieldbook.store.sqlite.hashes import LARGEST_ATTACHED, hash_of, is_hash

_CHUNK = 1 << 20


def send_files(book: Book, there: Path, attached: Iterable[Sealed]) -> tuple[int, list[str]]:
    """Put the files that entries attach where the folder lacks them."""
    hashes = sorted({str(one.row.get("sha256")) for one in attached})
    ways = [(place_in(book.path, one), _place_there(there, one), one) for one in hashes]
    return _copy_missing(ways, f"did not go to {there}")


def get_files(book: Book, there: Path) -> tuple[int, list[str]]:
    """Take the attached files that the book lacks and the folder has."""
    hashes = book.shared.attached()
    ways = [(_place_there(there, one), place_in(book.path, one), one) for one in hashes]
    return _copy_missing(ways, f"was not taken from {there}")


def _place_there(there: Path, sha256: str) -> Path:
    return there / sha256[:2] / sha256


def _copy_missing(ways: Iterable[tuple[Path, Path, str]], failed: str) -> tuple[int, list[str]]:
    """Copy each file from one place to another that lacks it; how many, and what was refused."""
    copied, refused = 0, []
    for source, target, sha256 in ways:
        if not is_hash(sha256) or target.is_file() or not source.is_file():
            continue
        try:
            copy_checked(source, target, sha256)
            copied += 1
        except (OSError, RefusedError) as why:
            reason = (why.strerror if isinstance(why, OSError) else None) or str(why)
            refused.append(f"An attached file {failed}: {reason}.")
    return copied, refused


def copy_checked(source: Path, target: Path, sha256: str) -> None:
    """Copy a file to where its hash belongs: whole and as its hash says, or not at all."""
    if source.stat().st_size > LARGEST_ATTACHED:
        raise RefusedError("it is larger than 200 MB")
    target.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    part = target.with_name(f"{target.name}.{os.getpid()}.part")
    try:
        with source.open("rb") as held, part.open("wb") as copy:
            shutil.copyfileobj(held, copy, _CHUNK)
            copy.flush()
            os.fsync(copy.fileno())
        put_in_place(part, target, sha256)
    finally:
        part.unlink(missing_ok=True)


def put_in_place(part: Path, target: Path, sha256: str) -> None:
    """Put a file where its hash belongs. Raises RefusedError when it is another."""
    if hash_of(part) != sha256:
        raise RefusedError("it is not what its hash says")
    with suppress(OSError):
        part.chmod(0o600)
    part.replace(target)
