"""The tables of the journal. `row_heads` and `conflict` are computed and may be emptied."""

from __future__ import annotations

from sqlalchemy import Column, Index, Integer, String, Table
from sqlmodel import Field, SQLModel

from fieldbook.store.journal.entry import FIELDS, NUMBERS


class Outbox(SQLModel, table=True):
    """A change that a trigger caught and that is not in the journal yet."""

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
"""The entries (`entry.Entry`), which nothing changes or deletes; `parents` is a JSON list.

`n` counts them in the order in which they arrived in this book. `came` names the file or office
that an entry was received from, and is "" for one made here.
"""


class RowLatestVersions(SQLModel, table=True):
    """The latest versions of a row (`merge.LatestVersions`) as JSON.

    A row that is not here has a single addition and no other entry, or none at all.
    """

    __tablename__ = "row_heads"

    row_id: str = Field(primary_key=True)
    table: str = Field(primary_key=True)
    heads: str = "{}"


class OpenConflict(SQLModel, table=True):
    """A conflict that nobody has settled (`merge.CellConflict`); `heads` are entry ids as JSON."""

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
    this machine too (`origin.py`).
    """

    __tablename__ = "origin"

    no: int | None = Field(default=None, primary_key=True)
    id: str = Field(unique=True)
    since: str = ""
    seq: int = 0
    last: str = ""
    clock: int = 0
    token: str = ""
