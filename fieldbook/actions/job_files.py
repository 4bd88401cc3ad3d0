"""Import a job file into the book, and export one."""

from __future__ import annotations

from pathlib import Path

from fieldbook.actions.refused import RefusedError, read_file
from fieldbook.checks.common.naming import listed, row_name, sentence, short
from fieldbook.jobfile.parse import JobFileError
from fieldbook.jobfile.read import JobFile, read_job
from fieldbook.jobfile.write import write_job
from fieldbook.store.book import Book
from fieldbook.store.book_reader import BookReader
from fieldbook.store.changes import Add


def import_file(book: Book, path: Path, by: str, *, copy: bool = False) -> JobFile:
    """Import the job of a file, as one act; `copy` makes it another property with ids of its own.

    Raises RefusedError, which names the file and the place inside it; nothing is changed then.
    """
    raw = read_file(path)
    try:
        return import_bytes(book, raw, by, copy=copy)
    except (JobFileError, RefusedError) as error:
        raise RefusedError(f"{path}: {error}") from error


def import_bytes(book: Book, raw: bytes, by: str, *, copy: bool = False) -> JobFile:
    """Import the job of a file's bytes, as one act. Raises JobFileError or RefusedError."""
    found = read_job(raw, copy=copy)
    if book.board.has(found.job_id):
        raise RefusedError(
            f"the property {short(found.address)} is in the book already: import with --copy to "
            "have it twice, or remove the one in the book first."
        )
    adds = [Add(row.table, row.row_id, row.values) for row in found.rows]
    book.commit(found.job_id, adds, by=by, what=f"property {found.address} imported")
    return found


def export_text(book: BookReader, job_id: str) -> str:
    """The job file of a property. Raises RefusedError where a row names one that is gone."""
    job = book.load(job_id)
    loose = dict.fromkeys(row_name(job, link.table, link.row_id) for link in job.broken_links())
    if loose:
        raise RefusedError(
            f"{sentence(listed(list(loose), most=2))} of {short(job.job.address)} named a row that "
            "was removed: settle that with F6 first, then export."
        )
    return write_job(job)
