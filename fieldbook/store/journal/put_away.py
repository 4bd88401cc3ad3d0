"""The one place where entries leave a journal: those of a property that is put away from a laptop.

They are at the office or on a stick by then; `holding/putting_away.py` makes sure. Of those that
this book wrote itself the ids stay, so that its chain is followed over the gap, the office is sent
nothing twice, and entries that come back are known for its own and not for those of a copy.
"""

from __future__ import annotations

from fieldbook.store.errors import BookError
from fieldbook.store.journal.triggers import guard, unguard
from fieldbook.store.sqlite.book_connection import Connection

OWN_ENTRIES = """
SELECT id, origin, seq FROM journal WHERE origin IN (SELECT id FROM origin)
UNION ALL SELECT id, origin, seq FROM put_away_entry
"""
"""Every entry that this book wrote, whether it is here or put away."""
_KEEP_IDS = """
INSERT OR IGNORE INTO put_away_entry (id, origin, seq, job_id)
SELECT id, origin, seq, job_id FROM journal
WHERE job_id = ? AND origin IN (SELECT id FROM origin)
"""
_LAST = "SELECT coalesce(max(n), 0) FROM journal"


def remove_entries(connection: Connection, job_id: str) -> int:
    """Remove every entry of a property, in the caller's transaction; returns how many.

    Numbers of entries are never given twice: files on sticks, backups and the text journal go by
    them. So the last entry of all that stays takes the last number. Raises BookError where none
    would stay.
    """
    last = int(connection.run(_LAST).value())
    connection.run(_KEEP_IDS, (job_id,))
    unguard(connection, "journal")
    count = connection.raw.execute("DELETE FROM journal WHERE job_id = ?", (job_id,)).rowcount
    left = int(connection.run(_LAST).value())
    if not left:
        raise BookError("It is the only property on this laptop: nothing is gained.")
    if left < last:
        connection.run("UPDATE journal SET n = ? WHERE n = ?", (last, left))
    guard(connection, "journal")
    return count


def is_any_away(connection: Connection) -> bool:
    """Whether any entry that was written here is put away."""
    return connection.run("SELECT 1 FROM put_away_entry LIMIT 1").first() is not None


def came_back(connection: Connection, entry_id: str) -> bool:
    """Whether an entry that comes was put away here once; it then no longer is."""
    query = "DELETE FROM put_away_entry WHERE id = ?"
    return connection.raw.execute(query, (entry_id,)).rowcount > 0


def put_away_at(connection: Connection) -> dict[tuple[str, int], str]:
    """The ids of the own entries that are put away, by origin and number."""
    rows = connection.run("SELECT origin, seq, id FROM put_away_entry")
    return {(str(origin), int(seq)): str(entry_id) for origin, seq, entry_id in rows}
