"""Attached files that travel with entries: by hash, only where the other end lacks them."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

from fieldbook.actions.file_state import CHUNK, hash_of, place_in
from fieldbook.actions.work import RefusedError
from fieldbook.store.book import Book
from fieldbook.store.bundle import is_hash
from fieldbook.store.sealed import Sealed
from fieldbook.store.unbundle import LARGEST_ATTACHED


def send_files(book: Book, there: Path, attached: Iterable[Sealed]) -> tuple[int, list[str]]:
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


def get_files(book: Book, there: Path) -> tuple[int, list[str]]:
    """Take the attached files that the book lacks and the folder has."""
    got, refused = 0, []
    for sha256 in book.shared.attached():
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


def _reason(why: Exception) -> str:
    return why.strerror or str(why) if isinstance(why, OSError) else str(why)
