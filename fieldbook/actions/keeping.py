"""Which properties this laptop holds: fetch one that is elsewhere, put one away that is done.

A property is fetched from the office or from a folder, as on a stick. It is put away only once all
of its entries are at the office, or in whole files of the folder that is there now.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from contextlib import suppress
from datetime import date
from pathlib import Path

from fieldbook.actions.board.board import Board
from fieldbook.actions.exchange.exchange_report import ShowProgress, counted
from fieldbook.actions.exchange.folder_exchange import FILES_FOLDER
from fieldbook.actions.files.attached_files import fetch_files
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.progress.before_visits import visit_under_way
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.store.attached import attached_path, hash_of, is_hash, path_in
from fieldbook.store.book import Book
from fieldbook.store.errors import BookError
from fieldbook.store.exchange.fetching import Fetched, fetch_steps, ids_in_files
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


def put_away(book: Book, job_id: str) -> str:
    """Remove a property from this laptop; its line stays. Returns a sentence on what was done.

    Raises RefusedError where it is still worked on, or an entry of it is nowhere else.
    """
    job = book.load(job_id)
    address = job.job.address
    refused = _still_needed(book, job) or _nowhere_else(book, job_id)
    if refused:
        raise RefusedError(f"{address} stays on this laptop: {refused}.")
    attached = [file.sha256 for file in job.attachments]
    Board(book).catch_up([job_id])
    count = book.put_away(job_id)
    kept = _remove_files(book, attached)
    said = f"{address} is put away: {counted(count, 'entry', 'entries')}. Opening it fetches it."
    return said + (f" {kept} attached files stay: only this laptop has them." if kept else "")


def _still_needed(book: Book, job: LoadedJob) -> str:
    """Why a property can't leave this laptop yet, or nothing.

    One that others work on, and this laptop never changed, may always go.
    """
    if visit_under_way(job, date.today()) is not None:
        return "a visit is under way"
    changed_here = next(one.changed_here for one in book.keeping.held() if one.job_id == job.job.id)
    if changed_here and job.signed("handover") is None:
        return "it is not handed over, and was worked on here"
    return ""


def _nowhere_else(book: Book, job_id: str) -> str:
    """Why an entry would be lost, or nothing; reads the files of the folder used last."""
    lacking = set(book.keeping.not_at_office(job_id))
    folder = book.places.last_folder()
    if lacking and folder and Path(folder).is_dir():
        lacking -= ids_in_files(Path(folder), book.keeping.files_of(job_id), job_id)
    if not lacking:
        return ""
    count = counted(len(lacking), "entry is", "entries are")
    where = f"exchange with the office, or put the stick of {folder} in" if folder else "exchange"
    return f"{count} not known to be anywhere else: {where}, then put it away"


def _remove_files(book: Book, attached: Iterable[str]) -> int:
    """Remove files that nothing here attaches now, where the office or the folder has them.

    Returns how many stay because neither does.
    """
    unused, kept = set(attached) - set(book.shared.attached()), 0
    for sha256 in filter(is_hash, unused):
        path = attached_path(book.path, sha256)
        if not path.is_file():
            continue
        if book.places.has_file(sha256) or _in_folder(book, sha256):
            path.unlink(missing_ok=True)
        else:
            kept += 1
    return kept


def _in_folder(book: Book, sha256: str) -> bool:
    """Whether the folder used last is there and has an attached file whole."""
    folder = book.places.last_folder()
    with suppress(OSError, BookError):
        there = exchange_folder(Path(folder)) if folder else None
        return there is not None and hash_of(path_in(there / FILES_FOLDER, sha256)) == sha256
    return False
