"""Where attached files lie beside the book, and whether they are still what was attached."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from fieldbook.checks.finding import CellRef, Finding
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


@dataclass(frozen=True)
class FileState:
    """An attached file: its path, and what is wrong with it: "missing", "altered" or nothing."""

    path: Path
    wrong: str = ""


def state_of(book_path: Path, file: Attachment) -> FileState:
    """The state of an attached file; reads all of it to compare its hash."""
    path = attached_path(book_path, file.sha256)
    try:
        if not path.is_file():
            return FileState(path, "missing")
        return FileState(path, "" if hash_of(path) == file.sha256 else "altered")
    except OSError as error:
        return FileState(path, f"unreadable ({error.strerror})")


def file_flags(book_path: Path, files: tuple[Attachment, ...]) -> list[Finding]:
    """A flag for every attached file that is missing or altered.

    It runs after every entry, so a file of the right size counts as intact and is not read.
    """
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
