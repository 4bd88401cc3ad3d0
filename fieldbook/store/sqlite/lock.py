"""Who holds the book: a small file beside it that a second instance reads."""

from __future__ import annotations

import json
import os
import socket
from pathlib import Path

from fieldbook.records.base import now


def _file(book: Path) -> Path:
    return book.with_name(book.name + ".held")


def write_holder(book: Path) -> None:
    """Say that this process holds the book; a failure to say so harms nothing."""
    about = {"pid": os.getpid(), "host": socket.gethostname(), "since": now()}
    try:
        descriptor = os.open(_file(book), os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
        with os.fdopen(descriptor, "w", encoding="utf-8") as out:
            json.dump(about, out)
    except OSError:
        return


def clear_holder(book: Path) -> None:
    """Take the file away when the book is closed."""
    _file(book).unlink(missing_ok=True)


def holder_sentence(book: Path) -> str:
    """One sentence on who holds the book and what to do."""
    try:
        about = json.loads(_file(book).read_text(encoding="utf-8"))
        who = f"process {int(about['pid'])} on {about['host']}, since {about['since']}"
    except (OSError, ValueError, KeyError, TypeError):
        who = "another program"
    return f"The book {book} is already open ({who}): close fieldbook there first."
