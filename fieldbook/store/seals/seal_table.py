"""The seals that a book holds, whose key each origin has, and what that proves of an entry.

A seal is never changed; only what is thought of it (`wrong`) is, when a person has compared keys.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from fieldbook.records.base import now
from fieldbook.store.journal.entry import Entry
from fieldbook.store.seals.seal import Seal
from fieldbook.store.sqlite.book_connection import Connection

Wrong = Literal["", "signature", "key"]
"""What is wrong with a seal: it was not signed so, or not with the key of its origin."""
State = Literal["signed", "unsigned", "wrongly signed", "made here"]
_COLUMNS = "origin, job_id, upto, ids, key, name, at, signature"
_ADD = f"""
INSERT OR IGNORE INTO seal (id, {_COLUMNS}, came, wrong) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
"""
_KEYS_OF = "SELECT DISTINCT key FROM seal WHERE origin = ? AND wrong = ''"
# The first key that was seen signs for an origin, and every key that a person has compared; of a
# book that was copied with its laptop two keys may sign for one origin.
_WEIGH = """
UPDATE seal SET wrong = CASE
  WHEN key IN (SELECT key FROM laptop_key WHERE compared_at IS NOT NULL) OR key = (
    SELECT s.key FROM seal s LEFT JOIN laptop_key k ON k.key = s.key
    WHERE s.origin = seal.origin AND s.wrong <> 'signature'
    ORDER BY s.key = ?1 DESC, k.compared_at IS NOT NULL DESC, s.no LIMIT 1)
  THEN '' ELSE 'key' END
WHERE wrong <> 'signature' AND origin IN (SELECT origin FROM seal WHERE key = ?2)
"""
_SEEN = """
INSERT INTO laptop_key (key, name, since, seen) VALUES (?, ?, ?, ?)
ON CONFLICT (key) DO UPDATE SET name = excluded.name, seen = excluded.seen
"""


@dataclass(frozen=True)
class Stored:
    """A seal as the book holds it, with its number there."""

    number: int
    wrong: Wrong
    seal: Seal


@dataclass(frozen=True)
class Proof:
    """What is proven of an entry; `key` is that of the seal that names it, or ""."""

    state: State
    key: str = ""


def add_seal(connection: Connection, seal: Seal, wrong: Wrong, came: str) -> None:
    """Store a seal, in the caller's transaction; `came` is "" for one made here."""
    row = (seal.origin, seal.job_id, seal.upto, seal.ids, seal.key, seal.name, seal.at)
    connection.run(_ADD, (seal.id, *row, seal.signature, came, wrong))
    if wrong != "signature":
        connection.run(_SEEN, (seal.key, seal.name, now(), now()))


def has_seal(connection: Connection, seal: Seal) -> bool:
    """Whether the book holds a seal."""
    return connection.run("SELECT 1 FROM seal WHERE id = ?", (seal.id,)).first() is not None


def keys_of_origin(connection: Connection, origin: str) -> set[str]:
    """The keys that sign for an origin: none before its first seal, hardly ever two."""
    return {str(row[0]) for row in connection.run(_KEYS_OF, (origin,))}


def weigh_again(connection: Connection, key: str, own_key: str) -> bool:
    """Decide anew which seals hold, for each origin that a key has signed for.

    Returns whether seals of the key were not accepted before: entries may have been refused then.
    """
    query = "SELECT 1 FROM seal WHERE key = ? AND wrong = 'key' LIMIT 1"
    refused = connection.run(query, (key,)).first() is not None
    connection.run(_WEIGH, (own_key, key))
    return refused


def seals_on(connection: Connection, origin: str, job_id: str) -> list[Stored]:
    """The seals of an origin on one property, in the order in which they came."""
    query = f"SELECT no, wrong, {_COLUMNS} FROM seal WHERE job_id = ? AND origin = ? ORDER BY no"
    return [_stored(row) for row in connection.run(query, (job_id, origin))]


def seals_naming(connection: Connection, entries: Iterable[Entry]) -> list[Stored]:
    """The seals that name at least one of these entries, but for wrongly signed ones."""
    found: dict[int, Stored] = {}
    for (origin, job_id), ids in _by_origin_and_job(entries).items():
        for stored in seals_on(connection, origin, job_id):
            if stored.wrong != "signature" and any(map(stored.seal.covers, ids)):
                found[stored.number] = stored
    return [found[number] for number in sorted(found)]


def seal_numbers(connection: Connection, excluded: Sequence[str]) -> list[int]:
    """The numbers of the seals that came from no `excluded` place, but for wrongly signed ones."""
    query = (
        "SELECT no FROM seal WHERE wrong <> 'signature' "
        "AND came NOT IN (SELECT value FROM json_each(?)) ORDER BY no"
    )
    return [int(row[0]) for row in connection.run(query, (json.dumps(list(excluded)),))]


def seals_with_numbers(connection: Connection, numbers: Sequence[int]) -> list[Stored]:
    """The seals with these numbers, in order."""
    query = (
        f"SELECT no, wrong, {_COLUMNS} FROM seal WHERE no IN (SELECT value FROM json_each(?)) "
        "ORDER BY no"
    )
    return [_stored(row) for row in connection.run(query, (json.dumps(list(numbers)),))]


def own_seals_after(connection: Connection, number: int) -> list[Seal]:
    """The seals with a number above this one of the origins that the book writes under."""
    query = (
        f"SELECT no, wrong, {_COLUMNS} FROM seal WHERE no > ? AND wrong <> 'signature' "
        "AND origin IN (SELECT id FROM origin) ORDER BY no"
    )
    return [_stored(row).seal for row in connection.run(query, (number,))]


def last_seal(connection: Connection) -> int:
    """The number of the newest seal, 0 if there is none."""
    return int(connection.run("SELECT coalesce(max(no), 0) FROM seal").value())


def proofs_of(connection: Connection, entries: Iterable[Entry]) -> dict[str, Proof]:
    """What is proven of each of these entries, by its id."""
    found: dict[str, Proof] = {}
    for (origin, job_id), ids in _by_origin_and_job(entries).items():
        stored = seals_on(connection, origin, job_id)
        for entry_id in ids:
            naming = [one for one in stored if one.seal.covers(entry_id)]
            found[entry_id] = _proof(connection, entry_id, naming)
    return found


def _proof(connection: Connection, entry_id: str, naming: Sequence[Stored]) -> Proof:
    for stored in sorted(naming, key=lambda stored: stored.wrong != ""):
        return Proof("wrongly signed" if stored.wrong else "signed", stored.seal.key)
    query = "SELECT 1 FROM journal WHERE id = ? AND came = '' AND origin IN (SELECT id FROM origin)"
    here = connection.run(query, (entry_id,)).first() is not None
    return Proof("made here" if here else "unsigned")


def _by_origin_and_job(entries: Iterable[Entry]) -> dict[tuple[str, str], list[str]]:
    found: dict[tuple[str, str], list[str]] = {}
    for entry in entries:
        found.setdefault((entry.origin, entry.job_id), []).append(entry.id)
    return found


def _stored(row: Sequence[Any]) -> Stored:
    number, wrong, *fields = row
    return Stored(int(number), wrong, Seal(*fields))
