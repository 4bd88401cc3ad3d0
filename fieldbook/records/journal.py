"""The journal: every change of the record, sealed in a chain, in the order it was made here."""

from __future__ import annotations

from sqlmodel import Field, SQLModel


class Outbox(SQLModel, table=True):
    """A change that a trigger caught and no entry of the journal holds yet."""

    __tablename__ = "outbox"

    id: int | None = Field(default=None, primary_key=True)
    table: str = ""
    row_id: str = ""
    op: str = ""
    value: str = "null"


class JournalEntry(SQLModel, table=True):
    """One sealed change.

    `id` is the SHA-256 of all the rest as JSON. `seq` counts this origin's entries from 1 without a
    gap, `prev` is the id of the one before. `op` is "add" (value: the whole row), a column's name
    (value: what it became) or "_deleted"; `value` is JSON.
    """

    __tablename__ = "journal"

    id: str = Field(primary_key=True)
    origin: str = Field(default="", index=True)
    seq: int = 0
    prev: str = ""
    wall: str = ""
    who: str = ""
    job_id: str = Field(default="", index=True)
    table: str = ""
    row_id: str = ""
    op: str = ""
    value: str = "null"
    format: int = 0


class Origin(SQLModel, table=True):
    """Which origin this book writes as: one row, made with the book."""

    __tablename__ = "origin"

    id: str = Field(primary_key=True)
    since: str = ""
