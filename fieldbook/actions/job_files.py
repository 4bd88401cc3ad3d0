"""Take a job file into the book, and write one out."""

from __future__ import annotations

import os
from pathlib import Path

from fieldbook.actions.open_job import RefusedError
from fieldbook.checks.common.naming import listed, row_name, sentence
from fieldbook.jobfile.parse import too_large
from fieldbook.jobfile.read import JobFile, read_job
from fieldbook.jobfile.write import LARGEST_BYTES, JobFileError, write_job
from fieldbook.records.broken_links import lost
from fieldbook.store.book import Book
from fieldbook.store.changes import Add


def import_file(book: Book, path: Path, by: str, *, copy: bool = False) -> JobFile:
    """Take the job of a file into the book, as one act. `copy`: as another property.

    Raises RefusedError with one sentence that names the file and the place inside; nothing is
    changed then.
    """
    raw = read_bytes(path)
    try:
        return import_bytes(book, raw, by, copy=copy)
    except JobFileError as why:
        raise RefusedError(f"{path}: {why}") from why
    except RefusedError as why:
        raise RefusedError(f"{path}: {why}") from why


def import_bytes(book: Book, raw: bytes, by: str, *, copy: bool = False) -> JobFile:
    """Take the job of a file's bytes into the book. Raises JobFileError or RefusedError."""
    found = read_job(raw, copy=copy)
    if book.board.has(found.job_id):
        raise RefusedError(
            f"the property {found.address} is in the book already: import with --copy to have "
            "it twice, or remove the one in the book first."
        )
    adds = [Add(row.table, row.row_id, row.values) for row in found.rows]
    book.commit(found.job_id, adds, by=by, what=f"property {found.address} imported")
    return found


def export_text(book: Book, job_id: str) -> str:
    """The job file of a property.

    Raises RefusedError where a line names what is gone: no book would take such a file.
    """
    job = book.load(job_id)
    loose = list(dict.fromkeys(row_name(job, one.table, one.row_id) for one in lost(job)))
    if loose:
        raise RefusedError(
            f"{sentence(listed(loose))} of {job.job.address} named what was removed since: settle "
            "that with F6 first, then export."
        )
    return write_job(job)


def write_new(path: Path, text: str, *, over: bool = False) -> None:
    """Write a file whole or not at all; one that is there stays unless `over`.

    Raises RefusedError with one sentence.
    """
    if path.exists() and not over:
        raise RefusedError(f"{path} is there already: name another file, or add --over.")
    beside = path.with_name(path.name + ".part")
    try:
        with beside.open("w", encoding="utf-8") as out:
            out.write(text)
            out.flush()
            os.fsync(out.fileno())
        beside.replace(path)
    except OSError as why:
        raise RefusedError(f"{path} can't be written ({why.strerror}).") from why


def read_bytes(path: Path) -> bytes:
    """The bytes of a file no larger than a job file may be. Raises RefusedError naming it."""
    try:
        size = path.stat().st_size
        if size > LARGEST_BYTES:
            raise RefusedError(f"{path}: {too_large(size)}")
        with path.open("rb") as file:
            return file.read(LARGEST_BYTES + 1)
    except OSError as why:
        raise RefusedError(f"{path} can't be read ({why.strerror}).") from why
