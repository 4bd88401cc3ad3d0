"""What every row has: an id, its job, who entered it and when; and the five places of a job."""

from __future__ import annotations

import uuid
from collections.abc import Mapping
from datetime import datetime
from functools import cache
from typing import Annotated, ClassVar, Literal

from sqlalchemy import Table
from sqlmodel import Field, SQLModel
from uuid6 import uuid7

from fieldbook.records.fact import Fact, hidden, moment

Place = Literal["street", "boxes", "ground", "controller", "desk"]
PLACE_WORDS: Mapping[Place, str] = {
    "street": "street",
    "boxes": "valve boxes",
    "ground": "ground",
    "controller": "controller",
    "desk": "desk",
}
"""The five places of a job along the water and the wire, with what a crew calls each of them."""
PLACES: tuple[Place, ...] = tuple(PLACE_WORDS)
_NATURAL = uuid.UUID("6f1f6a3e-0d0c-5b9c-9a51-2f7c6b1a9d40")


def new_id() -> str:
    """A fresh UUIDv7, which sorts by the time it was made."""
    return str(uuid7())


def natural_id(*parts: str) -> str:
    """The only id of a thing that exists once, such as "terminal 4 of this controller".

    Two laptops that enter the same thing make the same id, so they write the same row.
    """
    return str(uuid.uuid5(_NATURAL, "\x1f".join(parts)))


def now() -> str:
    """The local time in ISO 8601, to the second and with its offset."""
    return datetime.now().astimezone().isoformat(timespec="seconds")


class Record(SQLModel):
    """A row of a job.

    `title` is what a crew calls such a row, `sheet` the place where its cells are entered, and
    `once` says that a job has at most one.
    """

    title: ClassVar[str]
    sheet: ClassVar[Place]
    once: ClassVar[bool] = False

    id: str = Field(primary_key=True)
    job_id: Annotated[str, hidden("Job", "job")] = Field(
        foreign_key="job.id", index=True, nullable=False
    )
    entered_by: Annotated[str, hidden("Entered by")] = ""
    entered_at: Annotated[str, moment("Entered at")] = ""


@cache
def facts_of(record: type[SQLModel]) -> Mapping[str, Fact]:
    """The described columns of a table by name, in the order they are declared.

    They are looked up once for each table: a check asks for thousands of amounts.
    """
    return {
        name: extra
        for name, described in record.model_fields.items()
        for extra in described.metadata
        if isinstance(extra, Fact)
    }


def table_of(record: type[SQLModel]) -> Table:
    """The SQLAlchemy table behind a record class."""
    table: Table = record.__table__  # type: ignore[attr-defined]
    return table
