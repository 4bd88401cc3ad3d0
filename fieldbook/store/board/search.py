"""Find properties by any text in them, with a full-text table of SQLite (FTS5) beside the record.

Where SQLite was built without FTS5, a property is found by its address and customer only: that is
what each suppressed OperationalError here is for.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Sequence
from contextlib import suppress

from fieldbook.store.sqlite.book_connection import Connection

LabelledTexts = Sequence[tuple[str, str]]
"""Texts of a job, each as (what it is, the text)."""
_MOST_PARTS = 400
"""More words than an address holds; SQLite takes a limited number of conditions."""


def make_search(connection: Connection) -> None:
    """Make the full-text table anew and empty; saving a board row fills it."""
    with suppress(sqlite3.OperationalError):
        connection.run("DROP TABLE IF EXISTS words")
        connection.run(
            "CREATE VIRTUAL TABLE words USING fts5"
            "(job_id UNINDEXED, labels UNINDEXED, told, prefix='2 3', "
            "tokenize='unicode61 remove_diacritics 2')"
        )


def save_texts(connection: Connection, number: int, job_id: str, texts: LabelledTexts) -> None:
    """Let the job of board row `number` be found by these texts, in place of those it had."""
    labels = "\n".join(_one_line(label) for label, _ in texts)
    lines = "\n".join(_one_line(text) for _, text in texts)
    with suppress(sqlite3.OperationalError):
        connection.run(
            "INSERT OR REPLACE INTO words (rowid, job_id, labels, told) VALUES (?, ?, ?, ?)",
            (number, job_id, labels, lines),
        )


def find(connection: Connection, typed: str) -> list[int]:
    """The numbers of the board rows whose jobs hold every word typed, in the board's order.

    A word is found by its beginning in any text, and by any part of it in address and customer.
    """
    words, parts = words_of(typed), list(dict.fromkeys(typed.casefold().split()))
    in_address = " AND ".join("instr(sought, ?) > 0" for _ in parts) or "1"
    if len(parts) > _MOST_PARTS:
        in_address, parts = "0", []
    if words:
        query = " ".join(f'"{word}"*' for word in words)
        in_texts = "id IN (SELECT rowid FROM words WHERE words MATCH ?)"
        with suppress(sqlite3.OperationalError):
            return _numbers(connection, f"{in_texts} OR ({in_address})", (query, *parts))
    return _numbers(connection, in_address, parts)


def _numbers(connection: Connection, condition: str, values: Sequence[str]) -> list[int]:
    rows = connection.run(
        f"SELECT id FROM board_line WHERE {condition} ORDER BY sort_key, job_id", tuple(values)
    )
    return [row[0] for row in rows]


def matching_texts(connection: Connection, job_id: str, typed: str) -> list[tuple[str, str]]:
    """The texts of a job that hold one of the words typed, each as (label, text), best first."""
    with suppress(sqlite3.OperationalError):
        row = connection.run(
            "SELECT labels, told FROM words WHERE rowid = "
            "(SELECT id FROM board_line WHERE job_id = ?)",
            (job_id,),
        ).first()
        return _matching(words_of(typed), row[0], row[1]) if row is not None else []
    return []


def words_of(typed: str) -> list[str]:
    """What was typed as words; one without a letter or digit finds nothing and is left out."""
    words = typed.replace('"', " ").replace("\0", " ").split()
    return [word for word in words if any(char.isalnum() for char in word)]


def _matching(words: Iterable[str], labels: str, texts: str) -> list[tuple[str, str]]:
    pairs = list(zip(labels.split("\n"), texts.split("\n"), strict=True))
    folded = [word.casefold() for word in words]
    counted = [(sum(word in pair[1].casefold() for word in folded), pair) for pair in pairs]
    counted.sort(key=lambda counted_pair: -counted_pair[0])
    return [pair for count, pair in counted if count]


def _one_line(text: str) -> str:
    return text.replace("\n", " ")
