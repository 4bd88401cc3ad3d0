"""What an act changes in the book: a cell put, a row added, a row removed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from fieldbook.records.base import new_id, now
from fieldbook.records.values import Value


@dataclass(frozen=True)
class Put:
    """Set one column. A row that does not exist yet is made with `seed` first."""

    table: str
    row_id: str
    column: str
    value: Value
    seed: Mapping[str, Value] = field(default_factory=dict)


@dataclass(frozen=True)
class Add:
    """Add a row with these columns."""

    table: str
    row_id: str
    values: Mapping[str, Value] = field(default_factory=dict)


@dataclass(frozen=True)
class Remove:
    """Take a row away; the log keeps all of it."""

    table: str
    row_id: str


@dataclass(frozen=True)
class Keep:
    """Keep a row that another laptop removed without having seen all of it."""

    table: str
    row_id: str


@dataclass(frozen=True)
class Restore:
    """Put back a row that was removed, with all that was removed with it."""

    table: str
    row_id: str


@dataclass(frozen=True)
class Reassert:
    """Say again what a row was, in conflict where it was.

    `row` is every column it held, those of a newer fieldbook too; None where only cells are told.
    `cells` gives by column the versions that differ, the one to be shown last. `removed`: a
    removal is in conflict with it.
    """

    table: str
    row_id: str
    row: Mapping[str, Value] | None = None
    cells: Mapping[str, tuple[Value, ...]] = field(default_factory=dict)
    removed: bool = False


Change = Put | Add | Remove | Keep | Restore | Reassert


@dataclass
class Act:
    """Who did what on which job.

    `kind` is do, undo, redo or other (nothing to undo), `target` the act undone or put back.
    """

    job_id: str
    by: str
    what: str
    kind: str = "do"
    target: str = ""
    group_id: str = field(default_factory=new_id)
    at: str = field(default_factory=now)


def another_program() -> Act:
    """What was written past fieldbook and is sealed as nobody's."""
    return Act("", "", "written by another program", "other")
