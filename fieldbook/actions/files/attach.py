"""Attach a photo or paper to a row: kept beside the book by the hash of its content.

The file's own time and position are read when it holds them (EXIF); nothing is sent anywhere.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
from contextlib import suppress
from pathlib import Path

from fieldbook.actions.files.attached_files import place_in, state_of
from fieldbook.actions.files.photos import seen_in
from fieldbook.actions.files.transfer import copy_checked
from fieldbook.actions.open_job import OpenJob, RefusedError
from fieldbook.records.base import new_id
from fieldbook.records.tables.attachments import Attachment
from fieldbook.records.values import Value, printable
from fieldbook.store.changes import Add
from fieldbook.store.sqlite.hashes import LARGEST_ATTACHED, hash_of


def attach(open_job: OpenJob, table: str, row_id: str, typed: str) -> str:
    """Attach the file at a typed path to a row; returns its name. Raises RefusedError."""
    path = _named(typed)
    try:
        if not path.is_file():
            raise RefusedError(f"There is no file {path}: type its whole path.")
        size = path.stat().st_size
        if size > LARGEST_ATTACHED:
            raise RefusedError(f"{path.name} is larger than 200 MB: attach a smaller copy.")
        sha256 = hash_of(path)
        _keep(path, place_in(open_job.book.path, sha256), sha256)
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
    open_job.keep([Add("attachment", new_id(), values)], f"file {path.name} attached")
    return path.name


def _named(typed: str) -> Path:
    """The path that was typed, a quoted or a home one too."""
    path = Path(printable(typed).strip().strip("'\""))
    with suppress(RuntimeError):
        return path.expanduser()
    return path


def _keep(path: Path, place: Path, sha256: str) -> None:
    """Keep a copy, unless it is there already."""
    if place.is_file() and hash_of(place) == sha256:
        return
    try:
        copy_checked(path, place, sha256)
    except RefusedError as why:
        raise RefusedError(f"{path.name} is not kept: {why}. Attach it again.") from why


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
