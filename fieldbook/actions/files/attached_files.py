"""Where attached files are beside the book, and whether they are still what was attached."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from fieldbook.checks.finding import CellRef, Finding
from fieldbook.records.tables.attachments import Attachment
from fieldbook.store.sqlite.hashes import hash_of


def attached_folder(book_path: Path) -> Path:
    """Where a book's files are."""
    return book_path.with_name(f"{book_path.name}.files")


def attached_path(book_path: Path, sha256: str) -> Path:
    """Where the file of a hash is, or would be."""
    return attached_folder(book_path) / sha256[:2] / sha256


@dataclass(frozen=True)
class FileState:
    """An attached file: where it is, and what is wrong with it, if anything."""

    path: Path
    wrong: str = ""


def state_of(book_path: Path, file: Attachment) -> FileState:
    """Whether an attached file is there and is what was attached."""
    path = attached_path(book_path, file.sha256)
    try:
        if not path.is_file():
            return FileState(path, "missing")
        return FileState(path, "" if hash_of(path) == file.sha256 else "altered")
    except OSError as why:
        return FileState(path, f"unreadable ({why.strerror})")


def file_flags(book_path: Path, files: tuple[Attachment, ...]) -> list[Finding]:
    """A flag for every attached file that is missing or altered. Sizes are compared first."""
    found = []
    for file in files:
        path = attached_path(book_path, file.sha256)
        same_size = path.is_file() and path.stat().st_size == file.size_bytes
        wrong = "" if same_size else state_of(book_path, file).wrong
        if wrong:
            found.append(
                Finding(
                    f"file {wrong.split()[0]}",
                    "fix",
                    f"The attached file {file.name} is {wrong} beside the book.",
                    f"Put it back from a copy, or attach it again. It belongs at {path}.",
                    CellRef("attachment", file.id, "note"),
                )
            )
    return found
