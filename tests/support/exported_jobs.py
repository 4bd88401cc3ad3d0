"""The record of a book, to compare before and after."""

from __future__ import annotations

from pathlib import Path

from fieldbook.jobfile.write import write_job
from fieldbook.store.book import Book


def exported(path: Path) -> list[str]:
    """Every job of a book, as it is exported. Raises BookError where it can't be opened."""
    with Book(path) as book:
        return [write_job(book.load(job.id)) for job in book.jobs()]
