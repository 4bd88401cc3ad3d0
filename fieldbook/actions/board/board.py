"""The board: a row for each property, with how far its job is, what comes next and its flags.

Rows are stored in the book and read a window at a time, so that ten thousand properties open as
fast as ten. A row is stale after an entry on its job, or on a day that makes a new flag. Stale
rows are made anew from the job: a few at once, many in slices while the crew works on.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Collection, Iterable, Sequence
from contextlib import suppress
from datetime import date

from fieldbook.actions.board.board_row import BoardRow, from_stored
from fieldbook.store.board.stored_board import NewRow, StoredBoard
from fieldbook.store.board.stored_row import StoredRow
from fieldbook.store.book_reader import BookReader
from fieldbook.store.errors import BookError

# The checks are imported where a row is made anew: a list of rows that still hold needs none.
# ruff: noqa: PLC0415

_FEW = 5
"""As many stale rows are made anew before the board is shown."""
_FIRST_PAGE = 40
"""Rows that are made anew before the book counts as open."""
_SLICE_S = 0.012
"""A slice delays a key by no more than this and the last of its jobs and a commit."""
_BATCH = 200
_ALL = -1
"""SQLite reads a negative LIMIT as no limit."""
_ON_THE_ROW = ("address", "customer")
_Show = Callable[[Iterable[StoredRow]], list[BoardRow]]
"""Makes stored rows the rows to be shown today."""


class Listing:
    """Every property on the board, in the board's order, as many as when the listing was made."""

    def __init__(self, stored: StoredBoard, show: _Show, *, open_only: bool = False) -> None:
        """Count the properties; no row is read yet. `open_only` leaves out what is closed."""
        self._stored, self._show, self._open_only = stored, show, open_only
        self._count = stored.count(open_only=open_only)

    def __len__(self) -> int:
        """How many properties are listed."""
        return self._count

    def window(self, first: int, most: int) -> list[BoardRow]:
        """At most `most` rows from the index `first`, which counts from 0."""
        return self._show(self._stored.page(first, most, open_only=self._open_only))

    def index_of(self, job_id: str) -> int | None:
        """The index of a property; None when it is not listed."""
        return self._stored.index_of(job_id, open_only=self._open_only)


class SearchResult(Listing):
    """The properties that contained every word typed at the time of the search."""

    def __init__(self, stored: StoredBoard, show: _Show, typed: str) -> None:
        """Search; only the numbers of the rows are read yet."""
        super().__init__(stored, show)
        self.typed = typed.strip()
        self._numbers = stored.find(typed)

    def __len__(self) -> int:
        """How many properties were found."""
        return len(self._numbers)

    def window(self, first: int, most: int) -> list[BoardRow]:
        """At most `most` of the rows found, from the index `first`."""
        return self._show(self._stored.rows_numbered(self._numbers[first : first + most]))

    def index_of(self, job_id: str) -> int | None:
        """The index of a property among those found."""
        number = self._stored.number_of(job_id)
        return self._numbers.index(number) if number in self._numbers else None

    def renew(self) -> None:
        """Search again: add what is found now, drop what left the board, in today's order.

        A property found before stays even if it no longer contains the words: the crew may just
        have changed the text it was found by.
        """
        found = {*self._numbers, *self._stored.find(self.typed)}
        self._numbers = [number for number in self._stored.all_numbers() if number in found]

    def where(self, job_id: str) -> str:
        """The texts of a property that contain the words, besides those on its row."""
        texts = self._stored.texts(job_id, self.typed)
        others = [f"{label}: {text}" for label, text in texts if label not in _ON_THE_ROW]
        return ", ".join(others[:2])


