"""Exchange with the office: send, take, then attached files; on a bad line go on where it broke."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import partial

from fieldbook.store.book import Book
from fieldbook.store.errors import BookError
from fieldbook.store.office.connection import (
    ConnectionLostError,
    OfficeConnection,
    connect_office,
    whole,
)
from fieldbook.store.office.files import Files, PlaceOf, pull_files, push_files
from fieldbook.store.office.local_state import count_waiting
from fieldbook.store.office.office_tables import LAPTOPS, LAYOUT
from fieldbook.store.office.pull import Pulled, pull
from fieldbook.store.office.push import Pushed, push

_CHUNKS = ((500, 1000), (100, 200), (20, 50))
"""Entries sent and taken at once: on a line that breaks, less gets through."""
_PAUSE_S = 1.0
_GREETING = f"""
SELECT id, layout, EXISTS (
  SELECT FROM pg_auth_members m
  JOIN pg_roles u ON u.oid = m.member JOIN pg_roles g ON g.oid = m.roleid
  WHERE u.rolname = session_user AND g.rolname = '{LAPTOPS}'
    AND u.oid <> (SELECT relowner FROM pg_class WHERE oid = 'fieldbook.hub'::regclass))
FROM fieldbook.hub
"""


@dataclass
class Exchanged:
    """All that an exchange did, over however many lines."""

    pushed: Pushed = field(default_factory=Pushed)
    pulled: Pulled = field(default_factory=Pulled)
    files: Files = field(default_factory=Files)
    waiting: int = 0

    @property
    def done(self) -> int:
        """How much got through."""
        return self.pushed.sent + self.pulled.got + self.files.sent + self.files.got


def exchange(
    book: Book, url: str, place_of: PlaceOf, progress: Callable[[int, int], None]
) -> Exchanged:
    """Exchange everything; raises BookError with one sentence when the line is too bad.

    `progress` is told how many entries are done, of about how many. What got through stays,
    whatever happens after it.
    """
    so_far, tries = Exchanged(), 0
    while True:
        before, met = so_far.done, False
        try:
            with connect_office(url) as line:
                met = True
                _exchange(line, book, place_of, so_far, progress, _CHUNKS[tries])
            break
        except ConnectionLostError as why:
            # A line that was never there is not tried again; one that brought something is.
            tries = min(tries + 1, len(_CHUNKS) - 1) if so_far.done > before else tries + 1
            if not met or tries == len(_CHUNKS):
                raise BookError(str(why)) from why
            time.sleep(_PAUSE_S * tries)
    so_far.waiting = book.ask(partial(count_waiting, ids=so_far.pulled.waiting))
    return so_far


def _exchange(
    line: OfficeConnection,
    book: Book,
    place_of: PlaceOf,
    so_far: Exchanged,
    progress: Callable[[int, int], None],
    chunks: tuple[int, int],
) -> None:
    place = f"office {_greet(line)}"

    def told() -> None:
        done = so_far.pushed.sent + so_far.pulled.seen
        progress(done, max(done, so_far.pushed.todo + so_far.pulled.todo))

    so_far.pushed.held_back.clear()
    push(line, book, so_far.pushed, chunks[0], told)
    pull(line, book, place, so_far.pushed.ours, so_far.pulled, chunks[1], told)
    push_files(line, book, place, place_of, so_far.files, told)
    pull_files(line, book, place, place_of, so_far.files, told)


def _greet(line: OfficeConnection) -> str:
    """Which hub it is; one that this fieldbook can't speak with, or we can't, is refused."""
    row = line.execute(_GREETING.encode()).fetchone()
    if row is None:
        raise BookError("The office's hub is half made: whoever keeps it runs fieldbook hub init.")
    hub, layout, is_laptop = row[0], whole(row[1]), row[2]
    if layout != LAYOUT:
        mend = "update this fieldbook" if layout > LAYOUT else "fieldbook hub init brings it up"
        raise BookError(f"The office's hub has layout {layout} and this is for {LAYOUT}: {mend}.")
    if not is_laptop:
        raise BookError(
            "That address is no laptop's: use the one that fieldbook hub add-laptop printed."
        )
    return str(hub)
