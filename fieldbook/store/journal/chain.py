"""Whether entries are as they were sealed, and follow each other: the chain of each origin."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from fieldbook.store.journal.entry import FIELDS, SELECT_ENTRIES, Entry, from_row, make_entry
from fieldbook.store.journal.put_away import put_away_at
from fieldbook.store.sqlite.book_connection import Connection

Fault = Literal["altered", "out of order", "missing before"]


@dataclass(frozen=True)
class Link:
    """An entry with what is wrong with it; None where it is whole and follows the one before."""

    entry: Entry
    fault: Fault | None


def links(
    entries: Iterable[Entry],
    own: Collection[str],
    put_away: Mapping[tuple[str, int], str] = MappingProxyType({}),
) -> Iterator[Link]:
    """Each entry with its fault; pass all entries of an origin, as each follows another one.

    Of another laptop's origin some entries may not have come yet, so that one is missing before is
    a fault of an `own` origin alone. Of those that were `put_away` the ids are known, by origin and
    number.
    """
    held = list(entries)
    ids = {at: {entry_id} for at, entry_id in put_away.items()}
    for entry in held:
        ids.setdefault((entry.origin, entry.seq), set()).add(entry.id)
    for entry in held:
        before = ids.get((entry.origin, entry.seq - 1), set())
        fault: Fault | None = None
        if not is_whole(entry):
            fault = "altered"
        elif before and entry.prev not in before:
            fault = "out of order"
        elif entry.seq > 1 and not before and entry.origin in own:
            fault = "missing before"
        yield Link(entry, fault)


def is_whole(entry: Entry) -> bool:
    """Whether the id of an entry is the hash of its content."""
    return make_entry({name: getattr(entry, name) for name in FIELDS}).id == entry.id


def links_of_job(connection: Connection, job_id: str) -> list[Link]:
    """Every entry of a property with its fault, in the order of the clocks.

    All entries of the origins that wrote them are read: the one before may be another property's.
    """
    origins = "SELECT DISTINCT origin FROM journal WHERE job_id = ?"
    query = f"{SELECT_ENTRIES} WHERE origin IN ({origins}) ORDER BY clock, id"
    own = {str(origin) for (origin,) in connection.run("SELECT id FROM origin").all()}
    entries = [from_row(row) for row in connection.run(query, (job_id,))]
    found = links(entries, own, put_away_at(connection))
    return [link for link in found if link.entry.job_id == job_id]
