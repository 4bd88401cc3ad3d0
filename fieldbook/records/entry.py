"""The log of entries: every change to the book, who made it and when, with old and new value."""

from __future__ import annotations

from sqlmodel import Field, SQLModel


class Entry(SQLModel, table=True):
    """One changed column, or one row added or removed (column is then empty).

    Entries of one act share `group_id`. `kind` is do, undo or redo; `target` is the group that an
    undo or redo acts on. `old` and `new` are JSON: the value, or the whole row as an object.
    """

    __tablename__ = "entry"

    id: str = Field(primary_key=True)
    group_id: str = Field(index=True)
    kind: str = "do"
    target: str = ""
    what: str = ""
    job_id: str = Field(index=True)
    by: str = ""
    at: str = ""
    table: str = ""
    row_id: str = Field(default="", index=True)
    column: str = ""
    old: str = "null"
    new: str = "null"
