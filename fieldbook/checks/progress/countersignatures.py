"""Countersignatures: a licensed member of the crew stands for what another entered or signed.

They are rows of the sign-off table with kinds of their own, so they are append-only, superseded,
undone and exchanged as signatures are. No hold and no check asks for one: a countersignature never
makes an unmet hold met.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass

from fieldbook.checks.progress.digests import digest
from fieldbook.records.base import Place, Record
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.records.tables.sign_offs import SignOff

_OF = "countersignature of "


@dataclass(frozen=True)
class EntriesOf:
    """What one person entered at a place, countersigned; `changed`: no longer as it was then."""

    person: str
    row: SignOff
    changed: bool

    @property
    def words(self) -> str:
        """Whose entries, by whom, and whether they changed since."""
        since = "; changed since" if self.changed else ""
        return f"entries of {self.person} {signed_words(self.row)}{since}"


def kind_over_sign_off(kind: str) -> str:
    """The kind of the row that countersigns a sign-off of a kind, with the zone of that."""
    return f"{_OF}{kind}"


def kind_over_entries(place: Place, person: str) -> str:
    """The kind of the row that countersigns what a person entered at a place."""
    return f"{_OF}{place} {person}"


def over_sign_off(job: LoadedJob, kind: str, zone_id: str | None) -> SignOff | None:
    """The countersignature of the signature that counts now; None where there is none of that."""
    signed = job.signed(kind, zone_id)
    found = job.signed(kind_over_sign_off(kind), zone_id)
    if signed is None or found is None or found.countersigns != signed.id:
        return None
    return found


def over_entries(job: LoadedJob, place: Place) -> Iterator[EntriesOf]:
    """The countersigned entries of a place, by person."""
    begins = kind_over_entries(place, "")
    kinds = dict.fromkeys(row.kind for row in job.sign_offs if row.kind.startswith(begins))
    for kind in kinds:
        row, person = job.signed(kind), kind.removeprefix(begins)
        if row is not None:
            yield EntriesOf(person, row, covered_entries(job, place, person) != row.covered)


def people_at(job: LoadedJob, place: Place) -> list[str]:
    """Who entered the rows of a place, by initials."""
    return sorted({row.entered_by for _, row in _rows_at(job, place) if row.entered_by})


def covered_entries(job: LoadedJob, place: Place, person: str) -> str:
    """The digests of the rows that a person entered last at a place, as a JSON object."""
    tables: dict[str, list[Record]] = {}
    for table, row in _rows_at(job, place):
        if row.entered_by == person:
            tables.setdefault(table, []).append(row)
    found = {table: digest(job, table, rows) for table, rows in tables.items()}
    return json.dumps(found, sort_keys=True)


def signed_words(row: SignOff) -> str:
    """By whom, under which licence, and when."""
    licence = " ".join(row.licence.split())
    return f"countersigned by {row.signed_by}, licence {licence}, {row.signed_at[:10]}"


def _rows_at(job: LoadedJob, place: Place) -> Iterator[tuple[str, Record]]:
    for table, rows in job.tables().items():
        if TABLES[table].sheet == place and table != "sign_off":
            yield from ((table, row) for row in rows)