class Board:
    """The rows of an open book, kept up to date."""

    def __init__(self, book: BookReader) -> None:
        """Make sure that every property has a row; none is read yet."""
        self._book, self._stored = book, book.board
        self._not_stored: dict[str, BoardRow] = {}
        """Rows that were made anew while the disk refused to store them, by job."""
        if not self._stored.is_complete():
            self._stored.repair()

    def all_rows(self, today: date | None = None) -> list[BoardRow]:
        """Every property in the order of addresses, after all stale rows are made anew."""
        day = today or date.today()
        self._not_stored.clear()
        stale = self._stored.stale_jobs(day.isoformat(), _ALL)
        for at in range(0, len(stale), _BATCH):
            self._make(stale[at : at + _BATCH], day)
        return self._shown(self._stored.page(0, _ALL), day)

    def prepare_first_page(self) -> None:
        """Make the stale rows anew that the crew sees first."""
        day = date.today()
        page = self._stored.page(0, _FIRST_PAGE)
        self._make([row.job_id for row in page if row.valid_until < day.isoformat()], day)

    def listing(self) -> Listing:
        """The properties on the board; if only a few rows are stale, they are made anew first."""
        self._not_stored.clear()
        self._make_few()
        hides_closed = self._book.keeping.hides_closed()
        return Listing(self._stored, self._shown, open_only=hides_closed)

    def find(self, typed: str) -> SearchResult:
        """The properties that contain every word typed, in any text of their jobs."""
        self._make_few()
        return SearchResult(self._stored, self._shown, typed)

    def stale_count(self) -> int:
        """How many rows are still to be made anew."""
        stale = self._stored.count_stale(date.today().isoformat())
        return max(stale - len(self._not_stored), 0)

    def catch_up(self, first: Sequence[str]) -> bool:
        """Make some stale rows anew within 12 ms, those of the jobs in `first` before others.

        Returns False when none could be made.
        """
        day = date.today()
        stale = self._stored.stale_jobs(day.isoformat(), len(self._not_stored) + _BATCH)
        wanted = [job_id for job_id in (*first, *stale) if job_id not in self._not_stored]
        return self._make(dict.fromkeys(wanted), day, time.perf_counter() + _SLICE_S)

    def current(self, row: BoardRow) -> BoardRow:
        """The row, or if it is stale the row made anew: it says where the next step is."""
        if row.known:
            return row
        from fieldbook.actions.board.make_row import make_row

        return make_row(self._book.load(row.job_id), date.today())

    def _shown(self, stored: Iterable[StoredRow], today: date | None = None) -> list[BoardRow]:
        day = today or date.today()
        rows = [self._not_stored.get(row.job_id) or from_stored(row, day) for row in stored]
        attached = self._book.attachments([row.job_id for row in rows])
        if not attached:
            return rows
        from fieldbook.actions.board.make_row import add_flags
        from fieldbook.actions.files.attached_files import file_states
        from fieldbook.checks.desk.file_states import check_files

        # A stored row can't count the flags on attached files: they are beside the book, and no
        # entry tells when one goes missing. So the disk is looked at whenever rows are shown.
        return [
            add_flags(row, check_files(files, file_states(self._book.path, files)))
            if (files := attached.get(row.job_id))
            else row
            for row in rows
        ]

    def _make_few(self) -> None:
        day = date.today()
        stale = self._stored.stale_jobs(day.isoformat(), _FEW + 1)
        if len(stale) <= _FEW:
            self._make([job_id for job_id in stale if job_id not in self._not_stored], day)

    def _make(self, job_ids: Collection[str], day: date, until: float | None = None) -> bool:
        """Make the rows of these jobs anew until the time is up; False when none was made."""
        rows: list[BoardRow] = []
        made: list[NewRow] = []
        if not job_ids:
            return False
        from fieldbook.actions.board.make_row import make_row, to_store

        for job_id in job_ids:
            # A job that is gone or can't be read keeps its stale row.
            with suppress(BookError):
                job = self._book.load(job_id)
                rows.append(make_row(job, day))
                made.append(to_store(rows[-1], job, day))
            # Not before one is made: whoever asks for slices stops when nothing was made.
            if made and until is not None and time.perf_counter() > until:
                break
        if made and not self._stored.save(made):
            self._not_stored.update((row.job_id, row) for row in rows)
        return bool(made)
