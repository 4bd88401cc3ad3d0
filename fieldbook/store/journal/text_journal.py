"""The text journal: a copy of the journal beside the book, one JSON line an entry.

It can be read without fieldbook, and a damaged book is rebuilt from it. Each origin of the book has
a file of its own, which holds every entry of the book in the order in which they arrived. Lines are
appended after each commit. When the book is opened, a line that a power failure cut is dropped, and
entries after the last complete line are written again.
"""

from __future__ import annotations

import json
import os
import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from contextlib import suppress
from pathlib import Path
from typing import Any

from fieldbook.store.disk import new_private, open_private, replace, sync_file
from fieldbook.store.journal.append import BATCH, batch_after
from fieldbook.store.journal.entry import Entry, EntryError, as_dict, compact_json, from_dict
from fieldbook.store.sqlite.transactions import Transactions

_FIRST_LINE = {"fieldbook journal": 2}
_TAIL_BYTES = 1 << 16
JOURNAL_LINE = re.compile(rb'\{"n":(\d{1,18}),')
"""The start of a line that holds an entry, with the entry's number."""


def journal_folder(book: Path) -> Path:
    """The folder that holds the text journals of a book."""
    return book.with_name(f"{book.name}.journal")


def journal_path(book: Path, origin: str) -> Path:
    """The text journal of one origin of a book."""
    return journal_folder(book) / f"{origin}.jsonl"


class TextJournal:
    """The text journal of the origin that an open book writes under."""

    def __init__(self, book: Path, origin: str) -> None:
        """Read the end of the file, if there is one."""
        self._path = journal_path(book, origin)
        self._written = 0
        self.refused = ""
        """Why the newest entries could not be written; empty once they are."""
        with suppress(OSError):
            self._written = last_complete(self._path)

    def catch_up(self, transactions: Transactions) -> None:
        """Write the entries that the file lacks. What a full disk refuses is written next time."""
        try:
            more = True
            while more:
                with transactions.reading():
                    batch = batch_after(transactions.connection, self._written, [])
                self._written = append_lines(self._path, batch) or self._written
                more = len(batch) == BATCH
            self.refused = ""
        except OSError as why:
            self.refused = why.strerror or str(why)


def append_lines(path: Path, entries: Iterable[tuple[int, Entry]]) -> int | None:
    """Append (number, entry) pairs to a file and sync it; returns the last number, if any.

    Raises OSError; the file is then as it was.
    """
    new = not path.exists() or path.stat().st_size == 0
    lines, last = [line_of(_FIRST_LINE)] if new else [], None
    for number, entry in entries:
        lines.append(line_of({"n": number, **as_dict(entry)}))
        last = number
    if last is None:
        return None
    path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    descriptor = open_private(path, os.O_WRONLY | os.O_APPEND)
    try:
        _write_all(descriptor, "".join(lines).encode("utf-8"))
        os.fsync(descriptor)
    finally:
        os.close(descriptor)
    return last


def _write_all(descriptor: int, data: bytes) -> None:
    """Write all or nothing: a disk that fills up may take a part."""
    before = os.fstat(descriptor).st_size
    written = 0
    try:
        while written < len(data):
            written += os.write(descriptor, data[written:])
    except OSError:
        os.ftruncate(descriptor, before)
        raise


def line_of(content: Mapping[str, Any]) -> str:
    """One line of a text journal."""
    return compact_json(content) + "\n"


def last_complete(path: Path) -> int:
    """The number of the last complete entry in a file, 0 if there is none.

    Cuts off an incomplete line at the end. Reads from the end backwards, only as far as needed.
    """
    if not path.exists():
        return 0
    size = path.stat().st_size
    with path.open("r+b") as file:
        start, tail = size, b""
        while start > 0:
            begin = max(start - _TAIL_BYTES, 0)
            file.seek(begin)
            tail, start = file.read(start - begin) + tail, begin
            complete, newline, cut = tail.rpartition(b"\n")
            if newline and cut:
                file.truncate(size - len(cut))
                os.fsync(file.fileno())
                tail, size = complete + newline, size - len(cut)
            number = _last_number(tail, from_start=start == 0)
            if number is not None:
                return number
        if b"\n" not in tail:
            file.truncate(0)
    return 0


def _last_number(tail: bytes, *, from_start: bool) -> int | None:
    """The number in the last readable line; the first line counts only from the file's start."""
    lines = tail.split(b"\n")
    for line in reversed(lines if from_start else lines[1:]):
        content = read_line(line)
        if content is not None and type(content.get("n")) is int:
            return int(content["n"])
    return None


def valid_entries(path: Path) -> Iterator[Entry]:
    """Every valid entry of a file; other lines are passed over."""
    return (entry for entry in map(valid_entry, readable_lines(path)) if entry is not None)


def valid_entry(line: dict[str, Any]) -> Entry | None:
    """The entry of a line, or None if its content does not have its id."""
    content = {name: value for name, value in line.items() if name != "n"}
    try:
        return from_dict(content)
    except EntryError:
        return None


def readable_lines(path: Path) -> Iterator[dict[str, Any]]:
    """The lines of a text journal that hold a JSON object."""
    with path.open("rb") as file:
        for line in file:
            content = read_line(line)
            if content is not None:
                yield content


def read_line(line: bytes) -> dict[str, Any] | None:
    """The JSON object of a line, or None."""
    try:
        content = json.loads(line)
    except (ValueError, RecursionError):
        return None
    return content if isinstance(content, dict) else None


def drop_lines_of_jobs(book: Path, jobs: Collection[str]) -> None:
    """Write the text journals of a book anew without the entries of properties put away.

    Raises OSError; the file that could not be written then is as it was.
    """
    for path in journal_folder(book).glob("*.jsonl"):
        part = path.with_name(f"{path.name}.part")
        dropped = 0
        try:
            with path.open("rb") as file, new_private(part) as out:
                for line in file:
                    if (read_line(line) or {}).get("job_id") in jobs:
                        dropped += 1
                    else:
                        out.write(line)
                sync_file(out)
            if dropped:
                replace(part, path)
        finally:
            part.unlink(missing_ok=True)
