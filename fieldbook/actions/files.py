"""Attach a photo or paper to a row: kept beside the book by the hash of its content.

The file's own time and position are read when it holds them (EXIF); nothing is sent anywhere.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from contextlib import suppress
from pathlib import Path

from fieldbook.actions.file_state import CHUNK, hash_of, place_in, state_of
from fieldbook.actions.photos import seen_in
from fieldbook.actions.work import RefusedError, Work
from fieldbook.records.attachments import Attachment
from fieldbook.records.base import new_id
from fieldbook.records.values import Value, printable
from fieldbook.store.change import Add

LARGEST_BYTES = 200_000_000


def attach(work: Work, table: str, row_id: str, typed: str) -> str:
    """Attach the file at a typed path to a row; returns its name. Raises RefusedError."""
    path = _named(typed)
    try:
        if not path.is_file():
            raise RefusedError(f"There is no file {path}: type its whole path.")
        size = path.stat().st_size
        if size > LARGEST_BYTES:
            raise RefusedError(f"{path.name} is larger than 200 MB: attach a smaller copy.")
        sha256 = hash_of(path)
        _keep(path, place_in(work.book.path, sha256), sha256)
    except OSError as why:
        raise RefusedError(f"{path} can't be kept ({why.strerror}): check the disk.") from why
    seen = seen_in(path)
    values: dict[str, Value] = {
        "of_table": table,
        "of_row": row_id,
        "sha256": sha256,
        "name": printable(path.name)[:200],
        "size_bytes": size,
        "taken_at": seen.taken_at,
        "position": seen.position,
    }
    work.keep([Add("attachment", new_id(), values)], f"file {path.name} attached")
    return path.name


def _named(typed: str) -> Path:
    """The path that was typed, a quoted or a home one too."""
    path = Path(printable(typed).strip().strip("'\""))
    with suppress(RuntimeError):
        return path.expanduser()
    return path


def _keep(path: Path, place: Path, sha256: str) -> None:
    """Copy to a name of its own, sync, and rename: there whole or not at all."""
    if place.is_file() and hash_of(place) == sha256:
        return
    place.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    part = place.with_name(f"{place.name}.{os.getpid()}.part")
    with path.open("rb") as source, part.open("wb") as copy:
        shutil.copyfileobj(source, copy, CHUNK)
        copy.flush()
        os.fsync(copy.fileno())
    part.chmod(0o600)
    part.replace(place)


def open_outside(book_path: Path, file: Attachment) -> None:
    """Show a file with the system's own viewer. Raises RefusedError when there is none."""
    state = state_of(book_path, file)
    if state.wrong:
        raise RefusedError(f"The file {file.name} is {state.wrong}: it is not opened.")
    viewer = {"darwin": "open", "win32": "explorer"}.get(sys.platform, "xdg-open")
    found = shutil.which(viewer)
    if found is None:
        raise RefusedError(f"This system has no viewer ({viewer}): the file is {state.path}.")
    subprocess.Popen(
        [found, str(state.path)],
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
