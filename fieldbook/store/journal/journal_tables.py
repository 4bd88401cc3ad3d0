"""The journal: every change of the record, sealed, and what this book keeps of it to go on."""

from __future__ import annotations

from sqlalchemy import Index
from sqlmodel import Field, SQLModel


class Outbox(SQLModel, table=True):
    """A change that a trigger caught and no entry of the journal holds yet."""

    __tablename__ = "outbox"

    id: int | None = Field(default=None, primary_key=True)
    job_id: str = ""
    table: str = ""
    row_id: str = ""
    op: str = ""
    value: str = "null"


class JournalEntry(SQLModel, table=True):
    """One sealed change, made here or on another laptop; nothing changes or deletes it.

    `id` is the SHA-256 of all the rest as JSON, but for `n` and `came`, which are this book's own:
    the order in which entries came here, and from which place ("" when made here). `seq` counts the
    origin's entries from 1, `prev` is the id of the one before. `clock` is a hybrid logical clock:
    milliseconds since 1970 times 65,536, counted up when the clock stands or goes back. `act`,
    `kind` (do, undo, redo), `target` (the act undone or put back) and `what` tell the act it was
    part of. `op` is "add" (value: the row), a column's name (value: what it became) or "_deleted";
    `value` is JSON. `parents`, a JSON list, are the entries this one knowingly replaced.
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
    """The entries that a row's next change replaces, as JSON; a row only added has none.

    Made from the journal, and may be thrown away.
    """

    __tablename__ = "row_heads"

    row_id: str = Field(primary_key=True)
    table: str = Field(primary_key=True)
    heads: str = "{}"


class OpenConflict(SQLModel, table=True):
    """What two laptops said differently and nobody has settled; made from the journal.

    `column` is "_deleted" when one removed the row while another changed it, "" when a signature
    came in two versions. `heads` is a JSON list of entries.
    """

    __tablename__ = "conflict"

    row_id: str = Field(primary_key=True)
    table: str = Field(primary_key=True)
    column: str = Field(primary_key=True)
    job_id: str = Field(default="", index=True)
    kind: str = ""
    heads: str = "[]"


class Origin(SQLModel, table=True):
    """The origins this book has written as; the one of the highest number is in use.

    `seq`, `last` and `clock` are those of its last entry. `token` is known beside the book too: a
    copied or restored book holds another, and starts an origin of its own.
    """

    __tablename__ = "origin"

    no: int | None = Field(default=None, primary_key=True)
    id: str = Field(unique=True)
    since: str = ""
    seq: int = 0
    last: str = ""
    clock: int = 0
    token: str = ""


class ExchangePlace(SQLModel, table=True):
    """A folder or an office that entries were exchanged with.

    `got` is the office's number of the last entry that was taken, `got_id` its id.
    """

    __tablename__ = "exchange_place"

    id: str = Field(primary_key=True)
    got: int = 0
    got_id: str = ""
    at: str = ""


class OfficeFile(SQLModel, table=True):
    """An attached file that an office is known to have, so that it need not be asked again."""

    __tablename__ = "office_file"

    place_id: str = Field(primary_key=True)
    sha256: str = Field(primary_key=True)


class ExchangeFile(SQLModel, table=True):
    """A file of entries that was read whole, or written; its name holds the hash of its content.

    `upto` is the number of the last entry in a file that was written here.
    """

    __tablename__ = "exchange_file"

    name: str = Field(primary_key=True)
    upto: int = 0
