"""Flags on what laptops say differently; F6 settles them."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.naming import listed, row_name, sentence, short, system_of
from fieldbook.checks.desk.duplicates import NUMBERED, doubles
from fieldbook.checks.finding import CellRef, Finding
from fieldbook.records.base import facts_of
from fieldbook.records.column_values import column_accepts
from fieldbook.records.conflict import CELL, EVIDENCE, LOST, REMOVED, Conflict, Version
from fieldbook.records.fact import Fact
from fieldbook.records.loaded_job import TABLES, LoadedJob, record_of
from fieldbook.records.values import printable, shown

NOT_READ = "what this fieldbook can't read"
SETTLE = "F6 shows every version: take one, or type another."


def check_conflicts(job: LoadedJob) -> Iterator[Finding]:
    """Flags on what differs, what was removed and changed, and numbers given twice."""
    for one in job.conflicts:
        yield _flag(job, one)
    for double in doubles(job):
        names = listed([row_name(job, double.table, one) for one in double.row_ids])
        wrong = f"{sentence(names)} have the same {NUMBERED[double.table]}."
        if double.table == "zone":
            wrong = f"{wrong[:-1]}: terminal {double.value} can't run both."
        at = CellRef(double.table, double.row_ids[-1], double.column)
        yield Finding(f"{double.table.replace('_', ' ')} twice", "fix", wrong, SETTLE, at)


def differs(job: LoadedJob) -> bool:
    """Whether anything waits for a choice."""
    return bool(job.conflicts or doubles(job))


def _flag(job: LoadedJob, one: Conflict) -> Finding:
    at = CellRef(one.table, one.row_id, one.column or "state")
    name = row_name(job, one.table, one.row_id)
    if one.kind == REMOVED:
        at = CellRef(one.table, one.row_id, first_column(one.table))
        gone = next((v for v in one.versions if v.value == "removed"), one.versions[0])
        wrong = f"{_by(gone)} removed {name}, which another laptop changed meanwhile: it stays."
        return Finding("removed and changed", "fix", wrong, "F6: keep it, or remove it.", at)
    if one.kind == EVIDENCE:
        wrong = f"Somebody tried to change {name}: it stays as it was signed."
        return Finding(
            "signature changed",
            "fix",
            wrong,
            "Ask who did; F5 tells when and where.",
            at,
        )
    if one.kind == LOST:
        what = gone_name(one)
        wrong = f"{sentence(name)} names {what}, which {_by(one.versions[0])} removed meanwhile."
        return Finding(
            "line of what is gone",
            "fix",
            wrong,
            "F6: put it back, or let this go too.",
            at,
        )
    label = f"{label_of(one)} of {name}"
    if one.kind != CELL:
        wrong = f"{label} holds {NOT_READ}, entered by {_by(one.versions[0])}."
        return Finding(
            "not understood",
            "fix",
            wrong,
            "Update fieldbook here, or enter it again.",
            at,
        )
    said = " or ".join(dict.fromkeys(version_words(job, one, version) for version in one.versions))
    return Finding("two versions", "fix", f"{label} is {said}.", SETTLE, at)


def version_words(job: LoadedJob, conflict: Conflict, version: Version) -> str:
    """Such as "62 psi (AB)"."""
    return f"{short(value_words(job, conflict, version))} ({_by(version)})"


def value_words(job: LoadedJob, conflict: Conflict, version: Version) -> str:
    """A value as a person reads it; a link as the row it leads to."""
    fact = fact_of(conflict)
    value = version.value
    if value is None or value == "":
        return "blank"
    if not column_accepts(conflict.table, conflict.column, value):
        return NOT_READ
    if fact is None:
        return short(printable(str(value)))
    if fact.links_to:
        return row_name(job, fact.links_to, str(value))
    if fact.kind == "tick":
        value = bool(value)
    return shown(fact, value, system_of(job))


def gone_name(conflict: Conflict) -> str:
    """What was removed, such as "zone 3"; the version holds its number or name."""
    title, own = TABLES[conflict.gone[0]].title, conflict.versions[0].value
    return f"{title} {short(printable(str(own)))}" if own not in (None, "") else f"a {title}"


def fact_of(conflict: Conflict) -> Fact | None:
    """What is known of the cell in conflict; None for a column of a newer fieldbook."""
    record = record_of(conflict.table)
    return None if record is None else facts_of(record).get(conflict.column)


def _by(version: Version) -> str:
    return version.who or "another program"


def label_of(conflict: Conflict) -> str:
    """What the cell in conflict is called."""
    fact = fact_of(conflict)
    return fact.label if fact is not None else conflict.column


def first_column(table: str) -> str:
    """A cell of the row that the sheets show."""
    record = record_of(table)
    facts = facts_of(record).items() if record is not None else ()
    return next((name for name, fact in facts if fact.kind not in ("hidden", "when")), "id")
