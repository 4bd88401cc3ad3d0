"""Decide what of a stick, a file or an office is accepted: which seals hold, which entries come in.

Refused are entries under an origin for which this laptop signs and that its key did not sign, and
what a distrusted laptop made after all that was known of it when it was distrusted. Everything else
comes in, signed or not, and is shown as what it is.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from fieldbook.store.journal.entry import Entry
from fieldbook.store.seals.key_words import words_of
from fieldbook.store.seals.seal import Seal, is_genuine, start_of
from fieldbook.store.seals.seal_table import (
    Proof,
    add_seal,
    has_seal,
    keys_of_origin,
    proofs_of,
)
from fieldbook.store.sqlite.book_connection import Connection

_KNOWN = "SELECT id FROM journal WHERE id IN (SELECT value FROM json_each(?))"
_AWAY = "SELECT id FROM put_away_entry WHERE id IN (SELECT value FROM json_each(?))"
_COMPARED = "SELECT key FROM laptop_key WHERE compared_at IS NOT NULL"
_DISTRUSTED = "SELECT key, name, known_upto FROM laptop_key WHERE distrusted_at IS NOT NULL"


@dataclass
class Accepted:
    """The new entries that come in, and a sentence for whatever is refused or in doubt."""

    entries: list[Entry] = field(default_factory=list)
    unsigned: int = 0
    wrongly_signed: int = 0
    warnings: list[str] = field(default_factory=list)


def accept(
    connection: Connection,
    entries: Iterable[Entry],
    seals: Sequence[Seal],
    came: str,
    own: tuple[str, Collection[str]],
) -> Accepted:
    """Store the seals, in the caller's transaction, and say which of the entries come in.

    `own` is the public key of this laptop, with the origins of the book whose entries need not be
    signed yet (`unsigned_origins`): what an older fieldbook made then comes back to a restored
    book. The caller adds the entries to the journal.
    """
    accepted, distrusted = Accepted(), _Distrusted(connection)
    accepted.warnings += _take_seals(connection, seals, came, distrusted)
    forged, late = 0, Counter[str]()
    for entry, keys, proof in _new_entries(connection, entries):
        signed = proof.state == "signed"
        if own[0] in keys and not signed and entry.origin not in own[1]:
            forged += 1
        elif laptop := distrusted.made_late(entry, keys, signed=signed):
            late[laptop] += 1
        else:
            accepted.entries.append(entry)
            accepted.unsigned += proof.state == "unsigned"
            accepted.wrongly_signed += proof.state == "wrongly signed"
    if forged:
        accepted.warnings.append(
            "Entries that claim to be this laptop's own, but were not signed with its key: "
            f"{forged} refused. Somebody else made them, or a copy of this laptop: compare words."
        )
    accepted.warnings += [
        f"Entries that the distrusted laptop {name} made since it was distrusted: {count} refused."
        for name, count in late.items()
    ]
    return accepted


def _new_entries(
    connection: Connection, entries: Iterable[Entry]
) -> Iterator[tuple[Entry, set[str], Proof]]:
    """The entries that the book lacks, each with the keys of its origin and what is proven of it.

    What was put away and comes back needs no signature: it has no keys.
    """
    listed = list(entries)
    ids = json.dumps([entry.id for entry in listed])
    known = {row[0] for row in connection.run(_KNOWN, (ids,))}
    away = {row[0] for row in connection.run(_AWAY, (ids,))}
    new = [entry for entry in listed if entry.id not in known]
    proofs = proofs_of(connection, new)
    keys: dict[str, set[str]] = {}
    for entry in new:
        if entry.origin not in keys:
            keys[entry.origin] = keys_of_origin(connection, entry.origin)
        yield entry, set() if entry.id in away else keys[entry.origin], proofs[entry.id]


class _Distrusted:
    """The distrusted keys, and how far each of their origins was known when they became that."""

    def __init__(self, connection: Connection) -> None:
        rows = connection.run(_DISTRUSTED).all()
        self._names = {str(key): str(name) for key, name, _ in rows}
        self._upto: dict[str, dict[str, int]] = {
            key: json.loads(upto or "{}") for key, _, upto in rows
        }
        self._late: dict[bytes, str] = {}

    def is_late(self, seal: Seal) -> bool:
        """Whether a seal was made by a distrusted key since; its entries are then late too."""
        if seal.key not in self._names or seal.upto <= self._known(seal.key, seal.origin):
            return False
        self._late.update(dict.fromkeys(seal.starts, self._names[seal.key]))
        return True

    def made_late(self, entry: Entry, keys: Collection[str], *, signed: bool) -> str:
        """The name of the distrusted laptop that made an entry since, or ""."""
        for key in self._names.keys() & keys:
            if not signed or entry.seq > self._known(key, entry.origin):
                return self._names[key]
        return self._late.get(start_of(entry.id), "") if self._late else ""

    def _known(self, key: str, origin: str) -> int:
        return self._upto[key].get(origin, 0)


def _take_seals(
    connection: Connection, seals: Iterable[Seal], came: str, distrusted: _Distrusted
) -> list[str]:
    """Store the seals that are new; returns a sentence for what is wrong with some of them."""
    spoilt, others = 0, dict[tuple[str, str], str]()
    keys: dict[str, set[str]] = {}
    compared = {str(row[0]) for row in connection.run(_COMPARED)}
    for seal in seals:
        if has_seal(connection, seal):
            continue
        if not is_genuine(seal):
            add_seal(connection, seal, "signature", came)
            spoilt += 1
        elif not distrusted.is_late(seal):
            if seal.origin not in keys:
                keys[seal.origin] = keys_of_origin(connection, seal.origin)
            signing = keys[seal.origin]
            another = bool(signing) and seal.key not in signing | compared
            add_seal(connection, seal, "key" if another else "", came)
            if another:
                others[seal.name, seal.key] = min(signing)
            else:
                signing.add(seal.key)
    sentences = []
    if spoilt:
        sentences.append(
            f"Wrongly signed: {spoilt} seals. Their entries came, but nothing proves who made them."
        )
    for (name, other), key in others.items():
        sentences.append(
            f"{name} signs with another key ({words_of(other)}) than was seen first "
            f"({words_of(key)}): not accepted. Compare the words: fieldbook laptops."
        )
    return sentences
