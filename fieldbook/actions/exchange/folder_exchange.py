"""Exchange with other laptops through a folder, attached files too."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from fieldbook.actions.files.transfer import get_files, send_files
from fieldbook.store.book import Book
from fieldbook.store.exchange.folder import Exchanged, exchange_steps, ready

_FILES = "files"
_MOST_NAMED = 5
Progress = Callable[[int, int], None]
"""Told how much is done, of how much."""


@dataclass(frozen=True)
class Told:
    """What an exchange did, for a person: counts, and a sentence for each thing refused."""

    got: int
    sent: int
    waiting: int
    files_got: int
    files_sent: int
    refused: tuple[str, ...] = ()
    differ: tuple[str, ...] = ()
    """The addresses of properties on which laptops say something differently."""


class Exchange:
    """An exchange of everything through a folder, a step at a time; it may be left after any."""

    def __init__(self, book: Book, folder: Path) -> None:
        """Nothing is done until `steps`."""
        self._book, self._folder, self._done = book, folder, Exchanged()
        self._files = 0, 0
        self._refused: list[str] = []

    def steps(self) -> Iterator[tuple[int, int]]:
        """How much is done, of how much, before each step. Raises BookError with one sentence."""
        yield from exchange_steps(self._book, self._folder, self._done)
        there = ready(self._folder) / _FILES
        sent, not_sent = send_files(self._book, there, self._done.attached)
        got, not_got = get_files(self._book, there)
        self._files, self._refused = (got, sent), [*not_sent, *not_got]
        self._book.shared.remember_place(str(self._folder.absolute()))

    def told(self) -> Told:
        """What was done so far."""
        done = self._done
        refused = (*done.refused, *self._refused)
        differ = tuple(self._book.shared.in_conflict()) if done.got else ()
        return Told(done.got, done.sent, len(done.waiting), *self._files, refused, differ)


def exchange(book: Book, folder: Path, progress: Progress) -> Told:
    """Exchange everything through a folder. Raises BookError with one sentence."""
    exchanging = Exchange(book, folder)
    for done, total in exchanging.steps():
        progress(done, total)
    return exchanging.told()


def words_of(told: Told) -> list[str]:
    """What was done, as sentences."""
    parts = [f"{counted(told.got, 'entry', 'entries')} came"]
    if told.sent or not told.got:
        parts.append(f"{told.sent} went")
    if told.files_got or told.files_sent:
        parts.append(f"attached files: {told.files_got} came, {told.files_sent} went")
    sentences = [f"{', '.join(parts)}."]
    if told.waiting:
        waits = "waits" if told.waiting == 1 else "wait"
        sentences.append(f"{counted(told.waiting, 'entry', 'entries')} {waits} for others to come.")
    if told.differ:
        named = ", ".join(told.differ[:_MOST_NAMED])
        more = len(told.differ) - _MOST_NAMED
        rest = f" and {more} more" if more > 0 else ""
        sentences.append(f"Laptops differ on {named}{rest}: F6 there settles it.")
    return sentences


def counted(count: int, one: str, many: str) -> str:
    """Such as "1 entry" or "4 entries"."""
    return f"{count} {one if count == 1 else many}"
