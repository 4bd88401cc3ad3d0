"""An open book: load jobs, commit what a crew does, undo it, receive what other laptops did."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from types import TracebackType

from fieldbook.store.book_reader import BookReader
from fieldbook.store.changes import Act, Change
from fieldbook.store.errors import BookError
from fieldbook.store.find_neighbours import partners_of_act
from fieldbook.store.holding.keeping import record_taken_in
from fieldbook.store.holding.lines import drop_lines_of_held
from fieldbook.store.holding.passing import Passing, forget_passed
from fieldbook.store.holding.putting_away import put_away
from fieldbook.store.journal import history
from fieldbook.store.journal.commit import commit
from fieldbook.store.journal.entry import Entry
from fieldbook.store.journal.origin import (
    adopt_origins,
    claim_origin,
    confirm_origin,
    current_origin,
)
from fieldbook.store.journal.receive import Received, receive
from fieldbook.store.journal.row_rebuilding import rebuild_rows
from fieldbook.store.journal.text_journal import TextJournal, drop_lines_of_jobs
from fieldbook.store.journal.undo import reversing_changes
from fieldbook.store.lifecycle.connect import append_foreign, connect
from fieldbook.store.lifecycle.copies import back_up_changes, backed_up_today
from fieldbook.store.lifecycle.migrate import OldEntry, append_old_log
from fieldbook.store.places import Places, PullCursor, record_bundle, save_cursor
from fieldbook.store.seals.accepting import accept
from fieldbook.store.seals.laptop_key import KeyFileError, load_key, prepare_key, public_key
from fieldbook.store.seals.seal import Seal
from fieldbook.store.seals.sealing import seal_entries, unsealed_origins, unsigned_origins
from fieldbook.store.settings import LaptopSettings
from fieldbook.store.sharing import Shared
from fieldbook.store.sqlite.book_connection import UNREADABLE
from fieldbook.store.sqlite.transactions import Transactions

_JOBS_AT_ONCE = 100
"""Properties that are put away in one transaction."""

_CACHE_KIB = 32_768


class Book(BookReader):
    """An open book, with the one connection that writes to it. One thread at a time uses it.

    `shared` are the entries that an exchange sends, `places` what is remembered of exchanges,
    `laptop` the settings of this laptop, `scratch` whether it is thrown away at the end. A method
    that reads or writes raises BookError with one sentence when the disk refuses.
    """

    def __init__(self, path: Path, *, scratch: bool = False) -> None:
        """Open the book at `path`, or make it. Raises BookError.

        A `scratch` book is deleted with its folder: it is not backed up, and this machine does not
        keep its token.
        """
        connection, self._lock = connect(path)
        super().__init__(path, Transactions(connection, path))
        self._writing = self._transactions.writing
        self.shared = Shared(self._transactions)
        self.places = Places(self._transactions)
        self.laptop = LaptopSettings(self._transactions)
        with self._writing():
            self._origin = current_origin(self._connection).id
        self._text = TextJournal(path, self._origin)
        self.scratch = scratch
        self._origin_claimed, self._backed_up, self._changed = scratch, scratch, False
        self._backup_refused = self._told = ""
        self._unsigned_yet: set[str] = set()
        self._text.catch_up(self._transactions)

    def __enter__(self) -> Book:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def close(self) -> None:
        """Back the book up if it was changed, and release its file."""
        if not self._connection.closed:
            if self._changed and not self.scratch:
                self._back_up("closed")
            self._connection.close()
            self._lock.release()

    def unwritten(self) -> str:
        """One sentence on a copy beside the book that could not be written; each is said once.

        Empty while the text journal and the backups are written. No entry is lost by it.
        """
        said = ""
        if self._backup_refused:
            said = f"The book could not be backed up ({self._backup_refused}): look at the disk."
        elif self._text.refused:
            said = (
                f"The text journal beside the book can't be written ({self._text.refused}): "
                "every entry is in the book; make room on the disk."
            )
        told, self._told = self._told, said
        return said if said != told else ""

    def commit(self, job_id: str, changes: Sequence[Change], *, by: str, what: str) -> bool:
        """Write the changes of one act, which is on the disk when this returns.

        `by` are initials, `what` says for undo what was done. Returns False if nothing changed.
        """
        with self._appending():
            changed = commit(self._connection, Act(job_id, by, what), changes)
        self._after_append()
        return changed

    def undo(self, job_id: str, *, by: str) -> str | None:
        """Reverse the newest act on a job that is not undone; returns its `what`, or None.

        Raises BookError when another laptop has changed the same cells since.
        """
        with self._reading():
            act = history.undo_target(history.acts_of_job(self._connection, job_id))
        if act is None:
            return None
        self._reverse(Act(job_id, by, act.what, "undo", act.group_id), act.group_id)
        return act.what

    def redo(self, job_id: str, *, by: str) -> str | None:
        """Reverse the newest undo, if nothing was done since; returns the act's `what`, or None."""
        with self._reading():
            undone = history.redo_target(history.acts_of_job(self._connection, job_id))
        if undone is None:
            return None
        self._reverse(Act(job_id, by, undone.what, "redo", undone.target), undone.group_id)
        return undone.what

    @property
    def origin(self) -> str:
        """The id under which this book writes its entries."""
        return self._origin

    def receive(self, entries: Iterable[Entry], came: str) -> Received:
        """Add entries of other laptops to the journal, and rebuild the rows they touch.

        `came` names the place they came from. The properties they belong to are held from now on.
        The book is backed up first, once a day.
        """
        listed = list(entries)
        jobs = {entry.job_id for entry in listed}
        return self._receive(listed, came, lambda _: None, fetched=jobs)

    def seal_entries(self) -> str:
        """Sign what this laptop made and has not signed yet; every exchange begins with it.

        Returns a sentence where this laptop's key can't be read: the entries then go unsigned.
        """
        with self._reading():
            self._unsigned_yet = unsigned_origins(self._connection)
            if not unsealed_origins(self._connection):
                return ""
        try:
            key = load_key()
        except KeyFileError as why:
            return str(why)
        with self._appending():
            seal_entries(self._connection, key)
        self._after_append()
        return ""

    def receive_sealed(
        self, entries: Iterable[Entry], seals: Sequence[Seal], came: str
    ) -> Received:
        """Receive as `receive` does, but only what is accepted: the seals prove who made what."""
        listed = list(entries)
        jobs = {entry.job_id for entry in listed}
        return self._receive(listed, came, lambda _: None, jobs, seals)

    def receive_bundle(
        self, entries: Iterable[Entry], name: str, seals: Sequence[Seal] = ()
    ) -> Received:
        """Receive what is accepted of a bundle, and remember that it needs no reading again.

        A book of chosen properties takes those of the ones it holds, as from an office.
        """

        def remember(passing: Passing) -> None:
            record_bundle(self._connection, name)
            passing.record_file(name)

        return self._receive(entries, name, remember, (), seals)

    def receive_from_office(
        self, entries: Iterable[Entry], place: str, cursor: PullCursor
    ) -> Received:
        """Receive entries of an office, and remember how far they were received."""
        return self._receive(
            entries, place, lambda _: save_cursor(self._connection, place, cursor), (), ()
        )

    def receive_jobs(
        self,
        entries: Iterable[Entry],
        place: str,
        jobs: Collection[str],
        seals: Sequence[Seal] = (),
    ) -> Received:
        """Receive every entry that an office has of some properties, held from now on.

        `seals` are those that the book did not receive before.
        """
        return self._receive(
            entries, place, lambda _: record_taken_in(self._connection, place, jobs), jobs, seals
        )

    def receive_files(
        self, files: Mapping[str, Sequence[Entry]], job_id: str, seals: Sequence[Seal]
    ) -> Received:
        """Receive a property's entries from all files that hold some, in one transaction."""
        self._back_up_before_receiving()
        total = Received()
        with self._appending():
            for name, entries in files.items():
                total.add(self._accept(entries, seals, name))
                forget_passed(self._connection, name, job_id)
            drop_lines_of_held(self._connection, [job_id])
        self._after_append()
        return total

    def put_away(self, jobs: Sequence[str]) -> int:
        """Remove properties from this laptop, after a backup; returns how many entries went.

        The caller has made sure that each is somewhere else too. Raises BookError where the book
        can't be backed up first, or would then be empty; those removed before stay so.
        """
        self._back_up("put-away")
        if self._backup_refused:
            raise BookError(
                f"The book can't be backed up first ({self._backup_refused}): nothing was put "
                "away. Look at the disk."
            )
        count = 0
        try:
            for start in range(0, len(jobs), _JOBS_AT_ONCE):
                with self._appending():
                    some = jobs[start : start + _JOBS_AT_ONCE]
                    count += sum(put_away(self._connection, job_id) for job_id in some)
        finally:
            # A line that stays does no harm: it is passed over, and gone with the next property.
            with suppress(OSError):
                drop_lines_of_jobs(self.path, set(jobs) - set(self.keeping.held_jobs()))
            self._text = TextJournal(self.path, self._origin)
            self._after_append()
        self._give_space_back()
        return count

    def adopt_origins(self, origins: Iterable[str]) -> None:
        """Count the origins of the book that this one is rebuilt from as its own, for undo."""
        with self._writing():
            adopt_origins(self._connection, origins)

    def receive_old_log(self, log: Iterable[OldEntry]) -> None:
        """Append the changes of an older fieldbook's text journal, and make the rows from them."""
        with self._appending():
            append_old_log(self._connection, log)
            rows = self._connection.run('SELECT DISTINCT "table", row_id FROM journal')
            rebuild_rows(self._connection, [(row[0], row[1]) for row in rows.all()])
        self._after_append()

    def _receive(
        self,
        entries: Iterable[Entry],
        came: str,
        remember: Callable[[Passing], None],
        fetched: Collection[str] = (),
        seals: Sequence[Seal] | None = None,
    ) -> Received:
        """Receive entries, and call `remember` in the same transaction.

        Without `seals`, even none, the entries are this laptop's to take as they are.
        """
        self._back_up_before_receiving()
        # Ids are hashes: each of a batch is on another page, which SQLite would else write twice.
        self._connection.run(f"PRAGMA cache_size=-{_CACHE_KIB}")
        with self._appending():
            passing = Passing(self._connection, fetched)
            taken = list(passing.taken(entries))
            if seals is None:
                received = receive(self._connection, taken, came)
            else:
                received = self._accept(taken, seals, came)
            passing.keep_lines(f"entries in file {came[:8]}{came[36:47]}")
            remember(passing)
        self._after_append()
        return received

    def _accept(self, entries: Iterable[Entry], seals: Sequence[Seal], came: str) -> Received:
        """Receive what is accepted, as the seals prove it, in the caller's transaction."""
        own = (public_key(), self._unsigned_yet)
        accepted = accept(self._connection, entries, seals, came, own)
        received = receive(self._connection, accepted.entries, came)
        received.unsigned, received.wrongly_signed = accepted.unsigned, accepted.wrongly_signed
        received.warnings = accepted.warnings
        return received

    def _reverse(self, act: Act, group_id: str) -> None:
        with self._appending():
            partners = partners_of_act(self._connection, act, group_id)
            changes = reversing_changes(self._connection, act, group_id, partners)
            commit(self._connection, act, changes)
        self._after_append()

    @contextmanager
    def _appending(self) -> Iterator[None]:
        """A transaction that appends entries.

        The first one after opening makes sure that this book still owns its origin: a copy of the
        book, or one restored from a backup, starts an origin of its own.
        """
        with self._writing():
            if not self._origin_claimed:
                claim_origin(self._connection)
                prepare_key()
            # What another program wrote since is sealed first, as nobody's, not as this act's.
            append_foreign(self._connection)
            yield
            origin = current_origin(self._connection).id
        if not self._origin_claimed or origin != self._origin:
            with self._reading():
                confirm_origin(self._connection)
            self._origin_claimed = True
        if origin != self._origin:
            self._origin, self._text = origin, TextJournal(self.path, origin)

    def _after_append(self) -> None:
        """Write the new entries to the text journal too, now that they are on the disk."""
        self._changed = True
        self._text.catch_up(self._transactions)

    def _give_space_back(self) -> None:
        """Make the file smaller once a fifth of its pages are free; before that they are reused."""
        free = self._connection.run("PRAGMA freelist_count").value()
        pages = self._connection.run("PRAGMA page_count").value()
        if free * 5 > pages:
            # A full disk has no room for the copy that SQLite makes: the pages stay free.
            with suppress(sqlite3.OperationalError):
                self._connection.run("VACUUM")

    def _back_up(self, why: str) -> None:
        """Back the book up beside it. A failure is told; the book is none the worse for it."""
        try:
            back_up_changes(self._connection, self.path, why)
        except (OSError, *UNREADABLE) as error:
            reason = (error.strerror if isinstance(error, OSError) else None) or str(error)
            self._backup_refused = reason

    def _back_up_before_receiving(self) -> None:
        if not self._backed_up and not backed_up_today(self.path):
            self._back_up("before-exchange")
        self._backed_up = True
