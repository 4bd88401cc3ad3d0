"""Who makes the entries: a person's initials, and which of them uses this laptop."""

from __future__ import annotations

from typing import ClassVar

from sqlmodel import Field, SQLModel


class Person(SQLModel, table=True):
    """Somebody who makes entries."""

    __tablename__ = "person"
    title: ClassVar[str] = "person"

    id: str = Field(primary_key=True)
    initials: str = ""
    entered_at: str = ""


class Laptop(SQLModel, table=True):
    """This laptop, one row: whose initials its entries carry, and the theme it shows."""

    __tablename__ = "laptop"
    title: ClassVar[str] = "laptop"

    id: str = Field(primary_key=True)
    person_id: str = Field(foreign_key="person.id")
    since: str = ""
    look: str = ""
