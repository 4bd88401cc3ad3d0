"""RefusedError, which every action may raise, and the files a person names: read or written whole.

Imports no record and no book, so that a command that needs neither starts at once.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from fieldbook.jobfile.parse import LARGEST_BYTES, too_large
from fieldbook.records.printable import printable
from fieldbook.store.disk import unusable_name, write_whole

_LONGEST_SHOWN = 100
"""Characters of a typed path in a sentence."""


class RefusedError(Exception):
    """An action that can't be done now: one sentence that says why, and what to do first."""


@contextmanager
def disk_errors(path: Path, done: str, check: str = "the disk") -> Iterator[None]:
    """Turn an OSError into RefusedError: "a.json can't be read (reason): check its name."."""
    try:
        yield
    except OSError as error:
        raise RefusedError(f"{path} can't be {done} ({error.strerror}): check {check}.") from error


def typed_path(typed: str) -> Path:
    """The path that a person typed; it may begin with ~.

    Raises RefusedError where no file of this laptop can have it.
    """
    try:
        path = Path(typed.strip()).expanduser()
        # Asks the system, which says what is wrong with a name; one that is free is fine.
        with suppress(FileNotFoundError, NotADirectoryError):
            path.lstat()
    except (OSError, RuntimeError, ValueError) as why:
        reason = (isinstance(why, OSError) and why.strerror) or str(why).rstrip(".")
        raise RefusedError(
            f"{printable(typed)[:_LONGEST_SHOWN]} can't be used ({reason}): type another path."
        ) from why
    return path


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
    """Raise RefusedError where a file exists that may not be written over, or can't be one."""
    wrong = unusable_name(path)
    if wrong:
        raise RefusedError(f"{printable(str(path))} {wrong}.")
    with disk_errors(path, "written", "its name"):
        if not path.exists():
            return
        # A folder or a device is never replaced, even with --over.
        if not path.is_file():
            raise RefusedError(f"{path} is no file: name another.")
    if not over:
        raise RefusedError(f"{path} is there already: name another file, or add --over.")


def write_new(path: Path, text: str, *, over: bool = False) -> None:
    """Write a file whole or not at all; raises RefusedError. A file there stays unless `over`."""
    write_bytes(path, text.encode(), over=over)


def write_bytes(path: Path, content: bytes, *, over: bool = False) -> None:
    """Write bytes as `write_new` writes text."""
    refuse_existing(path, over=over)
    with disk_errors(path, "written", "the folder and the disk"):
        write_whole(path, path.with_name(f"{path.name}.part"), content)
