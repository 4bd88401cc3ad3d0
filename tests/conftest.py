"""What tests on disk and on the screen share: a book of their own."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from an_office import Office, a_server
from hypothesis import settings

from fieldbook.store.book import Book
from fieldbook.store.journal.origin import STATE_VARIABLE

# The gate tries the same examples each time; FIELDBOOK_EXAMPLES=random looks for new ones.
settings.register_profile("gate", derandomize=True)
settings.register_profile("random")
settings.load_profile("random" if os.environ.get("FIELDBOOK_EXAMPLES") == "random" else "gate")


@pytest.fixture(autouse=True)
def state_folder(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """This machine's tokens are not the tests'."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv(STATE_VARIABLE, str(tmp_path_factory.getbasetemp() / "state"))
        yield


@pytest.fixture
def book_file(tmp_path: Path) -> Path:
    """Where this test's book is, not made yet."""
    return tmp_path / "truck" / "book.sqlite"


@pytest.fixture
def book(book_file: Path) -> Iterator[Book]:
    """An open empty book, signed AB."""
    with Book(book_file) as opened:
        opened.laptop.set_initials("AB")
        yield opened


@pytest.fixture(scope="session")
def server() -> Iterator[str]:
    """The address of a PostgreSQL server's administrator: the one named, or one for this run."""
    with a_server() as address:
        yield address


@pytest.fixture(scope="module")
def office(server: str) -> Iterator[Office]:
    """A hub for one file of tests."""
    made = Office(server)
    yield made
    made.drop()
