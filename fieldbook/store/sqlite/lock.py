"""Who has the book open: a small file beside it, which a second program reads to name the first.

The lock itself is SQLite's (locking_mode=EXCLUSIVE); this file only explains it.
"""

from __future__ import annotations

import json
import os
import socket
from pathlib import Path

from fieldbook.records.base import now


def _path(book: Path) -> Path:
    return book.with_name(book.name + ".held")


def write_holder(book: Path) -> None:
    """Write that this process has the book open; a failure is ignored, as the lock holds anyway."""
    holder = {"pid": os.getpid(), "host": socket.gethostname(), "since": now()}
    try:
        descriptor = os.open(_path(book), os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
        with os.fdopen(descriptor, "w", encoding="utf-8") as out:
            json.dump(holder, out)
    except OSError:
        return


def clear_holder(book: Path) -> None:
    """Delete the file when the book is closed."""
    _path(book).unlink(missing_ok=True)


def holder_sentence(book: Path) -> str:
    """One sentence that names the program that has the book open, and what to do."""
    try:
        holder = json.loads(_path(book).read_text(encoding="utf-8"))
        who = f"process {int(holder['pid'])} on {holder['host']}, since {holder['since']}"
    except (OSError, ValueError, KeyError, TypeError):
        who = "another program"
    return f"The book {book} is already open ({who}): close fieldbook there first."
