"""Make the seals of this laptop: over every entry it made that has none yet."""

from __future__ import annotations

from fieldbook.records.base import now
from fieldbook.store.journal.origin import current_origin, start_origin, written_here
from fieldbook.store.seals.laptop_key import LaptopKey
from fieldbook.store.seals.seal import MOST_IDS, sealed
from fieldbook.store.seals.seal_table import add_seal, keys_of_origin
from fieldbook.store.sqlite.book_connection import Connection

REBUILT = "rebuilt"
"""The place that the entries of a rebuilt book came from: its own are still its own."""
_LAST = "SELECT coalesce(max(upto), 0) FROM seal WHERE origin = ? AND came = ''"
_UNSEALED = f"""
FROM journal WHERE origin = ? AND seq > ? AND came IN ('', '{REBUILT}') ORDER BY seq
"""


def unsealed_origins(connection: Connection) -> list[str]:
    """The origins of this laptop that hold entries without a seal of it.

    An origin of a book that was copied from another laptop is not this laptop's.
    """
    found = []
    for (origin,) in connection.run("SELECT id FROM origin ORDER BY no").all():
        last = connection.run(_LAST, (origin,)).value()
        more = connection.run(f"SELECT 1 {_UNSEALED} LIMIT 1", (origin, last)).first()
        if more is not None and written_here(origin):
            found.append(str(origin))
    return found


def unsigned_origins(connection: Connection) -> set[str]:
    """The origins of this book for which no key has signed yet, as those of an older fieldbook."""
    rows = connection.run("SELECT id FROM origin").all()
    return {str(origin) for (origin,) in rows if not keys_of_origin(connection, origin)}


def seal_entries(connection: Connection, key: LaptopKey) -> int:
    """Seal what this laptop made, in the caller's transaction; returns how many seals were made.

    An origin for which another key signed stays as it is: this laptop lost its key, or the book is
    a copy. If it is in use, a new one is started, whose entries can be sealed.
    """
    made = 0
    for origin in unsealed_origins(connection):
        signing = keys_of_origin(connection, origin)
        if not signing or key.public in signing:
            made += _seal_origin(connection, key, origin)
        elif current_origin(connection).id == origin:
            start_origin(connection)
    return made


def _seal_origin(connection: Connection, key: LaptopKey, origin: str) -> int:
    last = connection.run(_LAST, (origin,)).value()
    by_job: dict[str, list[tuple[int, str]]] = {}
    for seq, entry_id, job_id in connection.run(
        f"SELECT seq, id, job_id {_UNSEALED}", (origin, last)
    ):
        by_job.setdefault(job_id, []).append((seq, entry_id))
    made = 0
    for job_id, entries in by_job.items():
        for first in range(0, len(entries), MOST_IDS):
            part = entries[first : first + MOST_IDS]
            seal = sealed(key.private, key.name, origin, job_id, part, now())
            add_seal(connection, seal, "", "")
            made += 1
    return made
