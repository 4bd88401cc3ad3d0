"""Every table of a book, in the metadata of SQLModel: the model that books are held to.

It is imported only when a book is made, or is not of the layout that is known to be this model's
(`known_layout.py`): to import SQLModel takes longer than opening the book. What runs meanwhile is
plain SQL (`store/sqlite`). The tables of the record are made from its classes, which are plain
dataclasses; those of the book itself are declared here, and used by the module named with each.
"""

from __future__ import annotations

from typing import Any, ClassVar

from sqlalchemy import Boolean, Column, Float, ForeignKey, Index, Integer, String, Table
from sqlalchemy.types import TypeEngine
from sqlmodel import Field, SQLModel

from fieldbook.records.base import Row, columns_of
from fieldbook.records.loaded_job import RECORDS
from fieldbook.store.journal.entry import FIELDS, NUMBERS

_TYPES: dict[type, type[TypeEngine[Any]]] = {
    str: String,
    int: Integer,
    float: Float,
    bool: Boolean,
}


class Outbox(SQLModel, table=True):
    """A change that a trigger caught and that is not in the journal yet (`journal/append.py`)."""

    __tablename__ = "outbox"

    id: int | None = Field(default=None, primary_key=True)
    job_id: str = ""
    table: str = ""
    row_id: str = ""
    op: str = ""
    value: str = "null"


JOURNAL = Table(
    "journal",
    SQLModel.metadata,
    Column("n", Integer, primary_key=True),
    Column("id", String, nullable=False, unique=True),
    *(Column(name, Integer if name in NUMBERS else String, nullable=False) for name in FIELDS),
    Column("came", String, nullable=False),
    Index("journal_by_origin", "origin", "seq"),
    Index("journal_by_row", "row_id"),
    Index("journal_by_job", "job_id"),
)
"""The entries (`journal/entry.py`), which nothing changes or deletes; `parents` is a JSON list.

`n` counts them in the order in which they arrived in this book. `came` names the file or office
that an entry was received from, and is "" for one made here.
"""


class RowLatestVersions(SQLModel, table=True):
    """The latest versions of a row (`journal/latest_versions.py`) as JSON; may be emptied.

    A row that is not here has a single addition and no other entry, or none at all.
    """

    __tablename__ = "row_heads"

    row_id: str = Field(primary_key=True)
    table: str = Field(primary_key=True)
    heads: str = "{}"


class OpenConflict(SQLModel, table=True):
    """A conflict that nobody has settled (`journal/latest_versions.py`); may be emptied.

    `heads` are the ids of its entries as JSON.
    """

    __tablename__ = "conflict"

    row_id: str = Field(primary_key=True)
    table: str = Field(primary_key=True)
    column: str = Field(primary_key=True)
    job_id: str = Field(default="", index=True)
    kind: str = ""
    heads: str = "[]"


class Origin(SQLModel, table=True):
    """An origin that this book has written under; the one with the highest `no` is in use.

    `seq`, `last` and `clock` are the number, id and clock of its last entry. `token` is known to
    this machine too (`journal/origin.py`).
    """

    __tablename__ = "origin"

    no: int | None = Field(default=None, primary_key=True)
    id: str = Field(unique=True)
    since: str = ""
    seq: int = 0
    last: str = ""
    clock: int = 0
    token: str = ""


class BoardLine(SQLModel, table=True):
    """The board row of a job (`board/stored_board.py`).

    `told` is what the board shows, as JSON. It holds up to and with the day `until`; "" marks a row
    that has yet to be worked out. `places` and `runs_out` (as in `StoredRow`) are columns of their
    own, so that a fieldbook that does not know them can still read `told`. `closed` is 1 once it is
    handed over and no visit is under way. Rows are in the order of
    `sort_key`. `sought` is the text in which a part of a word is found. The full-text table stores
    the job's texts under this row's `id`, which is why SQLite must never give an `id` to a second
    job (autoincrement).
    """

    __tablename__ = "board_line"
    __table_args__: ClassVar[tuple[object, ...]] = (
        # With `sought` and `closed` in it, a search or a listing reads this index alone.
        Index("board_line_order", "sort_key", "job_id", "sought", "closed"),
        Index("board_line_until", "until"),
        {"sqlite_autoincrement": True},
    )

    id: int | None = Field(default=None, primary_key=True)
    job_id: str = Field(default="", unique=True)
    sort_key: str = ""
    sought: str = ""
    until: str = ""
    told: str = ""
    places: str | None = None
    runs_out: str | None = None
    closed: int | None = None


class Person(SQLModel, table=True):
    """Somebody who makes entries (`settings.py`)."""

    __tablename__ = "person"

    id: str = Field(primary_key=True)
    initials: str = ""
    entered_at: str = ""


class Laptop(SQLModel, table=True):
    """This laptop, in one row: whose initials entries carry, its theme (`look`) and language."""

    __tablename__ = "laptop"

    id: str = Field(primary_key=True)
    person_id: str = Field(foreign_key="person.id")
    since: str = ""
    look: str = ""
    language: str | None = None


