"""The tables of the journal, of what is computed from it, and of exchange.

The tables `row_heads` and `conflict` are computed from the journal and may be deleted.
"""

from __future__ import annotations

from sqlalchemy import Index
from sqlmodel import Field, SQLModel


class Outbox(SQLModel, table=True):
    """A change that a trigger caught and that is not in the journal yet."""

    __tablename__ = "outbox"

    id: int | None = Field(default=None, primary_key=True)
    job_id: str = ""
    table: str = ""
    row_id: str = ""
    op: str = ""
    value: str = "null"


class JournalEntry(SQLModel, table=True):
    """One entry, made here or on another laptop. Nothing changes or deletes it.

    `n` counts the entries in the order in which they arrived in this book, and `came` names the
    file or office that an entry was received from ("" if made here). Both differ between books. All
    other columns are the same everywhere, and `id` is the SHA-256 of them (`entry.make_entry`).

    - `origin`, `seq`, `prev`: who wrote it, its number there from 1, the id of the one before.
    - `clock`: a hybrid logical clock, milliseconds since 1970 times 65,536, counted up where the
      wall clock stands still or goes back. `wall` is the wall clock, `who` a person's initials.
    - `act`, `kind`, `target`, `what`: the act that the entry is part of, "do", "undo", "redo" or
      "other" (which cannot be undone), the act that was undone or redone, and its name.
    - `job_id`, `table`, `row_id`: the row that it changes.
    - `op`: "add" (`value` is the row), a column's name (`value` is its new value) or "_deleted".
    - `value` is JSON. `parents` is a JSON list of the ids that the entry supersedes.
    - `format`: the format of the book that made it.
    """

    __tablename__ = "journal"
    __table_args__ = (
        Index("journal_by_origin", "origin", "seq"),
        Index("journal_by_row", "row_id"),
        Index("journal_by_job", "job_id"),
    )

    n: int | None = Field(default=None, primary_key=True)
    id: str = Field(unique=True)
    origin: str = ""
    seq: int = 0
    prev: str = ""
    clock: int = 0
    wall: str = ""
    who: str = ""
    act: str = ""
    kind: str = "do"
    target: str = ""
    what: str = ""
    job_id: str = ""
    table: str = ""
    row_id: str = ""
    op: str = ""
    value: str = "null"
    parents: str = "[]"
    format: int = 0
    came: str = ""


class RowLatestVersions(SQLModel, table=True):
    """The latest versions of a row (`merge.LatestVersions`) as JSON.

    A row without a line here has a single addition and no other entry, or none at all.
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
