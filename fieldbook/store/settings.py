"""The settings of the laptop a book is on: whose initials its entries carry, theme, language."""

from __future__ import annotations

from fieldbook.records.base import new_id, now
from fieldbook.store.sqlite.row_statements import insert_row
from fieldbook.store.sqlite.transactions import Transactions


class LaptopSettings:
    """The settings that an open book holds."""

    def __init__(self, transactions: Transactions) -> None:
        self._connection = transactions.connection
        self._reading, self._writing = transactions.reading, transactions.writing

    def initials(self) -> str:
        """The initials set on this laptop, or nothing."""
        query = "SELECT person.initials FROM person JOIN laptop ON laptop.person_id = person.id"
        with self._reading():
            return str(self._connection.run(query).value() or "")

    def people(self) -> list[str]:
        """The initials of everybody who was ever set on this laptop, the newest first."""
        with self._reading():
            rows = self._connection.run("SELECT initials FROM person ORDER BY id DESC").all()
        return list(dict.fromkeys(str(initials) for (initials,) in rows if initials))

    def set_initials(self, initials: str) -> None:
        """Set the initials that entries made on this laptop carry from now on."""
        with self._writing():
            at, person_id = now(), new_id()
            kept = {"look": self._look(), "language": self._language() or None}
            person = {"id": person_id, "initials": initials, "entered_at": at}
            insert_row(self._connection, "person", person)
            self._connection.run("DELETE FROM laptop")
            laptop = {"id": new_id(), "person_id": person_id, "since": at, **kept}
            insert_row(self._connection, "laptop", laptop)

    def theme(self) -> str:
        """The name of the theme chosen on this laptop, or nothing."""
        with self._reading():
            return self._look()

    def set_theme(self, theme: str) -> None:
        """Store the theme chosen on this laptop, by name; not before initials are set."""
        with self._writing():
            self._connection.run("UPDATE laptop SET look = ?", (theme,))

    def language(self) -> str:
        """The code of the language chosen on this laptop, or nothing."""
        with self._reading():
            return self._language()

    def set_language(self, language: str) -> None:
        """Store the language chosen on this laptop; not before initials are set."""
        with self._writing():
            self._connection.run("UPDATE laptop SET language = ?", (language,))

    def _language(self) -> str:
        return str(self._connection.run("SELECT language FROM laptop").value() or "")

    def _look(self) -> str:
        return str(self._connection.run("SELECT look FROM laptop").value() or "")
