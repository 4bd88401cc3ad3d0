"""Verify the journal of a book: each entry against its hash, the chains, and the text journal."""

from __future__ import annotations

import hashlib
import json
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any, BinaryIO

from fieldbook.store.journal.entry import FIELDS, SELECT_NUMBERED, compact_json
from fieldbook.store.journal.text_journal import JOURNAL_LINE, journal_path

REBUILD = "make the book anew with fieldbook rebuild --in-place"
_PARENTS = 1 + FIELDS.index("parents")
_SEQ = 1 + FIELDS.index("seq")
_LINE = '{"n":%d,' + ",".join(f'"{name}":%s' for name in ("id", *FIELDS)) + "}\n"
"""What `line_of` makes of an entry, from the JSON of its parts."""
_quoted = json.encoder.encode_basestring
# Asked only where the entries of an origin did not arrive one after the other, as nearly always.
# Of another laptop's entries some may not have come yet; of this book's own none may be missing.
_UNCHAINED = """
SELECT a.seq FROM journal a
LEFT JOIN journal b ON b.origin = a.origin AND b.seq = a.seq - 1 AND b.id = a.prev
WHERE a.seq > 1 AND b.id IS NULL AND NOT EXISTS (
    SELECT 1 FROM put_away_entry p
    WHERE p.origin = a.origin AND p.seq = a.seq - 1 AND p.id = a.prev
) AND (
    a.origin IN (SELECT id FROM origin)
    OR EXISTS (SELECT 1 FROM journal c WHERE c.origin = a.origin AND c.seq = a.seq - 1)
)
ORDER BY a.n LIMIT 5
"""


class JournalRead:
    """One reading of the whole journal, beside the text journal of the origin in use.

    After `faults` is exhausted, `entries` says how many there are and `unsealed` holds the numbers
    of those that are not what was sealed; they are few, or the book is lost anyway.
    """

    def __init__(self, book: sqlite3.Connection, path: Path, origin: str) -> None:
        self._book = book
        self._text = journal_path(path, origin)
        self.entries = 0
        self.unsealed: set[int] = set()

    def faults(self) -> Iterator[str]:
        """A sentence for each thing that is wrong."""
        text, last, in_order = _TextBeside(self._text), dict[str, tuple[int, str]](), True
        try:
            for number, *row in self._book.execute(f"{SELECT_NUMBERED} ORDER BY n"):
                self.entries += 1
                sealed = sealed_fields(row)
                if sealed is None:
                    self.unsealed.add(number)
                    in_order = False
                    yield (f"Entry {row[_SEQ]} of the journal is not what was sealed: {REBUILD}.")
                    continue
                text.expect(number, sealed)
                entry_id, origin, seq, prev, *_ = row
                in_order = in_order and (seq == 1 or last.get(origin) == (seq - 1, prev))
                last[origin] = seq, entry_id
        finally:
            text.close()
        sound = self.entries - len(self.unsealed) - text.lacking
        if text.lacking or self.unsealed:
            yield (
                f"The text journal {self._text.name} holds {sound} sound entries of "
                f"{self.entries}: move it away and open the book once, and it is written anew."
            )
        if in_order:
            return
        for (seq,) in self._book.execute(_UNCHAINED):
            yield f"Entry {seq} of the journal does not follow entry {seq - 1}: {REBUILD}."


def sealed_fields(row: Sequence[Any]) -> list[str] | None:
    """The JSON of each part of a row (id, then FIELDS) if the id is the hash of the fields.

    This is `make_entry` without the entry: it is done once for each entry of the book, and what is
    made for the hash serves for the line of the text journal too.
    """
    # What is neither text nor a whole number is not what was sealed, and fails the hash.
    parts = [_quoted(part) if type(part) is str else str(part) for part in row]
    try:
        parts[_PARENTS] = _list_in_json(row[_PARENTS])
        text = f"[{','.join(parts[1:])}]".encode()
    except (ValueError, TypeError, RecursionError):
        return None
    return parts if hashlib.sha256(text).hexdigest() == row[0] else None


def _list_in_json(stored: str) -> str:
    """The parents as the journal holds them, in the form that is hashed. Raises ValueError."""
    if stored == "[]":
        return stored
    parents = json.loads(stored)
    if not isinstance(parents, list):
        raise ValueError(stored)
    return compact_json(parents)


class _TextBeside:
    """The lines of a text journal, read in step with the book: both are in the order of arrival."""

    def __init__(self, path: Path) -> None:
        self._file: BinaryIO | None = None
        with suppress(OSError):
            self._file = path.open("rb")
        self._line = self._next()
        self.lacking = 0
        """How many entries of the book no line holds as they were sealed."""

    def expect(self, number: int, sealed: list[str]) -> None:
        """Look for the line of an entry; lines of entries before it are passed over."""
        line = (_LINE % (number, *sealed)).encode()
        if self._line == line:
            self._line = self._next()
            return
        while self._line and _number_of(self._line) < number:
            self._line = self._next()
        if self._line == line:
            self._line = self._next()
            return
        self.lacking += 1
        if self._line and _number_of(self._line) == number:
            self._line = self._next()

    def close(self) -> None:
        """Close the file."""
        if self._file is not None:
            self._file.close()

    def _next(self) -> bytes:
        return self._file.readline() if self._file is not None else b""


def _number_of(line: bytes) -> int:
    """The number at the start of a line; -1 where it has none, so that the line is passed over."""
    found = JOURNAL_LINE.match(line)
    return int(found.group(1)) if found else -1
