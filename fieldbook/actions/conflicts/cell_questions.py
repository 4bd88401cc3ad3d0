"""Questions about one cell: laptops entered different values, or this fieldbook can't read one."""

from __future__ import annotations

from collections.abc import Iterable

from fieldbook.actions.conflicts.question import Option, Question, author_line
from fieldbook.checks.common.naming import row_name, sentence, short
from fieldbook.checks.desk.open_conflicts import NOT_READ, fact_of, label_of, value_words
from fieldbook.checks.finding import CellRef
from fieldbook.records.base import columns_of
from fieldbook.records.column_values import column_accepts
from fieldbook.records.conflict import Conflict, Version
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.records.printable import printable
from fieldbook.records.values import Value
from fieldbook.store.changes import Put

_BLANK_IS_EMPTY_TEXT = frozenset(
    (table, name)
    for table, record in TABLES.items()
    for name, column in columns_of(record).items()
    if column.kind is str and not column.optional
)
"""Columns that hold an empty text, not None, when they are blank."""


def cell_question(job: LoadedJob, conflict: Conflict, own: str) -> Question:
    """Different values of one cell: keep one of them, or type another."""
    options: list[Option] = []
    notes: list[str] = []
    for versions in _grouped_by_value(conflict.versions):
        value, words = versions[0].value, value_words(job, conflict, versions[0])
        by = tuple(author_line(version, own) for version in versions)
        if fact_of(conflict) is not None and column_accepts(conflict.table, conflict.column, value):
            options.append(_keeps_value(conflict, value, words, by))
        else:
            notes += [f"{words}: {line}" for line in by]
    explanation = "Laptops entered it differently; the sheet shows the first until one is kept."
    if fact_of(conflict) is None:
        explanation = f"This fieldbook has no such cell yet: update it here. {explanation}"
    elif notes:
        explanation += " Update fieldbook here to read what it can't; what is kept replaces it."
    return _question(job, conflict, explanation, options, notes)


def unreadable_question(job: LoadedJob, conflict: Conflict, own: str) -> Question:
    """A value that a newer fieldbook entered: another may be typed in its place."""
    notes = [
        f"“{printable(str(version.value))[:80]}”: {author_line(version, own)}"
        for version in conflict.versions
    ]
    explanation = f"It holds {NOT_READ}: update fieldbook here, or type another value in its place."
    return _question(job, conflict, explanation, (), notes)


def _question(
    job: LoadedJob,
    conflict: Conflict,
    explanation: str,
    options: Iterable[Option],
    notes: Iterable[str],
) -> Question:
    fact = fact_of(conflict)
    name = row_name(job, conflict.table, conflict.row_id)
    return Question(
        conflict.kind,
        sentence(f"{label_of(conflict)} of {name}"),
        explanation,
        CellRef(conflict.table, conflict.row_id, conflict.column),
        tuple(options),
        tuple(notes),
        typed=fact is not None and fact.kind not in ("hidden", "when"),
    )


def _keeps_value(conflict: Conflict, value: Value, words: str, by: tuple[str, ...]) -> Option:
    label, brief = label_of(conflict).lower(), short(words)
    put = Put(conflict.table, conflict.row_id, conflict.column, _column_value(conflict, value))
    return Option(words, by, (put,), f"{label} {brief} kept", f"Kept {brief} as {label}.")


def _grouped_by_value(versions: Iterable[Version]) -> list[list[Version]]:
    """The versions of each value, the values in the order they are shown; 62 is 62.0."""
    groups: dict[Value, list[Version]] = {}
    for version in versions:
        groups.setdefault(version.value, []).append(version)
    return list(groups.values())


def _column_value(conflict: Conflict, value: Value) -> Value:
    """A value of the journal, which is JSON, as its column holds it: 62 as 62.0, 1 as True."""
    fact = fact_of(conflict)
    kind = "" if fact is None else fact.kind
    if kind == "amount" and isinstance(value, int | float):
        return float(value)
    if value is not None and (kind == "tick" or conflict.column == "off_board"):
        return bool(value)
    column = (conflict.table, conflict.column)
    text = kind in ("text", "curve") or column in _BLANK_IS_EMPTY_TEXT
    return "" if value is None and text else value
