"""What an open book shares with others: its entries, files of them read and written, places."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from fieldbook.store import load as read
from fieldbook.store import sharing_state as places
from fieldbook.store.journal import append, conflicts
from fieldbook.store.journal.entry import Entry
from fieldbook.store.sqlite.transactions import Transactions


class Shared:
    """The exchanging side of one open book."""

    def __init__(self, transactions: Transactions) -> None:
        """Nothing is read until asked for."""
        self._connection = transactions.connection
        self._reading, self._writing = transactions.reading, transactions.writing

    def entries_not_from(self, files: Iterable[str], after: int) -> Iterator[tuple[int, Entry]]:
        """The entries with a number above `after` that came from none of these files, in order.

        Yields (number, entry). Reads a batch at a time.
        """
        names = sorted(files)
        while True:
            with self._reading():
                batch = append.batch_after(self._connection, after, names)
            if not batch:
                return
            yield from batch
            after = batch[-1][0]

    def entries_of_job(self, job_id: str) -> list[Entry]:
        """Every entry on one property, as they came."""
        with self._reading():
            return append.entries_of_job(self._connection, job_id)

    def attached(self) -> list[str]:
        """The hash of every file that some property attaches."""
        with self._reading():
            return read.list_attached(self._connection)

    def in_conflict(self) -> list[str]:
        """The addresses of the properties on the board that hold a conflict."""
        with self._reading():
            return conflicts.in_conflict(self._connection)

    def wrote_file(self, name: str, upto: int) -> None:
        """Remember a file of entries that was written, up to an entry's number."""
        with self._writing():
            places.keep_file(self._connection, name, upto)

    def files_read(self) -> dict[str, int]:
        """The files of entries that were read whole or written: up to which entry, or 0."""
        with self._reading():
            return places.files_read(self._connection)

    def remember_place(self, place: str) -> None:
        """Remember where entries were exchanged last."""
        with self._writing():
            places.keep_place(self._connection, place)

    def last_place(self) -> str:
        """Where entries were exchanged last, or nothing."""
        with self._reading():
            return places.last_place(self._connection)
