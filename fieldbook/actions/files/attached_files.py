"""Where attached files lie beside the book, and whether they are still what was attached."""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

from fieldbook.checks.desk.file_states import FileState
from fieldbook.records.tables.attachments import Attachment
from fieldbook.store.attached import hash_of


def attached_folder(book_path: Path) -> Path:
    """The folder of a book's attached files: "book.sqlite.files" beside "book.sqlite"."""
    return book_path.with_name(f"{book_path.name}.files")


def attached_path(book_path: Path, sha256: str) -> Path:
    """Where the attached file with this hash lies, or would lie."""
    return path_in(attached_folder(book_path), sha256)


def path_in(folder: Path, sha256: str) -> Path:
    """Where the file with this hash lies in a folder of files, such as "ab/ab12..."."""
    return folder / sha256[:2] / sha256


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
