"""The SHA-256 by which files are known, and how large one may be that is attached."""

from __future__ import annotations

import hashlib
from pathlib import Path

LARGEST_ATTACHED = 200_000_000
_HEX = frozenset("0123456789abcdef")


def is_hash(word: object) -> bool:
    """Whether it is a SHA-256 as fieldbook writes it."""
    return isinstance(word, str) and len(word) == 64 and set(word) <= _HEX


def hash_of(path: Path) -> str:
    """The SHA-256 of a file's content. Raises OSError."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()
