"""Which properties this laptop holds: fetch one that is elsewhere, from the office or a folder."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

from fieldbook.actions.exchange.exchange_report import ShowProgress, counted
from fieldbook.actions.exchange.folder_exchange import FILES_FOLDER
from fieldbook.actions.files.attached_files import fetch_files
from fieldbook.actions.refused import RefusedError
from fieldbook.store.attached import attached_path
from fieldbook.store.book import Book
from fieldbook.store.exchange.fetching import Fetched, fetch_steps
from fieldbook.store.exchange.folder import exchange_folder
from fieldbook.store.paths import OFFICE_VARIABLE


def fetch_from_office(book: Book, url: str, job_id: str, progress: ShowProgress) -> int:
    """Fetch every entry of a property from the office at an address; returns how many it has.

    Raises BookError where the office can't be reached, RefusedError where it has none.
    """
    # psycopg takes long to import, and only this needs it.
    from fieldbook.store.office.office_exchange import fetch_property  # noqa: PLC0415

    count = fetch_property(
        book, url, job_id, lambda sha256: attached_path(book.path, sha256), progress
    )
    if not count:
        raise RefusedError("The office has no entries of that property: exchange with it first.")
    book.keeping.record_choice(job_id, "picked")
    return count


class FolderFetch:
    """One property on its way from a folder, a step at a time."""

    def __init__(self, book: Book, folder: Path, job_id: str) -> None:
        self._book, self._folder, self._job_id = book, folder, job_id
        self._fetched = Fetched()

    def steps(self) -> Iterator[tuple[int, int]]:
        """Read one file of the folder a step; yields how much is done and of how much.

        Raises BookError where folder or book refuses, RefusedError where the folder has nothing of
        the property.
        """
        yield from fetch_steps(self._book, self._folder, self._job_id, self._fetched)
        if not self._fetched.entries:
            refused = " ".join(self._fetched.refused)
            raise RefusedError(
                refused or f"No file in {self._folder} has that property: ask who keeps it."
            )
        fetch_files(self._book, exchange_folder(self._folder) / FILES_FOLDER)
        self._book.keeping.record_choice(self._job_id, "picked")

    def sentence(self) -> str:
        """What came."""
        return f"{counted(self._fetched.entries, 'entry', 'entries')} came from {self._folder}."


def office_address() -> str:
    """The office's address that this laptop was given, or nothing."""
    return os.environ.get(OFFICE_VARIABLE, "")


def where_from(book: Book, address: str) -> str | Path:
    """Where a property can be fetched from now: the office's address, or the folder used last.

    Raises RefusedError, with what is needed, where there is neither.
    """
    url = office_address()
    if url:
        return url
    last = book.places.last_folder()
    if last and Path(last).is_dir():
        return Path(last)
    needed = f"put the stick of {last} in" if last else "exchange with the office or a stick"
    raise RefusedError(f"{address} is not on this laptop: {needed}, then open it again.")


def fetch(book: Book, job_id: str, address: str, progress: ShowProgress) -> str:
    """Fetch a property from wherever that is possible; returns a sentence on what came.

    Raises BookError or RefusedError; the property is then not here.
    """
    source = where_from(book, address)
    if isinstance(source, Path):
        fetching = FolderFetch(book, source, job_id)
        for done, total in fetching.steps():
            progress(done, total)
        return fetching.sentence()
    count = fetch_from_office(book, source, job_id, progress)
    return f"{counted(count, 'entry', 'entries')} came from the office."
