"""The other properties that bear on one, found in the book: its checks see one job alone."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from fieldbook.records.neighbours import Neighbour, joined_parts
from fieldbook.records.tables.job import Job
from fieldbook.store.changes import Act
from fieldbook.store.errors import BookError
from fieldbook.store.journal import history
from fieldbook.store.sqlite.book_connection import Connection
from fieldbook.store.sqlite.row_statements import select_rows
from fieldbook.trade.postal_words import address_key, has_short

_SHOWN = "job.id, job.address, job.customer, job.entered_by, job.entered_at, job.joined_with"
_SIGNED = "EXISTS (SELECT 1 FROM sign_off WHERE sign_off.job_id = job.id)"
_ONE = f"SELECT {_SHOWN}, {_SIGNED} FROM job WHERE job.id = ?"
# A range, so that the index on addresses serves; NOCASE as the index has it.
_ALIKE = (
    "SELECT job.id, job.address FROM job WHERE job.off_board IS NOT 1 AND job.id <> ? "
    "AND job.address COLLATE NOCASE >= ? AND job.address COLLATE NOCASE < ?"
)
_JOINED = (
    f"SELECT {_SHOWN}, {_SIGNED} FROM job WHERE job.off_board = 1 AND job.joined_with >= ? "
    "AND job.joined_with < ? ORDER BY job.id"
)
_ENTRIES = (
    "SELECT count(*) FROM journal WHERE job_id = ? "
    "AND NOT (\"table\" = 'job' AND op IN ('off_board', 'joined_with'))"
)
_HIGHEST = "\U0010ffff"


def neighbours_of(connection: Connection, job: Job) -> tuple[Neighbour, ...]:
    """The other properties on the board with this one's address, and those joined with it since.

    Addresses are one if they are equal but for case, spaces, punctuation and postal abbreviations.
    They are looked for among those that begin with the same word, or a short form of it.
    """
    found = [*_alike(connection, job)] if not job.off_board else []
    for row in connection.run(_JOINED, (f"{job.id} ", f"{job.id}!")).all():
        _, seen = joined_parts(row[5])
        later = count_entries(connection, row[0]) - seen
        if later:
            found.append(_neighbour(row, abs(later)))
    return tuple(found)


def _alike(connection: Connection, job: Job) -> Iterator[Neighbour]:
    """The other properties on the board with the same address."""
    key = address_key(job.address)
    if not key:
        return
    first = job.address.split()[0].rstrip(",.")
    # A first word such as North may be one letter elsewhere. After a house number comes a space or
    # a sign: "0" is the first character after all of those.
    low, high = (first[:1], first[:1] + _HIGHEST) if has_short(first) else (first, first + "0")
    rows = connection.run(_ALIKE, (job.id, low, high)).all()
    for job_id in sorted(row[0] for row in rows if address_key(str(row[1])) == key):
        for row in connection.run(_ONE, (job_id,)).all():
            yield _neighbour(row, 0)


def _neighbour(row: Sequence[Any], later: int) -> Neighbour:
    job_id, address, customer, by, at, _, signed = row
    return Neighbour(job_id, address, customer, by, at, bool(signed), later)


def count_entries(connection: Connection, job_id: str) -> int:
    """How many entries a property has, but for those that join it with another."""
    return int(connection.run(_ENTRIES, (job_id,)).value())


def once_had(connection: Connection, job_id: str) -> set[str]:
    """The ids of all rows that a property has or ever had."""
    query = "SELECT DISTINCT row_id FROM journal WHERE job_id = ?"
    return {str(row[0]) for row in connection.run(query, (job_id,))}


def partners_of(connection: Connection, job_id: str) -> list[str]:
    """The properties that an act on this one may have changed too: joined, or of its address."""
    found = next(select_rows(connection, Job, "id", job_id), None)
    if found is None:
        return []
    job = Job(**found)
    near = [one.job_id for one in _alike(connection, job)]
    query = "SELECT id FROM job WHERE joined_with >= ? AND joined_with < ?"
    near += [str(row[0]) for row in connection.run(query, (f"{job.id} ", f"{job.id}!"))]
    joined, _ = joined_parts(job.joined_with)
    return [*dict.fromkeys((*near, *([joined] if joined else [])))]


def partners_of_act(connection: Connection, act: Act, group_id: str) -> list[str]:
    """The other properties that the act `group_id` changed, which `act` takes back.

    Raises BookError where it is not the newest act of each that stands: what came after it on
    another property would be taken back too.
    """
    found = []
    for job_id in partners_of(connection, act.job_id):
        acts = history.acts_of_job(connection, job_id)
        if group_id not in {one.group_id for one in acts}:
            continue
        newest = history.redo_target(acts) if act.kind == "redo" else history.undo_target(acts)
        if newest is None or newest.group_id != group_id:
            raise BookError(
                "This changed another property too, on which more was entered since: undo that "
                "first."
            )
        found.append(job_id)
    return found
