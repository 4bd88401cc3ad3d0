"""Fetch a property that is not on this laptop, from the office or from a folder as on a stick."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from threading import Thread

from fieldbook.actions.exchange.exchange_report import ExchangeReport, ShowProgress, counted
from fieldbook.actions.exchange.folder_exchange import FILES_FOLDER
from fieldbook.actions.files.attached_files import fetch_files
from fieldbook.actions.properties import find_elsewhere, one_property
from fieldbook.actions.refused import RefusedError
from fieldbook.store.attached import attached_path
from fieldbook.store.book import Book
from fieldbook.store.book_reader import BookReader
from fieldbook.store.errors import BookError
from fieldbook.store.exchange.fetching import Fetched, fetch_steps
from fieldbook.store.exchange.folder import exchange_folder
from fieldbook.store.holding.keeping import Elsewhere
from fieldbook.store.journal.entry import Entry
from fieldbook.store.journal.receive import Received
from fieldbook.store.paths import OFFICE_VARIABLE
from fieldbook.store.seals.seal import Seal

_NONE_THERE = "The office has no entries of that property: exchange with it first."


def fetch_from_office(book: Book, url: str, job_id: str, progress: ShowProgress) -> ExchangeReport:
    """Fetch every entry of a property, and its files, from the office at an address.

    Raises BookError where the office can't be reached, RefusedError where it has none.
    """
    # psycopg takes long to import, and only this needs it.
    from fieldbook.store.office.office_exchange import fetch_property  # noqa: PLC0415

    count, result = fetch_property(
        book, url, job_id, lambda sha256: attached_path(book.path, sha256), progress
    )
    if not count:
        raise RefusedError(_NONE_THERE)
    book.keeping.record_choice(job_id, "picked")
    return ExchangeReport(
        received=count,
        sent=0,
        waiting=0,
        files_received=result.files_received,
        files_sent=0,
        refused=tuple(sorted(result.refused)),
        notes=tuple(result.warnings),
        unsigned=result.unsigned,
        wrongly_signed=result.wrongly_signed,
    )


class FolderFetch:
    """One property on its way from a folder, a step at a time."""

    def __init__(self, book: Book, folder: Path, job_id: str) -> None:
        self._book, self._folder, self._job_id = book, folder, job_id
        self._fetched, self._files = Fetched(), 0

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
        there = exchange_folder(self._folder) / FILES_FOLDER
        self._files, _ = fetch_files(self._book, there)
        self._book.keeping.record_choice(self._job_id, "picked")

    def report(self) -> ExchangeReport:
        """What came so far."""
        refused = tuple(self._fetched.refused)
        return _report(self._fetched.received, self._files, refused)


class OfficeFetch:
    """One property on its way from the office; a thread waits for the network."""

    def __init__(self, book: Book, url: str, job_id: str) -> None:
        self._book, self._url, self._job_id = book, url, job_id
        self._progress = (0, 1)
        self._read: tuple[str, list[Entry], list[Seal]] | None = None
        self._failed: BookError | None = None
        self._received = Received()

    def steps(self) -> Iterator[tuple[int, int]]:
        """Read the entries, then receive them; yields how much is read and of how much.

        Raises BookError where the office can't be reached, RefusedError where it has none. Attached
        files come with the next exchange.
        """
        reading = Thread(target=self._ask, daemon=True)
        reading.start()
        while reading.is_alive():
            yield self._progress
        if self._failed is not None:
            raise self._failed
        place, entries, seals = self._read or ("", [], [])
        if not entries:
            raise RefusedError(_NONE_THERE)
        self._received = self._book.receive_jobs(entries, place, [self._job_id], seals)
        self._book.keeping.record_choice(self._job_id, "picked")

    def report(self) -> ExchangeReport:
        """What came so far."""
        return _report(self._received)

    def _ask(self) -> None:
        """Read from the office, in the thread: the book is used by the app's own alone."""
        from fieldbook.store.office.office_exchange import read_property  # noqa: PLC0415

        def show(done: int, total: int) -> None:
            self._progress = done, total

        try:
            self._read = read_property(self._url, self._job_id, show)
        except BookError as why:
            self._failed = why


def _report(received: Received, files: int = 0, refused: tuple[str, ...] = ()) -> ExchangeReport:
    return ExchangeReport(
        received=received.new,
        sent=0,
        waiting=0,
        files_received=files,
        files_sent=0,
        refused=refused,
        notes=tuple(received.warnings),
        unsigned=received.unsigned,
        wrongly_signed=received.wrongly_signed,
    )


def fetching(book: Book, job_id: str, address: str) -> FolderFetch | OfficeFetch:
    """What fetches a property from wherever that is possible. Raises as `where_from`."""
    source = where_from(book, address)
    if isinstance(source, Path):
        return FolderFetch(book, source, job_id)
    return OfficeFetch(book, source, job_id)


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
        of_folder = FolderFetch(book, source, job_id)
        for done, total in of_folder.steps():
            progress(done, total)
        report = of_folder.report()
        came = f"{counted(report.received, 'entry', 'entries')} came from {source}."
    else:
        report = fetch_from_office(book, source, job_id, progress)
        came = f"{counted(report.received, 'entry', 'entries')} came from the office."
    # The first of its sentences says how much came; the others what is in doubt.
    return " ".join([came, *report.sentences()[1:], *report.refused, *report.notes])


def one_elsewhere(book: BookReader, name: str) -> Elsewhere:
    """The one property with this name that is not here. Raises RefusedError."""
    found = find_elsewhere(book, name)
    if len(found) == 1:
        return found[0]
    if found:
        listed = ", ".join(far.address for far in found[:3])
        raise RefusedError(f"{len(found)} properties match “{name}” ({listed}): say more of it.")
    job = one_property(book, name)
    raise RefusedError(f"{job.address} is on this laptop already.")
