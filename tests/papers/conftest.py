"""What the tests of papers share."""

from __future__ import annotations

from pathlib import Path

import pytest

from fieldbook.actions.job_files import import_file
from fieldbook.actions.properties import demo_files
from fieldbook.store.book import Book


@pytest.fixture
def alder_book(book_file: Path) -> Path:
    """A closed book that holds 14 Alder Lane of the demo."""
    with Book(book_file) as book:
        import_file(book, next(file for file in demo_files() if file.stem == "alder_lane"), "RO")
    return book_file
