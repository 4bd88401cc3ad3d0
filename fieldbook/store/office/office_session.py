"""One exchange with an office: the connection in use, and what was done so far over all of them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from fieldbook.store.book import Book
from fieldbook.store.journal.receive import Received
from fieldbook.store.office.connection import OfficeConnection


@dataclass(frozen=True)
class SentRange:
    """The numbers that the office gave to `count` entries it lacked, and the last one's id."""

    count: int
    first: int = 0
    last: int = 0
    last_id: str = ""


@dataclass
class OfficeResult:
    """What an exchange did so far: entries and attached files sent and received.

    `seen` counts the entries that were looked at, whether the book had them or not; `to_send` and
    `to_see` say of about how many. `waiting` are the ids of entries that arrived before a parent,
    `unfit` of those that the office's database cannot hold, `put_away_lost` of those that it lacks
    and that were put away here. `held_back` counts, by origin and the
    laptop that owns it, the entries that another laptop has to send. `refused` holds a sentence
    for each attached file that was not sent or not received. `unsigned` and `wrongly_signed` count
    received entries whose maker nothing proves; `warnings` are sentences on that, and on entries
    that were refused.
    """

    sent: int = 0
    to_send: int = 0
    received: int = 0
    seen: int = 0
    to_see: int = 0
    files_sent: int = 0
    files_received: int = 0
    ranges: list[SentRange] = field(default_factory=list)
    waiting: set[str] = field(default_factory=set)
    unfit: set[str] = field(default_factory=set)
    put_away_lost: set[str] = field(default_factory=set)
    held_back: dict[tuple[str, str], int] = field(default_factory=dict)
    refused: set[str] = field(default_factory=set)
    unsigned: int = 0
    wrongly_signed: int = 0
    warnings: list[str] = field(default_factory=list)

    def add(self, received: Received) -> None:
        """Count what was received."""
        self.received += received.new
        self.waiting |= received.waiting
        self.unsigned += received.unsigned
        self.wrongly_signed += received.wrongly_signed
        self.warnings += received.warnings

    @property
    def done(self) -> int:
        """How many entries and files were sent and received."""
        return self.sent + self.received + self.files_sent + self.files_received


@dataclass(frozen=True)
class Session:
    """One connection of an exchange; the book remembers the office under the id `place`.

    `takes_derived` is false at an older hub, which works out by itself what it shows.
    """

    connection: OfficeConnection
    book: Book
    place: str
    result: OfficeResult
    progress: Callable[[int, int], None]
    takes_derived: bool = True

    def report(self) -> None:
        """Report how many entries are done, and of about how many."""
        done = self.result.sent + self.result.seen
        self.progress(done, max(done, self.result.to_send + self.result.to_see))
