"""Verify the seals of a book: each signature, and how many entries it proves the maker of."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Sequence
from itertools import groupby

from fieldbook.store.mending.verify_journal import REBUILD
from fieldbook.store.seals.seal import Seal, SealError, from_stored, is_genuine, start_of

_SEALS = """
SELECT origin, job_id, upto, ids, key, name, at, signature, wrong FROM seal ORDER BY job_id, origin
"""
_IDS = "SELECT id FROM journal WHERE job_id = ? AND origin = ?"


class SealsRead:
    """One reading of all seals, a property and origin at a time.

    After `faults` is exhausted, `signed` and `wrongly_signed` count entries of the journal.
    """

    def __init__(self, book: sqlite3.Connection) -> None:
        self._book = book
        self.signed = self.wrongly_signed = 0

    def faults(self) -> Iterator[str]:
        """A sentence for each seal that was accepted and is not as it was signed."""
        rows = self._book.execute(_SEALS)
        for (job_id, origin), group in groupby(rows, key=lambda row: (row[1], row[0])):
            good, wrong = set[bytes](), set[bytes]()
            for *fields, state in group:
                seal = _read(fields)
                if seal is None or (state == "" and not is_genuine(seal)):
                    yield f"A laptop's signature in the book is spoilt: {REBUILD}."
                elif state == "":
                    good |= seal.starts
                else:
                    wrong |= seal.starts
            for (entry_id,) in self._book.execute(_IDS, (job_id, origin)):
                start = _start(entry_id)
                self.signed += start in good
                self.wrongly_signed += start in wrong - good

    def sentence(self, entries: int) -> str:
        """How many of so many entries are signed; "" in a book that has exchanged nothing."""
        unsigned, wrongly = entries - self.signed - self.wrongly_signed, self.wrongly_signed
        if not self.signed and not wrongly:
            return ""
        return f"Signed: {self.signed}; unsigned: {unsigned}; wrongly signed: {wrongly}."


def _read(fields: Sequence[object]) -> Seal | None:
    try:
        return from_stored(fields)
    except SealError:
        return None


def _start(entry_id: object) -> bytes:
    """The part of an id that is signed; of one that was spoilt nothing, which no seal names."""
    try:
        return start_of(str(entry_id))
    except ValueError:
        return b""
