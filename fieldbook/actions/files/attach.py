"""Attach a photo or paper to a row, and open one in the system's viewer.

The time and position that a photo holds (EXIF) are read on this laptop; nothing is sent anywhere.
"""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

from fieldbook.actions.files.attached_files import copy_checked, state_of
from fieldbook.actions.files.photos import is_picture_name, photo_facts
from fieldbook.actions.files.system_viewer import show_outside
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError, disk_errors
from fieldbook.records.fact import LONGEST_TEXT
from fieldbook.records.printable import printable
from fieldbook.records.tables.attachments import Attachment
from fieldbook.records.values import Value
from fieldbook.store.attached import LARGEST_ATTACHED, attached_path, hash_of


def attach(open_job: OpenJob, table: str, row_id: str, typed: str, shows: str = "") -> str:
    """Attach the file at a typed path to a row, as one act; returns the file's name.

    A name without a folder is looked for in the folder used last; a blank takes the newest photo
    there that this job does not have yet. `shows` says what is to be seen on it.
    Raises RefusedError where there is no such file, it is larger than 200 MB, or the disk refuses.
    Undo takes the attachment off the row; the copy stays beside the book.
    """
    path = _chosen_path(open_job, typed)
    with disk_errors(path, "kept"):
        if not path.is_file():
            raise RefusedError(f"There is no file {path}: type its whole path.")
        size = path.stat().st_size
        if size > LARGEST_ATTACHED:
            raise RefusedError(f"{path.name} is larger than 200 MB: attach a smaller copy.")
        sha256 = hash_of(path)
        _keep_copy(path, attached_path(open_job.book.path, sha256), sha256)
    photo = photo_facts(path)
    values: dict[str, Value] = {
        "of_table": table,
        "of_row": row_id,
        "sha256": sha256,
        "name": printable(path.name)[:200],
        "size_bytes": size,
        "taken_at": photo.taken_at,
        "position": photo.position,
        "note": printable(shows)[:LONGEST_TEXT],
    }
    open_job.add("attachment", values, f"file {path.name} attached")
    open_job.book.places.remember_photos(str(path.absolute().parent))
    return path.name


def newest_photo(open_job: OpenJob) -> Path | None:
    """The newest picture in the folder used last that this job does not have yet, by its name."""
    last = open_job.book.places.last_photos()
    held = {file.name for file in open_job.job.attachments}
    # The folder may be on a stick that is no longer there.
    with suppress(OSError):
        there = [
            path
            for path in (Path(last).iterdir() if last else ())
            if is_picture_name(path.name) and printable(path.name)[:200] not in held
        ]
        return max(there, key=lambda path: (path.stat().st_mtime, path.name), default=None)
    return None


def _chosen_path(open_job: OpenJob, typed: str) -> Path:
    """The path that was typed; the newest photo where nothing was. Raises RefusedError."""
    if not typed.strip():
        newest = newest_photo(open_job)
        if newest is None:
            raise RefusedError("No new photo is in the folder used last: type its whole path.")
        return newest
    path, last = _typed_path(typed), open_job.book.places.last_photos()
    return Path(last) / path if last and len(path.parts) == 1 and not path.exists() else path


def _typed_path(typed: str) -> Path:
    """The path that was typed; it may be in quotes, and begin with ~."""
    path = Path(printable(typed).strip().strip("'\""))
    # "~nobody/x" names no home folder: the path is then refused as it was typed.
    with suppress(RuntimeError):
        return path.expanduser()
    return path


def _keep_copy(path: Path, target: Path, sha256: str) -> None:
    """Copy the file beside the book, unless a sound copy is there already."""
    if target.is_file() and hash_of(target) == sha256:
        return
    try:
        copy_checked(path, target, sha256)
    except RefusedError as error:
        raise RefusedError(f"{path.name} is not kept: {error}. Attach it again.") from error


def open_outside(book_path: Path, file: Attachment) -> None:
    """Show an attached file in the system's viewer.

    Raises RefusedError where the file is missing or altered, or there is no viewer.
    """
    state = state_of(book_path, file)
    if state.wrong:
        raise RefusedError(f"The file {file.name} is {state.wrong}: it is not opened.")
    show_outside(state.path)
