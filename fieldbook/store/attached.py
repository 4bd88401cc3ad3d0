"""Attached files as the store knows them: by the SHA-256 of their content, wherever they lie."""

from __future__ import annotations

import hashlib
from pathlib import Path

from fieldbook.store.sqlite.book_connection import Connection

LARGEST_ATTACHED = 200_000_000
"""Bytes of an attached file at most."""
_HEX = frozenset("0123456789abcdef")


def is_hash(word: object) -> bool:
    """Whether a value is a SHA-256 as fieldbook writes it."""
    return isinstance(word, str) and len(word) == 64 and set(word) <= _HEX


def attached_folder(book_path: Path) -> Path:
    """The folder of a book's attached files: "book.sqlite.files" beside "book.sqlite"."""
    return book_path.with_name(f"{book_path.name}.files")


def attached_path(book_path: Path, sha256: str) -> Path:
    """Where the attached file with this hash lies, or would lie."""
    return path_in(attached_folder(book_path), sha256)


def path_in(folder: Path, sha256: str) -> Path:
    """Where the file with this hash lies in a folder of files, such as "ab/ab12..."."""
    return folder / sha256[:2] / sha256


def hash_of(path: Path) -> str:
    """The SHA-256 of a file's content. Raises OSError."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def attached_hashes(connection: Connection) -> list[str]:
    """The hash of every file that some property attaches, each once."""
    rows = connection.run("SELECT DISTINCT sha256 FROM attachment ORDER BY sha256")
    return [str(row[0]) for row in rows]
