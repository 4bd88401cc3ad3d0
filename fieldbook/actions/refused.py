"""RefusedError, which every action may raise, and the files a person names: read or written whole.

Imports no record and no book, so that a command that needs neither starts at once.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from fieldbook.jobfile.parse import LARGEST_BYTES, too_large


class RefusedError(Exception):
    """An action that can't be done now: one sentence that says why, and what to do first."""


@contextmanager
def disk_errors(path: Path, done: str, check: str = "the disk") -> Iterator[None]:
    """Turn an OSError into RefusedError: "a.json can't be read (reason): check its name."."""
    try:
        yield
    except OSError as error:
        raise RefusedError(f"{path} can't be {done} ({error.strerror}): check {check}.") from error


def read_file(path: Path) -> bytes:
    """The bytes of a file no larger than a job file may be. Raises RefusedError naming the file."""
    with disk_errors(path, "read", "its name"):
        size = path.stat().st_size
        if size > LARGEST_BYTES:
            raise RefusedError(f"{path}: {too_large(size)}")
        with path.open("rb") as file:
            # One byte more than allowed: a file that grew meanwhile is refused by its reader.
            return file.read(LARGEST_BYTES + 1)


def refuse_existing(path: Path, *, over: bool) -> None:
    """Raise RefusedError where a file exists that may not be written over."""
    if path.exists() and not over:
        raise RefusedError(f"{path} is there already: name another file, or add --over.")


def write_new(path: Path, text: str, *, over: bool = False) -> None:
    """Write a file whole or not at all; raises RefusedError. A file there stays unless `over`."""
    write_bytes(path, text.encode(), over=over)


def write_bytes(path: Path, content: bytes, *, over: bool = False) -> None:
    """Write bytes as `write_new` writes text."""
    refuse_existing(path, over=over)
    part = path.with_name(path.name + ".part")
    with disk_errors(path, "written", "the folder and the disk"):
        with part.open("wb") as out:
            out.write(content)
            out.flush()
            os.fsync(out.fileno())
        part.replace(path)
