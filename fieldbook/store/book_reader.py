"""What is read of a book, whether it is open for work or a snapshot taken beside an open app."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path

from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.attachments import Attachment
from fieldbook.records.tables.job import Job
from fieldbook.store.board.stored_board import StoredBoard
from fieldbook.store.find_neighbours import count_entries, once_had
from fieldbook.store.holding.keeping import Keeping
from fieldbook.store.journal import history
from fieldbook.store.journal.chain import Link, links_of_job
from fieldbook.store.journal.entry import Entry
from fieldbook.store.journal.history import PastValue
from fieldbook.store.journal.put_away import OWN_ENTRIES
from fieldbook.store.load import list_attachments, list_jobs, load_job
from fieldbook.store.seals.known_laptops import KnownLaptops
from fieldbook.store.seals.seal_table import Proof, proofs_of
from fieldbook.store.sqlite.transactions import Transactions


class BookReader:
    """The properties of the book at `path`, read through one connection by one thread at a time.

    `board` are the stored rows of the board, `keeping` says which properties are here, `laptops`
    are those known by their keys. A method that reads raises BookError with one sentence when the
    disk refuses.
    """

    def __init__(self, path: Path, transactions: Transactions) -> None:
        """`path` is the book's own file, beside which its attached files are."""
        self.path = path
        self._transactions = transactions
        self._connection = transactions.connection
        self._reading = transactions.reading
        self.board = StoredBoard(transactions)
        self.keeping = Keeping(transactions)
        self.laptops = KnownLaptops(transactions)

    def jobs(self) -> list[Job]:
        """Every property on the board, by address."""
        with self._reading():
            return list_jobs(self._connection)

    def attachments(self, job_ids: Sequence[str]) -> dict[str, list[Attachment]]:
        """The attached files of these jobs, by job; a job without any is left out."""
        with self._reading():
            return list_attachments(self._connection, job_ids)

    def load(self, job_id: str) -> LoadedJob:
        """Every row of one job. Raises BookError when it is not in the book."""
        with self._reading():
            return load_job(self._connection, job_id)

    def count_entries(self, job_id: str) -> int:
        """How many entries a property has, but for those that join it with another."""
        with self._reading():
            return count_entries(self._connection, job_id)

    def once_had(self, job_id: str) -> set[str]:
        """The ids of all rows that a property has or ever had."""
        with self._reading():
            return once_had(self._connection, job_id)

    def past_values(self, job_id: str, row_id: str, column: str) -> list[PastValue]:
        """Every value that a cell ever held on any laptop, oldest first."""
        with self._reading():
            return history.past_values(self._connection, job_id, row_id, column)

    def last_off_board(self) -> str | None:
        """The id of the property that was taken off the board last and is off it now, or None."""
        with self._reading():
            return history.last_off_board(self._connection)

    def links_of_job(self, job_id: str) -> list[Link]:
        """Every journal entry of one job by its clock, each with what is wrong with it, if any."""
        with self._reading():
            return links_of_job(self._connection, job_id)

    def proofs(self, entries: Iterable[Entry]) -> dict[str, Proof]:
        """What is proven of who made each of these entries, by its id."""
        with self._reading():
            return proofs_of(self._connection, entries)

    def origin_in_use(self) -> str:
        """The origin under which this book wrote last; "" where it never wrote."""
        with self._reading():
            query = "SELECT id FROM origin ORDER BY no DESC LIMIT 1"
            return str(self._connection.run(query).value() or "")

    def last_seqs(self) -> dict[str, int]:
        """The number of the last entry that is here of each of its own origins."""
        query = f"SELECT origin, max(seq) FROM ({OWN_ENTRIES}) GROUP BY origin"
        with self._reading():
            return {str(origin): int(seq) for origin, seq in self._connection.run(query)}

    def count_missing(self) -> int:
        """How many entries of its own origins are missing before the last that it has of each."""
        query = (
            "SELECT coalesce(sum(last - held), 0) FROM (SELECT max(seq) AS last, "
            f"count(DISTINCT seq) AS held FROM ({OWN_ENTRIES}) GROUP BY origin)"
        )
        with self._reading():
            return int(self._connection.run(query).value())

    def next_undo(self, job_id: str) -> history.NextAct | None:
        """The act that `undo` would reverse."""
        with self._reading():
            act = history.undo_target(history.acts_of_job(self._connection, job_id))
            return history.next_act(self._connection, job_id, act)

    def next_redo(self, job_id: str) -> history.NextAct | None:
        """The act that `redo` would put back."""
        with self._reading():
            act = history.redo_target(history.acts_of_job(self._connection, job_id))
            return history.next_act(self._connection, job_id, act)

    def count_undoable(self, job_id: str) -> int:
        """How many acts of this laptop on a job are not undone."""
        with self._reading():
            acts = history.acts_of_job(self._connection, job_id)
        return len(history.standing_acts(acts))
