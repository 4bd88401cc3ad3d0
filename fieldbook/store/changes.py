"""What an act changes in a book, each change as a value that `Book.commit` takes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from fieldbook.records.base import new_id, now
from fieldbook.records.values import Value


@dataclass(frozen=True)
class Put:
    """Set one column of a row. A row that does not exist is added, with `seed` and this column."""

    table: str
    row_id: str
    column: str
    value: Value
    seed: Mapping[str, Value] = field(default_factory=dict)


@dataclass(frozen=True)
class Add:
    """Add a row with these values by column."""

    table: str
    row_id: str
    values: Mapping[str, Value] = field(default_factory=dict)


@dataclass(frozen=True)
class Remove:
    """Remove a row. The journal still holds all of it."""

    table: str
    row_id: str


@dataclass(frozen=True)
class Keep:
    """Keep a row that another laptop removed before it had received all that was entered in it."""

    table: str
    row_id: str


@dataclass(frozen=True)
class Restore:
    """Add a removed row again, with the rows and links that the same act removed."""

    table: str
    row_id: str


@dataclass(frozen=True)
class Reassert:
    """Bring a row, or some of its cells, back to an earlier state, conflicts included.

    `row` holds every column of that state, also those that only a newer fieldbook knows; None to
    bring back cells alone. `cells` holds for each column in conflict the versions that differ, the
    one to be shown last. `removed` is True if a removal was in conflict with the row.
    """

    table: str
    row_id: str
    row: Mapping[str, Value] | None = None
    cells: Mapping[str, tuple[Value, ...]] = field(default_factory=dict)
    removed: bool = False


Change = Put | Add | Remove | Keep | Restore | Reassert


@dataclass
class Act:
    """Who did what on which job, and when: the changes of one act are undone together.

    `kind` is do, undo, redo or other (nothing to undo). `target` is the `group_id` of the act that
    was undone or redone.
    """

    job_id: str
    by: str
    what: str
    kind: str = "do"
    target: str = ""
    group_id: str = field(default_factory=new_id)
    at: str = field(default_factory=now)


def another_program() -> Act:
    """The act of changes that another program made to the file: nobody's, and not undone."""
    return Act("", "", "written by another program", "other")
