"""What every row has: an id, its job, who entered it and when; and the places of a job."""

import uuid
from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields
from datetime import datetime
from functools import cache, lru_cache
from typing import (
    Annotated,
    Any,
    ClassVar,
    Literal,
    NamedTuple,
    Self,
    TypeVar,
    cast,
    dataclass_transform,
    get_args,
    get_type_hints,
)

from fieldbook.records.fact import Fact, hidden, moment

Place = Literal["street", "boxes", "ground", "controller", "desk", "service"]
PLACE_WORDS: Mapping[Place, str] = {
    "street": "street",
    "boxes": "valve boxes",
    "ground": "ground",
    "controller": "controller",
    "desk": "desk",
    "service": "service",
}
"""The places of a job, with what a crew calls each of them: five along the water and the wire, and
the service of the years after."""
PLACES: tuple[Place, ...] = tuple(PLACE_WORDS)
WORK_PLACES: tuple[Place, ...] = PLACES[:5]
"""The places of the work until handover, of which the board shows how far each is."""
_T = TypeVar("_T")
_NATURAL = uuid.UUID("6f1f6a3e-0d0c-5b9c-9a51-2f7c6b1a9d40")


def new_id() -> str:
    """A fresh UUIDv7, which sorts by the time it was made."""
    # Imported here: reading a book needs no new id, and this imports the metadata of packages.
    from uuid6 import uuid7  # noqa: PLC0415

    return str(uuid7())


@lru_cache(maxsize=1 << 14)
def natural_id(*parts: str) -> str:
    """The only id of a thing that exists once, such as "terminal 4 of this controller".

    Two laptops that enter the same thing make the same id, so they write the same row.
    """
    return str(uuid.uuid5(_NATURAL, "\x1f".join(parts)))


def now() -> str:
    """The local time in ISO 8601, to the second and with its offset."""
    return datetime.now().astimezone().isoformat(timespec="seconds")


@dataclass_transform(kw_only_default=True, eq_default=False)
class Row:  # noqa: PLW1641 - a row may be changed, so it has no hash
    """A row of the record. Each subclass is a table: a dataclass whose columns carry their facts.

    `table_name` is the table's name in the book, `title` what a crew calls such a row, `sheet` the
    place where its cells are entered, and `once` says that a job has at most one. Values are not
    validated here: the book holds only what was checked on its way in, and rows are loaded on every
    key. The tables of SQLite are made from these classes only when a book is opened for work
    (`store/lifecycle/book_tables.py`), so that a command that reads imports no database library.
    """

    table_name: ClassVar[str]
    title: ClassVar[str]
    sheet: ClassVar[Place]
    once: ClassVar[bool] = False

    def __init_subclass__(cls, table: str = "") -> None:
        """Make the class a dataclass, and its name in the book `table`."""
        cls.table_name = table
        dataclass(kw_only=True, eq=False)(cls)

    def __eq__(self, other: object) -> bool:
        """Whether it is a row of the same table with the same values."""
        return type(self) is type(other) and vars(self) == vars(other)

    def values(self) -> dict[str, Any]:
        """The value of every column by its name, in the order of the columns."""
        return dict(vars(self))

    def with_values(self, **values: object) -> Self:
        """A copy with other values in some of its columns."""
        return type(self)(**{**vars(self), **values})


class Record(Row):
    """A row of a job other than the job's own."""

    id: str
    job_id: Annotated[str, hidden("Job", "job")]
    entered_by: Annotated[str, hidden("Entered by")] = ""
    entered_at: Annotated[str, moment("Entered at")] = ""


class Column(NamedTuple):
    """A column of a table: str, int, float or bool; whether it may be None; its fact, if any."""

    kind: type
    optional: bool
    fact: Fact | None


def once_per_table(work: Callable[[type[Row]], _T]) -> Callable[[type[Row]], _T]:
    """Make `work` keep its result for each record class: a check asks for thousands of amounts."""
    # mypy takes a class for unhashable where its rows are.
    return cast("Callable[[type[Row]], _T]", cache(work))


@once_per_table
def columns_of(record: type[Row]) -> Mapping[str, Column]:
    """The columns of a table by name, in the order they are declared."""
    hints = get_type_hints(record, include_extras=True)
    return {field.name: _column(hints[field.name]) for field in fields(record)}  # type: ignore[arg-type]


def _column(hint: object) -> Column:
    """The column of an annotation such as `Annotated[float | None, amount(...)]`."""
    described = getattr(hint, "__metadata__", ())
    kinds = get_args(hint)[:1] if described else (hint,)
    kinds = get_args(kinds[0]) or kinds
    fact = next((extra for extra in described if isinstance(extra, Fact)), None)
    return Column(kinds[0], type(None) in kinds, fact)


@once_per_table
def facts_of(record: type[Row]) -> Mapping[str, Fact]:
    """The described columns of a table by name, in the order they are declared."""
    found = columns_of(record).items()
    return {name: column.fact for name, column in found if column.fact is not None}
