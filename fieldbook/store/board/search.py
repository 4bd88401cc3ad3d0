"""Find properties by any text in them: a full-text table beside the record, made from it anew.

Nothing in the record depends on it. Where SQLite was built without FTS5 a property is found by its
address and customer only.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from contextlib import suppress

from sqlalchemy import Connection
from sqlalchemy.exc import OperationalError

from fieldbook.store.board.board_table import make_board

Words = Sequence[tuple[str, str]]
"""Texts of a job: (what it is, the text)."""
_MOST_PARTS = 400
"""Words that an address could hold; SQLite takes so many conditions."""


def make_search(connection: Connection) -> None:
    """Make the table of texts anew and empty, and the board's lines, which bring the texts."""
    with suppress(OperationalError):
        connection.exec_driver_sql("DROP TABLE IF EXISTS words")
        connection.exec_driver_sql(
            "CREATE VIRTUAL TABLE words USING fts5"
            "(job_id UNINDEXED, labels UNINDEXED, told, prefix='2 3', "
            "tokenize='unicode61 remove_diacritics 2')"
        )
    make_board(connection)


def save_words(connection: Connection, number: int, job_id: str, words: Words) -> None:
    """Let the job of a board line be found by these texts, and no longer by those it had."""
    labels = "\n".join(_line(label) for label, _ in words)
    told = "\n".join(_line(text) for _, text in words)
    with suppress(OperationalError):
        connection.exec_driver_sql(
            "INSERT OR REPLACE INTO words (rowid, job_id, labels, told) VALUES (?, ?, ?, ?)",
            (number, job_id, labels, told),
        )


def find(connection: Connection, typed: str) -> list[int]:
    """The numbers of the board lines whose jobs hold every word typed, in the board's order.

    A word is found by its beginning in any text, by any part of it in address and customer.
    """
    wanted, parts = words_of(typed), list(dict.fromkeys(typed.casefold().split()))
    holds = " AND ".join("instr(sought, ?) > 0" for _ in parts) or "1"
    if len(parts) > _MOST_PARTS:
        holds, parts = "0", []
    if wanted:
        query = " ".join(f'"{word}"*' for word in wanted)
        among = "id IN (SELECT rowid FROM words WHERE words MATCH ?)"
        with suppress(OperationalError):
            return _numbers(connection, f"{among} OR ({holds})", (query, *parts))
    return _numbers(connection, holds, parts)


def _numbers(connection: Connection, which: str, values: Sequence[str]) -> list[int]:
    rows = connection.exec_driver_sql(
        f"SELECT id FROM board_line WHERE {which} ORDER BY sort_key, job_id", tuple(values)
    )
    return [row[0] for row in rows]


def texts_of(connection: Connection, job_id: str, typed: str) -> list[tuple[str, str]]:
    """The texts of a job that hold one of the words typed, most of them first."""
    with suppress(OperationalError):
        row = connection.exec_driver_sql(
            "SELECT labels, told FROM words WHERE rowid = "
            "(SELECT id FROM board_line WHERE job_id = ?)",
            (job_id,),
        ).first()
        return _holding(words_of(typed), row[0], row[1]) if row is not None else []
    return []


def words_of(typed: str) -> list[str]:
    """What was typed as words to look for; one without a letter or digit looks for nothing."""
    words = typed.replace('"', " ").replace("\0", " ").split()
    return [word for word in words if any(char.isalnum() for char in word)]


def _holding(wanted: Iterable[str], labels: str, told: str) -> list[tuple[str, str]]:
    """The texts that hold one of the words as typed, most of them first."""
    pairs = list(zip(labels.split("\n"), told.split("\n"), strict=True))
    sought = [word.casefold() for word in wanted]
    counted = [(sum(word in text.casefold() for word in sought), (a, text)) for a, text in pairs]
    counted.sort(key=lambda one: -one[0])
    return [pair for count, pair in counted if count]


def _line(text: str) -> str:
    return text.replace("\n", " ")
