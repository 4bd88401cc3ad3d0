"""The questions that an office asks of its hub: SQL texts in the folder `questions`, and answers.

The first line of each text is the question in plain words. Each shows, with `up_to_date` false, a
property whose answer may be old. They stand by themselves: any reader of PostgreSQL can run them.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from psycopg import IsolationLevel

from fieldbook.store.errors import BookError
from fieldbook.store.office.connection import ConnectionLostError, connect_office

_FOLDER = Path(__file__).with_name("questions")


@dataclass(frozen=True)
class Asked:
    """The answer to a question: the names of its columns, and its rows."""

    columns: Sequence[str]
    rows: Sequence[tuple[object, ...]]


def questions() -> Mapping[str, str]:
    """Every question in plain words, by its name."""
    return {path.stem: _text(path).split("\n")[0][3:] for path in sorted(_FOLDER.glob("*.sql"))}


def statement(name: str) -> str:
    """The SQL text of a question. Raises BookError for a name that no question has."""
    if name not in questions():
        raise BookError(f"There is no question {name!r}: fieldbook hub ask lists them.")
    return _text(_FOLDER / f"{name}.sql")


def ask(url: str, name: str) -> Asked:
    """Ask a question of the hub at an address, which nothing can change. Raises BookError."""
    text = statement(name)
    try:
        with connect_office(url) as connection:
            connection.autocommit = False
            connection.read_only = True
            connection.isolation_level = IsolationLevel.REPEATABLE_READ
            cursor = connection.execute(text.encode())
            return Asked([column.name for column in cursor.description or ()], cursor.fetchall())
    except ConnectionLostError as why:
        raise BookError(str(why)) from why


def _text(path: Path) -> str:
    return path.read_text("utf-8")
