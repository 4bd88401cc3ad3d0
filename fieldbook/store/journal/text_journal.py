"""The journal as plain text beside the book: a JSON line an entry, so that it outlives the app.

Each origin that this book writes as has one file, with every entry that is in the book, whoever
made it, in the order they came. Lines are appended after each commit. A line that was cut by a
power failure is dropped when the book is opened, and what came after the last whole line is
written anew.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterable, Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

from fieldbook.store.journal.append import BATCH, batch_after
from fieldbook.store.journal.entry import Entry, EntryError, as_dict, from_dict
from fieldbook.store.sqlite.transactions import Transactions

_FIRST_LINE = {"fieldbook journal": 2}
_TAIL = 1 << 16


def journal_folder(book: Path) -> Path:
    """Where the text journals of a book are."""
    return book.with_name(f"{book.name}.journal")


def journal_path(book: Path, origin: str) -> Path:
    """Where the text journal of an origin of a book is."""
    return journal_folder(book) / f"{origin}.jsonl"


def append(path: Path, entries: Iterable[tuple[int, Entry]]) -> int | None:
    """Add entries and their numbers to the file and to the disk; the last number, if any.

    Raises OSError, and the file is as it was.
    """
    fresh = not path.exists() or path.stat().st_size == 0
    lines, last = [_line(_FIRST_LINE)] if fresh else [], None
    for number, entry in entries:
        lines.append(_line({"n": number, **as_dict(entry)}))
        last = number
    if last is None:
        return None
    path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_APPEND, 0o600)
    try:
        _write_whole(descriptor, "".join(lines).encode("utf-8"))
        os.fsync(descriptor)
    finally:
        os.close(descriptor)
    return last


def _write_whole(descriptor: int, told: bytes) -> None:
    """Write all or nothing: a disk that fills up may take a part."""
    before = os.fstat(descriptor).st_size
    written = 0
    try:
        while written < len(told):
            written += os.write(descriptor, told[written:])
    except OSError:
        os.ftruncate(descriptor, before)
        raise


def _line(held: dict[str, Any]) -> str:
    return json.dumps(held, ensure_ascii=False, separators=(",", ":")) + "\n"


def last_complete(path: Path) -> int:
    """The number of the last whole entry in the file; a line cut short after it is taken away.

    Only the end of the file is read.
    """
    if not path.exists():
        return 0
    size = path.stat().st_size
    with path.open("r+b") as file:
        start, tail = size, b""
        while start > 0:
            begin = max(start - _TAIL, 0)
            file.seek(begin)
            tail, start = file.read(start - begin) + tail, begin
            whole, newline, cut = tail.rpartition(b"\n")
            if newline and cut:
                file.truncate(size - len(cut))
                os.fsync(file.fileno())
                tail, size = whole + newline, size - len(cut)
            number = _last_number(tail, from_start=start == 0)
            if number is not None:
                return number
        if b"\n" not in tail:
            file.truncate(0)
    return 0


def _last_number(tail: bytes, *, from_start: bool) -> int | None:
    """The number of the last line that can be read; the first may be the end of one."""
    lines = tail.split(b"\n")
    for line in reversed(lines if from_start else lines[1:]):
        held = _read(line)
        if held is not None and type(held.get("n")) is int:
            return int(held["n"])
    return None


def valid_entries(path: Path) -> Iterator[Entry]:
    """Every entry of a file that is as it was sealed; other lines are passed over."""
    for held in readable_lines(path):
        held.pop("n", None)
        try:
            yield from_dict(held)
        except EntryError:
            continue


def readable_lines(path: Path) -> Iterator[dict[str, Any]]:
    """The lines of a text journal that can be read, as they are."""
    with path.open("rb") as file:
        for line in file:
            held = _read(line)
            if held is not None:
                yield held


def _read(line: bytes) -> dict[str, Any] | None:
    try:
        held = json.loads(line)
    except (ValueError, RecursionError):
        return None
    return held if isinstance(held, dict) else None


class TextJournal:
    """The text journal of one origin of a book, and the last entry it tells."""

    def __init__(self, book: Path, origin: str) -> None:
        """Look at the end of the file, if there is one."""
        self._path = journal_path(book, origin)
        self._told = 0
        with suppress(OSError):
            self._told = last_complete(self._path)

    def catch_up(self, transactions: Transactions) -> None:
        """Write up what is sealed; what a full disk refuses is written up with the next entry."""
        with suppress(OSError):
            more = True
            while more:
                with transactions.reading():
                    some = batch_after(transactions.connection, self._told, [])
                self._told = append(self._path, some) or self._told
                more = len(some) == BATCH
