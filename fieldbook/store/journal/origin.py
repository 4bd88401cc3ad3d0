"""As which origin a book writes. A copied or restored book starts one of its own.

The book holds a token that is known outside it too, in a folder of this machine. Before the first
entry after opening it is changed in both. A book whose token is not the one known here is a copy, a
book restored from a backup, or a book brought from another machine: what it writes must not be
taken for the other's.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

import platformdirs
from sqlalchemy import Connection

from fieldbook.records.base import new_id, now

STATE_VARIABLE = "FIELDBOOK_STATE"


@dataclass
class OriginState:
    """The origin in use, and its last entry: number, id, clock."""

    no: int
    id: str
    seq: int
    last: str
    clock: int

    def keep(self, connection: Connection) -> None:
        """Keep how far it is."""
        connection.exec_driver_sql(
            "UPDATE origin SET seq = ?, last = ?, clock = ? WHERE no = ?",
            (self.seq, self.last, self.clock, self.no),
        )


def current_origin(connection: Connection) -> OriginState:
    """The origin in use, made when there is none."""
    query = "SELECT no, id, seq, last, clock FROM origin ORDER BY no DESC LIMIT 1"
    row = connection.exec_driver_sql(query).first()
    if row is None:
        start_origin(connection)
        row = connection.exec_driver_sql(query).one()
    return OriginState(*row)


def start_origin(connection: Connection) -> str:
    """Start an origin for what is entered from now on; its id."""
    made, token = new_id(), new_id()
    clock = connection.exec_driver_sql("SELECT coalesce(max(clock), 0) FROM origin").scalar_one()
    connection.exec_driver_sql(
        "INSERT INTO origin (id, since, seq, last, clock, token) VALUES (?, ?, 0, '', ?, ?)",
        (made, now(), clock, token),
    )
    return made


def own_origins(connection: Connection) -> set[str]:
    """Every origin this book has written as."""
    return {str(row[0]) for row in connection.exec_driver_sql("SELECT id FROM origin")}


def adopt_origins(connection: Connection, origins: Iterable[str]) -> None:
    """Know the origins of the book that this one is made from as its own, which undo asks."""
    for number, one in enumerate(sorted(origins)):
        connection.exec_driver_sql(
            "INSERT OR IGNORE INTO origin (no, id, since, seq, last, clock, token) "
            "VALUES (?, ?, '', 0, '', 0, '')",
            (-number, one),
        )


def advance_clock(connection: Connection, clock: int) -> None:
    """What is entered from now on is later than an entry that came from elsewhere."""
    own = current_origin(connection)
    own.clock = max(own.clock, clock)
    own.keep(connection)


def state_folder(environ: Mapping[str, str] | None = None) -> Path:
    """Where this machine keeps its books' tokens."""
    named = (os.environ if environ is None else environ).get(STATE_VARIABLE)
    return Path(named).expanduser() if named else platformdirs.user_state_path("fieldbook")


def claim_origin(connection: Connection) -> str:
    """The origin to write as from now on: a new one where the book is a copy.

    Call it inside a transaction; a changed token is known outside before it is in the book, so that
    a power cut between the two leaves both known. Call `confirm_origin` after the commit.
    """
    own = current_origin(connection)
    held = connection.exec_driver_sql("SELECT token FROM origin WHERE no = ?", (own.no,)).scalar()
    if (own.seq > 0 or held) and held not in _known(own.id):
        return start_origin(connection)
    token = new_id()
    _make_known(own.id, [token, str(held or "")])
    connection.exec_driver_sql("UPDATE origin SET token = ? WHERE no = ?", (token, own.no))
    return own.id


def confirm_origin(connection: Connection) -> None:
    """The token that the book now holds is the only one: an older copy of the book has another."""
    query = "SELECT id, token FROM origin ORDER BY no DESC LIMIT 1"
    origin, token = connection.exec_driver_sql(query).one()
    _make_known(origin, [token])


def _known(origin: str) -> list[str]:
    try:
        found = json.loads((state_folder() / f"{origin}.json").read_text("utf-8"))
    except (OSError, ValueError):
        return []
    return [str(one) for one in found if one] if isinstance(found, list) else []


def _make_known(origin: str, tokens: list[str]) -> None:
    """Write the tokens whole or not at all; one that can't be kept costs a new origin next time."""
    file = state_folder() / f"{origin}.json"
    part = file.with_name(f"{file.name}.{os.getpid()}.part")
    with suppress(OSError):
        file.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        with part.open("w", encoding="utf-8") as out:
            json.dump(tokens, out)
            out.flush()
            os.fsync(out.fileno())
        part.replace(file)
