"""What a cell asks that laptops entered differently, or that can't be read here."""

from __future__ import annotations

from fieldbook.actions.conflicts.authors import said_by
from fieldbook.actions.conflicts.question import Option, Question
from fieldbook.checks.common.naming import row_name, sentence, short
from fieldbook.checks.desk.open_conflicts import NOT_READ, fact_of, label_of, value_words
from fieldbook.checks.finding import CellRef
from fieldbook.records.column_values import readable
from fieldbook.records.conflict import Conflict, Version
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.records.values import Value, printable
from fieldbook.store.changes import Put

_NEVER_NOTHING = frozenset(
    (table, name)
    for table, record in TABLES.items()
    for name, field in record.model_fields.items()
    if field.default == ""
)
"""Columns whose blank is an empty text."""


def cell_question(job: LoadedJob, one: Conflict, own: str) -> Question:
    """Each version may be kept, or another typed."""
    fact = fact_of(one)
    title = f"{label_of(one)} of {row_name(job, one.table, one.row_id)}"
    options: list[Option] = []
    notes: list[str] = []
    for versions in _same_values(one):
        words = value_words(job, one, versions[0])
        by = tuple(said_by(version, own) for version in versions)
        if fact is not None and readable(one.table, one.column, versions[0].value):
            options.append(_takes(one, versions[0].value, words, by))
        else:
            notes += [f"{words}: {line}" for line in by]
    told = "Laptops entered it differently; the sheet shows the first until one is kept."
    if fact is None:
        told = f"This fieldbook has no such cell yet: update it here. {told}"
    elif notes:
        told = f"{told} Update fieldbook here to read what it can't; what is kept replaces it."
    typed = fact is not None and fact.kind not in ("hidden", "when")
    at = CellRef(one.table, one.row_id, one.column)
    place = at.place
    return Question(one.kind, sentence(title), told, at, place, tuple(options), tuple(notes), typed)


def _takes(one: Conflict, value: Value, words: str, by: tuple[str, ...]) -> Option:
    label, brief = label_of(one).lower(), short(words)
    put = Put(one.table, one.row_id, one.column, held_as(one, value))
    return Option(words, by, (put,), f"{label} {brief} kept", f"Kept {brief} as {label}.")


def _same_values(one: Conflict) -> list[list[Version]]:
    """The versions by their value, in the order they are shown."""
    found: list[list[Version]] = []
    for version in one.versions:
        same = next((group for group in found if group[0].value == version.value), None)
        if same is None:
            found.append([version])
        else:
            same.append(version)
    return found


def held_as(one: Conflict, value: Value) -> Value:
    """A value of the journal as the record has it."""
    fact = fact_of(one)
    kind = "" if fact is None else fact.kind
    if kind == "amount" and isinstance(value, int | float):
        return float(value)
    if value is not None and (kind == "tick" or one.column == "off_board"):
        return bool(value)
    text = kind in ("text", "curve") or (one.table, one.column) in _NEVER_NOTHING
    return "" if value is None and text else value


_NEVER_NOTHING = frozenset(
    (table, name)
    for table, record in TABLES.items()
    for name, field in record.model_fields.items()
    if field.default == ""
)
"""Columns whose blank is an empty text."""


def unreadable_question(job: LoadedJob, one: Conflict, own: str) -> Question:
    """What a newer fieldbook entered: another value may be typed in its place."""
    fact, at = fact_of(one), CellRef(one.table, one.row_id, one.column)
    title = f"{label_of(one)} of {row_name(job, one.table, one.row_id)}"
    held = tuple(
        f"“{printable(str(version.value))[:80]}”: {said_by(version, own)}"
        for version in one.versions
    )
    told = f"It holds {NOT_READ}: update fieldbook here, or type another value in its place."
    typed = fact is not None and fact.kind not in ("hidden", "when")
    return Question(one.kind, sentence(title), told, at, at.place, (), held, typed)
