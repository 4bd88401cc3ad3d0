"""What an act changes in the book: a cell put, a row added, a row removed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

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


Change = Put | Add | Remove | Keep
