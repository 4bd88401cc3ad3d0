"""What a crew knows each row by: the number or name that no second row may have.

Two laptops without signal may each add a zone 3 or a box B. Whether those are one thing or two only
a person knows: F6 asks (`actions/conflicts/twice_questions.py`), and a flag says so.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from fieldbook.records.base import Record
from fieldbook.records.loaded_job import TABLES, LoadedJob, once_per_job
from fieldbook.records.values import Value

NUMBERED: Mapping[str, str] = {"zone": "number", "valve_box": "name", "cable": "name"}
"""Tables whose rows get a free number or letter by themselves, and the column that holds it."""


@dataclass(frozen=True)
class KnownBy:
    """The columns that tell a row from others of its table.

    `columns` hold its number or name; a row whose first is blank is known by nothing. Rows are
    compared only with those that agree `within` other columns, such as the runs of one zone.
    """

    columns: tuple[str, ...]
    within: tuple[str, ...] = ()

    @property
    def column(self) -> str:
        """The column of the number or name itself."""
        return self.columns[0]


KNOWN_BY: Mapping[str, KnownBy] = {
    "zone": KnownBy(("number",)),
    "valve_box": KnownBy(("name",)),
    "cable": KnownBy(("name",)),
    "two_wire_path": KnownBy(("name",)),
    "other_controller": KnownBy(("name",)),
    "backflow_assembly": KnownBy(("name", "kind")),
    "pipe_run": KnownBy(("number",), ("zone_id",)),
    "conductor": KnownBy(("colour",), ("cable_id",)),
    "decoder": KnownBy(("address", "output"), ("path_id",)),
    # A controller's programme A of summer and that of winter are two.
    "programme": KnownBy(("name", "first_day"), ("controller_id",)),
    "fixed_point": KnownBy(("name",)),
    "permit": KnownBy(("number", "kind")),
    "locate_ticket": KnownBy(("number",)),
    "crew_member": KnownBy(("name", "role")),
    "change_order": KnownBy(("number",)),
    "catch_can": KnownBy(("number",), ("audit_id",)),
}
"""Every kind of row with a number or name that is its own. Numbers of inspections are not here: an
inspection that is held again keeps its number. Rows with an id made from what they are, such as a
valve, can't be there twice (`records/ids.py`)."""


@dataclass(frozen=True)
class Duplicate:
    """Rows of a table that hold the same number or name, the one that was added first in front.

    `value` is what the first holds: another may be written in capitals.
    """

    table: str
    column: str
    value: int | str
    row_ids: tuple[str, ...]


@once_per_job
def duplicates(job: LoadedJob) -> tuple[Duplicate, ...]:
    """Numbers and names that more than one row has."""
    found: list[Duplicate] = []
    tables = job.tables()
    for table, known in KNOWN_BY.items():
        by_key: dict[tuple[Value, ...], list[Record]] = {}
        # An id begins with the time at which it was made.
        for row in sorted(tables[table], key=lambda row: row.id):
            key = key_of(table, row)
            if key is not None:
                by_key.setdefault(key, []).append(row)
        found += [
            Duplicate(
                table, known.column, getattr(rows[0], known.column), tuple(row.id for row in rows)
            )
            for rows in by_key.values()
            if len(rows) > 1
        ]
    return tuple(found)


def key_of(table: str, row: Record) -> tuple[Value, ...] | None:
    """What tells a row from others of its table; None where it has no number or name yet."""
    known = KNOWN_BY.get(table)
    if known is None or getattr(row, known.column) in (None, ""):
        return None
    own = tuple(folded(table, getattr(row, column)) for column in known.columns)
    return (*own, *(getattr(row, column) or "" for column in known.within))


def folded(table: str, value: Value) -> Value:
    """A name without capitals, spare spaces and the words for the thing: "Box A" is "a"."""
    if not isinstance(value, str):
        return value
    words = value.casefold().split()
    own = TABLES[table].title.casefold().split()
    while len(words) > 1 and words[0] in own:
        del words[0]
    return " ".join(words)
