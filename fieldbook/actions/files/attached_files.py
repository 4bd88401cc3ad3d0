"""Attached files beside the book, by hash: where each lies, its state, copies to and fro."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

from fieldbook.actions.refused import RefusedError
from fieldbook.checks.desk.file_states import FileState
from fieldbook.records.tables.attachments import Attachment
from fieldbook.store.attached import (
    LARGEST_ATTACHED,
    attached_folder,
    attached_path,
    hash_of,
    is_hash,
    path_in,
)
from fieldbook.store.book import Book
from fieldbook.store.disk import new_private, replace, sync_file
from fieldbook.store.journal.entry import Entry

_CHUNK = 1 << 20


def state_of(book_path: Path, file: Attachment) -> FileState:
    """The state of an attached file; reads all of it to compare its hash."""
    path = attached_path(book_path, file.sha256)
    try:
        if not path.is_file():
            return FileState(path, "missing")
        return FileState(path, "" if hash_of(path) == file.sha256 else "altered")
    except OSError as error:
        return FileState(path, f"unreadable ({error.strerror})")


def file_states(book_path: Path, files: Iterable[Attachment]) -> dict[str, FileState]:
    """The state of each attached file, by its hash.

    A file of the size that was attached counts as unaltered: reading all of every photo takes too
    long. The whole file is read where its size differs, and before it is opened.
    """
    found: dict[str, FileState] = {}
    for file in files:
        path = attached_path(book_path, file.sha256)
        with suppress(OSError):
            if path.stat().st_size == file.size_bytes and path.is_file():
                found[file.sha256] = FileState(path)
                continue
        found[file.sha256] = state_of(book_path, file)
    return found


def send_files(book: Book, there: Path, attached: Iterable[Entry]) -> tuple[int, list[str]]:
    """Copy the files that entries attach to the folder `there`; returns a count and refusals."""
    hashes = sorted({str(entry.row.get("sha256")) for entry in attached})
    return _copy_missing(hashes, attached_folder(book.path), there, f"did not go to {there}")


def fetch_files(book: Book, there: Path) -> tuple[int, list[str]]:
    """Copy the files that the book lacks from the folder `there`; returns a count and refusals."""
    hashes, here = book.shared.attached(), attached_folder(book.path)
    return _copy_missing(hashes, there, here, f"was not taken from {there}")


def _copy_missing(
    hashes: Iterable[str], source: Path, target: Path, failed: str
) -> tuple[int, list[str]]:
    """Copy each file from one folder to the other, if that lacks it and the first one has it."""
    copied, refused = 0, []
    for sha256 in hashes:
        # An entry of a stranger may hold anything for a hash, also a path such as "../..".
        if not is_hash(sha256):
            continue
        original, copy = path_in(source, sha256), path_in(target, sha256)
        if copy.is_file() or not original.is_file():
            continue
        try:
            copy_checked(original, copy, sha256)
            copied += 1
        except (OSError, RefusedError) as error:
            reason = (error.strerror if isinstance(error, OSError) else None) or str(error)
            refused.append(f"An attached file {failed}: {reason}.")
    return copied, refused


def copy_checked(source: Path, target: Path, sha256: str) -> None:
    """Copy a file whole, and only if its content has this hash.

    Raises RefusedError, with a reason that completes a sentence, or OSError.
    """
    if source.stat().st_size > LARGEST_ATTACHED:
        raise RefusedError("it is larger than 200 MB")
    target.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    part = target.with_name(f"{target.name}.{os.getpid()}.part")
    try:
        with source.open("rb") as original, new_private(part) as copy:
            shutil.copyfileobj(original, copy, _CHUNK)
            sync_file(copy)
        put_in_place(part, target, sha256)
    finally:
        part.unlink(missing_ok=True)


def put_in_place(part: Path, target: Path, sha256: str) -> None:
    """Move a file to its target if its content has this hash. Raises as `copy_checked` does."""
    if hash_of(part) != sha256:
        raise RefusedError("it is not what its hash says")
    target.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    replace(part, target)
