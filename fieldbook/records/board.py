"""What the board says of a job, kept until the job or the day makes it untrue."""

from __future__ import annotations

from sqlmodel import Field, SQLModel


class BoardNote(SQLModel, table=True):
    """A job's line as JSON, true up to and with the day `until`. Any change of the job drops it."""

    __tablename__ = "board_line"

    job_id: str = Field(primary_key=True)
    until: str = ""
    told: str = ""
