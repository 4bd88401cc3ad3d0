"""Find properties by any text in them: a full-text table beside the record, made from it anew.

Nothing in the record depends on it. Where SQLite was built without FTS5 nothing is found here.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from contextlib import suppress

from sqlalchemy import Connection
from sqlalchemy.exc import OperationalError

Words = Sequence[tuple[str, str]]
"""Texts of a job: (what it is, the text)."""


def make_words(connection: Connection) -> None:
    """Make the table, and let every board line be drawn anew, which fills it."""
    with suppress(OperationalError):
        connection.exec_driver_sql(
            "CREATE VIRTUAL TABLE IF NOT EXISTS words USING fts5"
            "(job_id UNINDEXED, labels UNINDEXED, told, prefix='2 3', "
            "tokenize='unicode61 remove_diacritics 2')"
        )
    connection.exec_driver_sql("DELETE FROM board_line")


def keep_words(connection: Connection, job_id: str, words: Words) -> None:
    """Let a job be found by these texts, and no longer by those it had."""
    labels = "\n".join(_line(label) for label, _ in words)
    told = "\n".join(_line(text) for _, text in words)
    with suppress(OperationalError):
        connection.exec_driver_sql(
            "INSERT OR REPLACE INTO words (rowid, job_id, labels, told) VALUES (?, ?, ?, ?)",
            (_number(job_id), job_id, labels, told),
        )


def find(connection: Connection, typed: str) -> dict[str, list[tuple[str, str]]]:
    """The jobs that hold every word typed or its beginning: by id, the texts that hold one."""
    wanted = words_of(typed)
    if not wanted:
        return {}
    query = " ".join(f'"{word}"*' for word in wanted)
    with suppress(OperationalError):
        rows = connection.exec_driver_sql(
            "SELECT job_id, labels, told FROM words WHERE words MATCH ?", (query,)
        )
        return {row[0]: _holding(wanted, row[1], row[2]) for row in rows}
    return {}


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


def _number(job_id: str) -> int:
    """A row number that is the job's own, so that its words are replaced without a search."""
    digest = hashlib.sha256(job_id.encode("utf-8")).digest()
    return int.from_bytes(digest[:8], "big") >> 1
