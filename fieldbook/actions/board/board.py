"""The board: one line a property, with how far it is, what comes next and its flags.

Lines are kept in the book itself and read by the page, so that ten thousand properties open as
fast as ten. Those that an entry or a new day made untrue are made anew: a few at once, many a slice
at a time while the crew works on.
"""

from __future__ import annotations

import time
from collections.abc import Iterable, Sequence
from contextlib import suppress
from datetime import date

from fieldbook.actions.board.board_rows import Found, Listed
from fieldbook.actions.board.line import BoardLine, board_line, from_kept, to_keep
from fieldbook.store.board.lines import Kept, Made
from fieldbook.store.book import Book
from fieldbook.store.errors import BookError

_FEW = 5
"""So many untrue lines are made anew before the board is shown."""
_FIRST_PAGE = 40
"""Lines that are made anew before the book counts as open."""
_SLICE_S = 0.012
"""A slice holds up a key no longer than this, the last job of it and a commit."""
_BATCH = 200
_ALL = -1


class Board:
    """The lines of a book; a property is loaded and checked again only after an entry on it."""

    def __init__(self, book: Book) -> None:
        """Make sure that every property has a line; none is read yet."""
        self._book, self._kept = book, book.board
        self._refused: dict[str, BoardLine] = {}
        if not self._kept.is_whole():
            self._kept.mend()

    def lines(self, today: date | None = None) -> list[BoardLine]:
        """Every property, by address."""
        day = today or date.today()
        self._refused.clear()
        untrue = self._kept.some_untrue(day.isoformat(), _ALL)
        for at in range(0, len(untrue), _BATCH):
            self._make(untrue[at : at + _BATCH], day)
        return self.told(self._kept.page(0, _ALL), day)

    def make_first(self) -> None:
        """Make anew what is to be made of the lines that are seen first."""
        day = date.today()
        page = self._kept.page(0, _FIRST_PAGE)
        self._make([one.job_id for one in page if one.until < day.isoformat()], day)

    def listed(self) -> Listed:
        """The properties as they are now, after the few that were entered on are made anew."""
        self._refused.clear()
        self._make_few()
        return Listed(self._kept, self.told)

    def find(self, typed: str) -> Found:
        """The properties that hold every word typed."""
        self._make_few()
        return Found(self._kept, self.told, typed)

    def behind(self) -> int:
        """How many lines are still to be made."""
        untrue = self._kept.untrue(date.today().isoformat())
        return max(untrue - len(self._refused), 0)

    def catch_up(self, first: Sequence[str]) -> bool:
        """Make a few lines more, of these jobs first; False when none could be made."""
        day = date.today()
        refused = len(self._refused)
        wanted = [job_id for job_id in first if job_id not in self._refused]
        more = self._kept.some_untrue(day.isoformat(), refused + _BATCH)
        wanted += [job_id for job_id in more if job_id not in self._refused]
        return self._make(dict.fromkeys(wanted), day, time.perf_counter() + _SLICE_S)

    def known(self, line: BoardLine) -> BoardLine:
        """A line that tells where its next step is."""
        return line if line.known else board_line(self._book.load(line.job_id), date.today())

    def told(self, kept: Iterable[Kept], today: date | None = None) -> list[BoardLine]:
        """Lines as they were kept, or as they were made since the disk refuses to keep them."""
        day = today or date.today()
        return [self._refused.get(one.job_id) or from_kept(one, day) for one in kept]

    def _make_few(self) -> None:
        day = date.today()
        untrue = self._kept.some_untrue(day.isoformat(), _FEW + 1)
        if len(untrue) <= _FEW:
            self._make([one for one in untrue if one not in self._refused], day)

    def _make(self, job_ids: Iterable[str], day: date, until: float | None = None) -> bool:
        """Make the lines of these jobs anew, until the time is up; False when there was none."""
        lines: list[BoardLine] = []
        made: list[Made] = []
        for job_id in job_ids:
            with suppress(BookError):
                job = self._book.load(job_id)
                lines.append(board_line(job, day))
                made.append(to_keep(lines[-1], job, day))
            if until is not None and time.perf_counter() > until:
                break
        if made and not self._kept.keep(made):
            self._refused.update((line.job_id, line) for line in lines)
        return bool(made)
