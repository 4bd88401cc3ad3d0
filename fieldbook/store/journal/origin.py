"""The origin: the identity under which this book writes entries.

Two books must never write under one origin, because the entries of an origin are numbered and
chained. But books are copied, and restored from backups. So a book holds a token that is also kept
outside it, in a folder of this machine, and changes both before its first entry after opening. A
book whose token is not known to this machine is a copy, an older state, or came from another
machine: it starts a new origin.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass

from fieldbook.records.base import new_id, now
from fieldbook.store.disk import write_whole
from fieldbook.store.paths import state_folder
from fieldbook.store.sqlite.book_connection import Connection

_CURRENT = "FROM origin ORDER BY no DESC LIMIT 1"


@dataclass
class OriginState:
    """The origin in use, with the seq, id and clock of its last entry."""

    no: int
    id: str
    seq: int
    last_id: str
    clock: int

    def save(self, connection: Connection) -> None:
        """Store how far the origin has come."""
        connection.run(
            "UPDATE origin SET seq = ?, last = ?, clock = ? WHERE no = ?",
            (self.seq, self.last_id, self.clock, self.no),
        )


def current_origin(connection: Connection) -> OriginState:
    """The origin in use, started if the book has none."""
    query = f"SELECT no, id, seq, last, clock {_CURRENT}"
    row = connection.run(query).first()
    if row is None:
        start_origin(connection)
        row = connection.run(query).one()
    return OriginState(*row)


def start_origin(connection: Connection) -> str:
    """Start a new origin for the entries from now on; returns its id."""
    origin, token = new_id(), new_id()
    clock = connection.run("SELECT coalesce(max(clock), 0) FROM origin").value()
    connection.run(
        "INSERT INTO origin (id, since, seq, last, clock, token) VALUES (?, ?, 0, '', ?, ?)",
        (origin, now(), clock, token),
    )
    return origin


def own_origins(connection: Connection) -> set[str]:
    """Every origin that this book has written under."""
    return {str(row[0]) for row in connection.run("SELECT id FROM origin")}


def adopt_origins(connection: Connection, origins: Iterable[str]) -> None:
    """Make the origins of the book that this one was rebuilt from its own, so that undo works.

    Their numbers are zero and below, so that none of them is the origin in use.
    """
    for number, origin in enumerate(sorted(origins)):
        connection.run(
            "INSERT OR IGNORE INTO origin (no, id, since, seq, last, clock, token) "
            "VALUES (?, ?, '', 0, '', 0, '')",
            (-number, origin),
        )


def advance_clock(connection: Connection, clock: int) -> None:
    """Make the entries from now on later than an entry from elsewhere."""
    own = current_origin(connection)
    own.clock = max(own.clock, clock)
    own.save(connection)


def claim_origin(connection: Connection) -> str:
    """The id of the origin to write under after opening: a new one where the book is a copy.

    Call it inside a transaction, and `confirm_origin` after the commit. The new token is written
    outside before the book commits it, beside the old one: whichever of the two the book holds
    after a power cut is known.
    """
    own = current_origin(connection)
    query = "SELECT token FROM origin WHERE no = ?"
    token = str(connection.run(query, (own.no,)).value() or "")
    if (own.seq > 0 or token) and token not in _read_tokens(own.id):
        return start_origin(connection)
    new_token = new_id()
    _write_tokens(own.id, [new_token, token])
    connection.run("UPDATE origin SET token = ? WHERE no = ?", (new_token, own.no))
    return own.id


def confirm_origin(connection: Connection) -> None:
    """Forget the old token: a copy of the book that still holds it is told apart from now on."""
    origin, token = connection.run(f"SELECT id, token {_CURRENT}").one()
    _write_tokens(origin, [token])


def written_here(origin: str) -> bool:
    """Whether a book on this machine ever wrote under an origin; a copied book's is not known."""
    return (state_folder() / f"{origin}.json").exists()


def _read_tokens(origin: str) -> list[str]:
    try:
        tokens = json.loads((state_folder() / f"{origin}.json").read_text("utf-8"))
    except (OSError, ValueError):
        return []
    return [str(token) for token in tokens if token] if isinstance(tokens, list) else []


def _write_tokens(origin: str, tokens: list[str]) -> None:
    """Write the tokens whole or not at all; without them the next opening starts a new origin."""
    file = state_folder() / f"{origin}.json"
    part = file.with_name(f"{file.name}.{os.getpid()}.part")
    with suppress(OSError):
        file.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        write_whole(file, part, json.dumps(tokens).encode())
