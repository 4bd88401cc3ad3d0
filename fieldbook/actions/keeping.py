"""Which properties this laptop holds: fetch one that is elsewhere, put one away that is done.

A property is fetched from the office or from a folder, as on a stick. It is put away only once all
of its entries are at the office, or in whole files of the folder that is there now.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress
from datetime import date, timedelta
from pathlib import Path
from threading import Thread

from fieldbook.actions.board.board import Board
from fieldbook.actions.exchange.exchange_report import ExchangeReport, ShowProgress, counted
from fieldbook.actions.exchange.folder_exchange import FILES_FOLDER
from fieldbook.actions.files.attached_files import fetch_files
from fieldbook.actions.properties import find_elsewhere, one_property
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.progress.before_visits import visit_under_way
from fieldbook.store.attached import attached_path, hash_of, is_hash, path_in
from fieldbook.store.book import Book
from fieldbook.store.book_reader import BookReader
from fieldbook.store.errors import BookError
from fieldbook.store.exchange.fetching import Fetched, fetch_steps, ids_in_files
from fieldbook.store.exchange.folder import exchange_folder
from fieldbook.store.holding.keeping import Elsewhere, Held
from fieldbook.store.journal.entry import Entry
from fieldbook.store.paths import OFFICE_VARIABLE

_NONE_THERE = "The office has no entries of that property: exchange with it first."
_SEASON = timedelta(days=365)
"""What was not used for so long may be put away: each property has its visits once a season."""


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
        raise RefusedError(_NONE_THERE)
    book.keeping.record_choice(job_id, "picked")
    return count


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
        refused = () if self._fetched.entries else tuple(self._fetched.refused)
        return ExchangeReport(self._fetched.new, 0, 0, self._files, 0, refused)


class OfficeFetch:
    """One property on its way from the office; a thread waits for the network."""

    def __init__(self, book: Book, url: str, job_id: str) -> None:
        self._book, self._url, self._job_id = book, url, job_id
        self._progress = (0, 1)
        self._read: tuple[str, list[Entry]] | None = None
        self._failed: BookError | None = None
        self._new = 0

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
        place, entries = self._read or ("", [])
        if not entries:
            raise RefusedError(_NONE_THERE)
        self._new = self._book.receive_jobs(entries, place, [self._job_id]).new
        self._book.keeping.record_choice(self._job_id, "picked")

    def report(self) -> ExchangeReport:
        """What came so far."""
        return ExchangeReport(self._new, 0, 0, 0, 0)

    def _ask(self) -> None:
        """Read from the office, in the thread: the book is used by the app's own alone."""
        from fieldbook.store.office.office_exchange import read_property  # noqa: PLC0415

        def show(done: int, total: int) -> None:
            self._progress = done, total

        try:
            self._read = read_property(self._url, self._job_id, show)
        except BookError as why:
            self._failed = why


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
        return f"{counted(of_folder.report().received, 'entry', 'entries')} came from {source}."
    count = fetch_from_office(book, source, job_id, progress)
    return f"{counted(count, 'entry', 'entries')} came from the office."


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


def hold_chosen(book: Book) -> str:
    """Take chosen properties alone from now on; returns a sentence on what this laptop holds."""
    book.keeping.keep_chosen()
    return what_is_held(book)


def hold_whole(book: Book) -> str:
    """Take the whole firm's properties again; returns a sentence on what this laptop holds."""
    book.keeping.keep_whole()
    return what_is_held(book)


def what_is_held(book: BookReader) -> str:
    """A sentence on what this laptop is to hold, and what it holds."""
    here, far = len(book.keeping.held()), book.keeping.count_elsewhere()
    if not book.keeping.is_chosen():
        more = f"; {far} more come at the next exchange" if far else ""
        return f"This laptop holds the whole firm: {counted(here, 'property', 'properties')}{more}."
    return f"This laptop holds chosen properties: {here} of {here + far} that it knows of."


def put_away(book: Book, job_id: str) -> str:
    """Remove a property from this laptop; its line stays. Returns a sentence on what was done.

    Raises RefusedError where it is still worked on, or an entry of it is nowhere else.
    """
    job = book.load(job_id)
    address = job.job.address
    held = next(one for one in book.keeping.held() if one.job_id == job_id)
    refused = _still_needed(book, held) or _nowhere_else(book, [job_id]).get(job_id, "")
    if refused:
        raise RefusedError(f"{address} stays on this laptop: {refused}.")
    count, kept = _remove(book, [job_id])
    said = f"{address} is put away: {counted(count, 'entry', 'entries')}. Opening it fetches it."
    return said + _files_that_stay(kept)


def put_away_unused(book: Book, today: date | None = None) -> str:
    """Put away what was neither changed, opened nor picked here for a year, where that may be.

    Returns a sentence on what was done.
    """
    first = ((today or date.today()) - _SEASON).isoformat()
    unused = [one for one in book.keeping.held() if one.last_used < first]
    done = [one.job_id for one in unused if not _still_needed(book, one)]
    nowhere = _nowhere_else(book, done)
    go = [job_id for job_id in done if job_id not in nowhere]
    if len(go) == len(book.keeping.held_jobs()):
        go = go[1:]
    count, kept = _remove(book, go) if go else (0, 0)
    stay = len(unused) - len(go)
    said = f"{counted(len(go), 'property is', 'properties are')} put away, {count} entries."
    if stay:
        said += f" {stay} more stay: they are not handed over, or not known to be elsewhere."
    return said + _files_that_stay(kept)


def _files_that_stay(count: int) -> str:
    return f" {count} attached files stay: only this laptop has them." if count else ""


def _remove(book: Book, jobs: Sequence[str]) -> tuple[int, int]:
    """Remove properties; returns how many entries went, and how many attached files stay."""
    attached = {file.sha256 for files in book.attachments(jobs).values() for file in files}
    Board(book).catch_up(jobs)
    count = book.put_away(jobs)
    return count, _remove_files(book, attached)


def _still_needed(book: Book, held: Held) -> str:
    """Why a property can't leave this laptop yet, or nothing.

    One that others work on, and this laptop never changed, may always go.
    """
    if not held.changed_here:
        return ""
    job = book.load(held.job_id)
    if visit_under_way(job, date.today()) is not None:
        return "a visit is under way"
    return "" if job.signed("handover") else "it is not handed over, and was worked on here"


def _nowhere_else(book: Book, jobs: Sequence[str]) -> dict[str, str]:
    """Why entries would be lost, by property; reads the files of the folder used last."""
    lacking = {job_id: set(book.keeping.not_at_office(job_id)) for job_id in jobs}
    lacking = {job_id: ids for job_id, ids in lacking.items() if ids}
    folder = book.places.last_folder()
    if lacking and folder and Path(folder).is_dir():
        names = {name for job_id in lacking for name in book.keeping.files_of(job_id)}
        found = ids_in_files(Path(folder), names, lacking.keys())
        lacking = {job_id: left for job_id, ids in lacking.items() if (left := ids - found)}
    where = f"exchange with the office, or put the stick of {folder} in" if folder else "exchange"
    return {
        job_id: f"{counted(len(ids), 'entry is', 'entries are')} not known to be anywhere else: "
        f"{where}, then put it away"
        for job_id, ids in lacking.items()
    }


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