class ExchangePlace(SQLModel, table=True):
    """A folder or an office that the book exchanged entries with, last at `at` (`places.py`).

    Also a folder that photos were attached from: the book remembers it in the same way.
    `got` is the office's number of the last entry received from it, `got_id` its id.
    """

    __tablename__ = "exchange_place"

    id: str = Field(primary_key=True)
    got: int = 0
    got_id: str = ""
    at: str = ""


class OfficeFile(SQLModel, table=True):
    """An attached file that an office is known to have, so that it is not asked again."""

    __tablename__ = "office_file"

    place_id: str = Field(primary_key=True)
    sha256: str = Field(primary_key=True)


class ExchangeFile(SQLModel, table=True):
    """A bundle that was received whole, or written up to the entry numbered `upto`.

    Its name holds the hash of its content, so a file of this name need not be read again.
    """

    __tablename__ = "exchange_file"

    name: str = Field(primary_key=True)
    upto: int = 0


class KeepingSetting(SQLModel, table=True):
    """That the book is to hold chosen properties only (`holding/keeping.py`); no row: all."""

    __tablename__ = "keeping"

    id: str = Field(primary_key=True)
    since: str = ""


class KeptProperty(SQLModel, table=True):
    """A property that was "opened" or "picked" on this laptop (`how`), last at `at`."""

    __tablename__ = "kept_property"

    job_id: str = Field(primary_key=True)
    how: str = ""
    at: str = ""


class NotHere(SQLModel, table=True):
    """The line of a property that is not here (`holding/lines.py`).

    `told`, `places`, `runs_out`, `sort_key` and `sought` are those of its row in `board_line`,
    which a trigger makes. `clocks` is JSON. `put_away` is when it left this laptop, or "".
    """

    __tablename__ = "not_here"

    job_id: str = Field(primary_key=True)
    sort_key: str = ""
    sought: str = ""
    told: str = ""
    places: str = ""
    runs_out: str = ""
    off_board: int = 0
    changed: str = ""
    made_from: str = ""
    made_number: int = 0
    newest: int = 0
    clocks: str = "{}"
    put_away: str = ""
    closed: int | None = None


class TakenIn(SQLModel, table=True):
    """A property of which every entry came that an office has up to the cursor there."""

    __tablename__ = "taken_in"

    place_id: str = Field(primary_key=True)
    job_id: str = Field(primary_key=True)


class PassedOver(SQLModel, table=True):
    """A bundle (`name`) that holds entries of a property which were not taken."""

    __tablename__ = "passed_over"

    name: str = Field(primary_key=True)
    job_id: str = Field(primary_key=True, index=True)


class PutAwayEntry(SQLModel, table=True):
    """An entry of an own origin that was put away with its property (`journal/put_away.py`)."""

    __tablename__ = "put_away_entry"
    __table_args__: ClassVar[tuple[object, ...]] = (Index("put_away_by_origin", "origin", "seq"),)

    id: str = Field(primary_key=True)
    origin: str = ""
    seq: int = 0
    job_id: str = Field(default="", index=True)


class LaptopSeal(SQLModel, table=True):
    """A seal, by which a laptop proves that it made entries (`seals/seal.py`).

    `wrong` says why it is not accepted, "" if it is. `came` names the file or office that it came
    from, and is "" for one made here.
    """

    __tablename__ = "seal"
    __table_args__: ClassVar[tuple[object, ...]] = (
        Index("seal_by_job", "job_id", "origin"),
        Index("seal_by_origin", "origin", "upto"),
        Index("seal_by_key", "key"),
    )

    no: int | None = Field(default=None, primary_key=True)
    id: str = Field(unique=True)
    origin: str = ""
    job_id: str = ""
    upto: int = 0
    ids: bytes = b""
    key: str = ""
    name: str = ""
    at: str = ""
    signature: str = ""
    came: str = ""
    wrong: str = ""


class KnownKey(SQLModel, table=True):
    """The public key of a laptop (`seals/known_laptops.py`), and what a person thinks of it.

    `known_upto` is JSON: by origin, up to which entry the key had signed when it was distrusted.
    """

    __tablename__ = "laptop_key"

    key: str = Field(primary_key=True)
    name: str = ""
    since: str = ""
    seen: str = ""
    compared_by: str | None = None
    compared_at: str | None = None
    distrusted_by: str | None = None
    distrusted_at: str | None = None
    known_upto: str | None = None


def _add_record_table(record: type[Row]) -> None:
    """Add the table of a record class: its `id` is the key, its `job_id` refers to the job."""
    Table(
        record.table_name,
        SQLModel.metadata,
        *(
            Column(
                name,
                _TYPES[column.kind],
                *([ForeignKey("job.id")] if name == "job_id" else ()),
                primary_key=name == "id",
                index=name == "job_id",
                nullable=column.optional,
            )
            for name, column in columns_of(record).items()
        ),
    )


for _record in RECORDS.values():
    _add_record_table(_record)
MODEL = SQLModel.metadata
"""The tables of a new book."""
