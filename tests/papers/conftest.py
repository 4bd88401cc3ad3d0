"""What the tests of papers share."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from fieldbook.actions.job_files import import_file
from fieldbook.actions.properties import demo_files
from fieldbook.store.book import Book


@pytest.fixture(scope="session")
def alder_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of a closed book that holds 14 Alder Lane of the demo; nobody changes it."""
    folder = tmp_path_factory.mktemp("alder")
    with Book(folder / "book.sqlite") as book:
        import_file(book, next(file for file in demo_files() if file.stem == "alder_lane"), "RO")
    return folder


@pytest.fixture
def alder_book(alder_once: Path, book_file: Path) -> Path:
    """A copy of that book, which a test may change."""
    shutil.copytree(alder_once, book_file.parent)
    return book_file
