"""What the board says of a job, kept until the job or the day makes it untrue."""

from __future__ import annotations

from typing import ClassVar

from sqlalchemy import Index
from sqlmodel import Field, SQLModel


class BoardNote(SQLModel, table=True):
    """A job's line on the board: every property on the board has one, told or not.

    `told` is the line as JSON, true up to and with the day `until`; empty: it is to be made anew.
    Lines are in the order of `sort_key`. `sought` is what is looked through for parts of words; the
    row number is also that of the job's texts, so it is never given to another job.
    """

    __tablename__ = "board_line"
    __table_args__: ClassVar[tuple[object, ...]] = (
        # With `sought` in it, finding reads this index alone.
        Index("board_line_order", "sort_key", "job_id", "sought"),
        Index("board_line_until", "until"),
        {"sqlite_autoincrement": True},
    )

    id: int | None = Field(default=None, primary_key=True)
    job_id: str = Field(default="", unique=True)
    sort_key: str = ""
    sought: str = ""
    until: str = ""
    told: str = ""
