"""What this laptop is to hold, and a property that leaves it once all of it is elsewhere.

A property is put away only once all of its entries are at the office, or in whole files of the
folder that is there now.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from contextlib import suppress
from datetime import date, timedelta
from pathlib import Path

from fieldbook.actions.board.board import Board
from fieldbook.actions.exchange.exchange_report import counted
from fieldbook.actions.exchange.folder_exchange import FILES_FOLDER
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.progress.before_visits import visit_under_way
from fieldbook.store.attached import attached_path, hash_of, is_hash, path_in
from fieldbook.store.book import Book
from fieldbook.store.book_reader import BookReader
from fieldbook.store.errors import BookError
from fieldbook.store.exchange.fetching import ids_in_files
from fieldbook.store.exchange.folder import exchange_folder
from fieldbook.store.holding.keeping import Held

_SEASON = timedelta(days=365)
"""What was not used for so long may be put away: each property has its visits once a season."""


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
        more = f"; the next exchange brings {far} more" if far else ""
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
