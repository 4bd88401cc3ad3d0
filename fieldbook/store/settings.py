"""The settings of the laptop a book is on: whose initials its entries carry, and its theme."""

from __future__ import annotations

from sqlalchemy import select
from sqlmodel import Field, SQLModel

from fieldbook.records.base import new_id, now, table_of
from fieldbook.store.sqlite.transactions import Transactions


class Person(SQLModel, table=True):
    """Somebody who makes entries."""

    __tablename__ = "person"

    id: str = Field(primary_key=True)
    initials: str = ""
    entered_at: str = ""


class Laptop(SQLModel, table=True):
    """This laptop, in one row: whose initials its entries carry, and its theme (`look`)."""

    __tablename__ = "laptop"

    id: str = Field(primary_key=True)
    person_id: str = Field(foreign_key="person.id")
    since: str = ""
    look: str = ""


_PERSON, _LAPTOP = table_of(Person), table_of(Laptop)


class LaptopSettings:
    """The settings that an open book holds."""

    def __init__(self, transactions: Transactions) -> None:
        self._connection = transactions.connection
        self._reading, self._writing = transactions.reading, transactions.writing

    def initials(self) -> str:
        """The initials set on this laptop, or nothing."""
        with self._reading():
            query = select(_PERSON.c.initials).join(_LAPTOP, _LAPTOP.c.person_id == _PERSON.c.id)
            return str(self._connection.execute(query).scalar() or "")

    def people(self) -> list[str]:
        """The initials of everybody who was ever set on this laptop, the newest first."""
        with self._reading():
            query = select(_PERSON.c.initials).order_by(_PERSON.c.id.desc())
            rows = self._connection.execute(query).scalars().all()
        return list(dict.fromkeys(str(initials) for initials in rows if initials))

    def set_initials(self, initials: str) -> None:
        """Set the initials that entries made on this laptop carry from now on."""
        with self._writing():
            person = Person(id=new_id(), initials=initials, entered_at=now())
            self._connection.execute(_PERSON.insert().values(person.model_dump()))
            look = self._connection.execute(select(_LAPTOP.c.look)).scalar() or ""
            self._connection.execute(_LAPTOP.delete())
            laptop = Laptop(id=new_id(), person_id=person.id, since=now(), look=look)
            self._connection.execute(_LAPTOP.insert().values(laptop.model_dump()))

    def theme(self) -> str:
        """The name of the theme chosen on this laptop, or nothing."""
        with self._reading():
            return str(self._connection.execute(select(_LAPTOP.c.look)).scalar() or "")

    def set_theme(self, theme: str) -> None:
        """Store the theme chosen on this laptop, by name; not before initials are set."""
        with self._writing():
            self._connection.execute(_LAPTOP.update().values(look=theme))
