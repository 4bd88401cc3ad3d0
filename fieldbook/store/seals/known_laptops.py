"""The laptops that a book knows by their keys: what each made, and what a person thinks of it."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from typing import Literal

from fieldbook.records.base import now
from fieldbook.store.errors import BookError
from fieldbook.store.seals.key_words import words_of
from fieldbook.store.seals.laptop_key import public_key
from fieldbook.store.seals.seal import SealError, from_stored, is_genuine
from fieldbook.store.seals.seal_table import add_seal, weigh_again
from fieldbook.store.sqlite.transactions import Transactions

Trust = Literal["this laptop", "compared", "not compared", "distrusted"]
_OFFICE = "the office"
_MARKS = "compared_by, compared_at, distrusted_by, distrusted_at, known_upto"


@dataclass(frozen=True)
class KnownLaptop:
    """A laptop with a key. `origins` says by origin up to which number of its entries it signed.

    `entries` counts those that are here of these origins. `marked_by` and `marked_at` say who
    compared or distrusted it, and when. `another_key`: it signs for an origin that another key
    signed for first.
    """

    key: str
    name: str
    seen: str
    trust: Trust
    marked_by: str = ""
    marked_at: str = ""
    entries: int = 0
    sealed_upto: int = 0
    another_key: bool = False
    origins: dict[str, int] = field(default_factory=dict)

    @property
    def words(self) -> str:
        """The words to compare."""
        return words_of(self.key)


class KnownLaptops:
    """The laptops of one open book."""

    def __init__(self, transactions: Transactions) -> None:
        self._connection = transactions.connection
        self._reading, self._writing = transactions.reading, transactions.writing

    def listed(self) -> list[KnownLaptop]:
        """Every laptop with a key, this one first, then by name."""
        own = public_key()
        with self._reading():
            rows = self._connection.run(
                "SELECT key, name, seen, compared_by, compared_at, distrusted_by, distrusted_at "
                "FROM laptop_key"
            ).all()
            found = [self._laptop(row, own) for row in rows]
        return sorted(found, key=lambda one: (one.key != own, one.name, one.key))

    def _laptop(self, row: tuple[str, ...], own: str) -> KnownLaptop:
        key, name, seen, compared_by, compared_at, distrusted_by, distrusted_at = row
        trust: Trust = "this laptop" if key == own else "not compared"
        by, at = "", ""
        if distrusted_at:
            trust, by, at = "distrusted", distrusted_by, distrusted_at
        elif compared_at and key != own:
            trust, by, at = "compared", compared_by, compared_at
        query = "SELECT origin, max(upto) FROM seal WHERE key = ? AND wrong = '' GROUP BY origin"
        origins = {str(origin): int(upto) for origin, upto in self._connection.run(query, (key,))}
        wrong = "SELECT 1 FROM seal WHERE key = ? AND wrong = 'key' LIMIT 1"
        another = self._connection.run(wrong, (key,)).first() is not None
        counts = [self._count(origin) for origin in origins]
        newest = max(origins.values(), default=0)
        return KnownLaptop(
            key, name, seen, trust, by or "", at or "", sum(counts), newest, another, origins
        )

    def _count(self, origin: str) -> int:
        query = "SELECT count(*) FROM journal WHERE origin = ?"
        return int(self._connection.run(query, (origin,)).value())

    def count_unsigned_origins(self) -> tuple[int, int]:
        """How many origins no key has signed for, and how many entries they have."""
        query = (
            "SELECT count(DISTINCT origin), count(*) FROM journal WHERE origin NOT IN "
            "(SELECT origin FROM seal WHERE wrong = '')"
        )
        with self._reading():
            origins, entries = self._connection.run(query).one()
        return int(origins), int(entries)

    def named(self, name: str) -> KnownLaptop:
        """The laptop of a name, or of the beginning of its words. Raises BookError."""
        wanted = name.strip().casefold()
        laptops = self.listed()
        exact = [one for one in laptops if one.name.casefold() == wanted or one.words == wanted]
        found = exact or [one for one in laptops if wanted and one.words.startswith(wanted)]
        if len(found) == 1:
            return found[0]
        if found:
            words = "; ".join(one.words for one in found[:3])
            raise BookError(f"Several laptops are called {name}: name one by its words: {words}.")
        raise BookError(f"No laptop {name} is known here: fieldbook laptops lists those that are.")

    def mark_compared(self, key: str, by: str) -> None:
        """Note that a person compared the words of a key, today; from now on its seals hold."""
        with self._writing():
            self._connection.run(
                "UPDATE laptop_key SET compared_by = ?, compared_at = ? WHERE key = ?",
                (by, now(), key),
            )
            if weigh_again(self._connection, key, public_key()):
                self._read_all_again()

    def distrust(self, key: str, by: str) -> None:
        """Accept from a key nothing beyond what is known of it now. Raises BookError for our own.

        A key that is distrusted already stays as it is.
        """
        if key == public_key():
            raise BookError("That is this laptop's own key: distrust it on the other laptops.")
        with self._writing():
            self._distrust(key, by)

    def distrust_by_office(self, keys: Mapping[str, str]) -> None:
        """Distrust the keys (with a name each) of laptops that the office shut out.

        The office can't make this laptop distrust itself.
        """
        query = "SELECT key FROM laptop_key WHERE distrusted_at IS NOT NULL"
        with self._reading():
            distrusted = {str(row[0]) for row in self._connection.run(query)}
        new = keys.keys() - distrusted - {public_key()}
        if not new:
            return
        with self._writing():
            for key in sorted(new):
                self._connection.run(
                    "INSERT OR IGNORE INTO laptop_key (key, name, since, seen) VALUES (?, ?, ?, ?)",
                    (key, keys[key], now(), now()),
                )
                self._distrust(key, _OFFICE)

    def _distrust(self, key: str, by: str) -> None:
        query = "SELECT origin, max(upto) FROM seal WHERE key = ? AND wrong = '' GROUP BY origin"
        upto = json.dumps(dict(self._connection.run(query, (key,)).all()))
        self._connection.run(
            "UPDATE laptop_key SET distrusted_by = ?, distrusted_at = ?, known_upto = ? "
            "WHERE key = ? AND distrusted_at IS NULL",
            (by, now(), upto, key),
        )

    def trust_again(self, key: str) -> None:
        """Take a distrust back; what was refused comes with the next exchange, which reads all."""
        with self._writing():
            self._connection.run(
                "UPDATE laptop_key SET distrusted_by = NULL, distrusted_at = NULL, "
                "known_upto = NULL WHERE key = ?",
                (key,),
            )
            self._read_all_again()

    def _read_all_again(self) -> None:
        """Have the next exchanges read everything: some of it was refused before."""
        self._connection.run("DELETE FROM exchange_file WHERE upto = 0")
        self._connection.run(
            "DELETE FROM exchange_place WHERE id LIKE 'state:%' OR id LIKE 'office %'"
        )

    def carry_from(self, old: sqlite3.Connection) -> None:
        """Take over the seals of another state of this book that are as they were signed.

        What a person thinks of a laptop is taken over too. Raises sqlite3.Error where the other
        book can't be read, or has no seals yet.
        """
        seals = old.execute(
            "SELECT origin, job_id, upto, ids, key, name, at, signature, came, wrong FROM seal"
        ).fetchall()
        marks = old.execute(f"SELECT key, {_MARKS} FROM laptop_key").fetchall()
        assigned = ", ".join(f"{name} = ?" for name in _MARKS.split(", "))
        with self._writing():
            for *fields, came, wrong in seals:
                with suppress(SealError):
                    seal = from_stored(fields)
                    if wrong in ("", "key") and is_genuine(seal):
                        add_seal(self._connection, seal, wrong, str(came))
            for key, *values in marks:
                self._connection.run(
                    f"UPDATE laptop_key SET {assigned} WHERE key = ? AND compared_at IS NULL "
                    "AND distrusted_at IS NULL",
                    (*values, key),
                )
