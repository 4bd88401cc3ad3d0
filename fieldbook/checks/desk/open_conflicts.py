"""Flags on what laptops entered differently, and on numbers given twice; F6 settles both."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.naming import listed, row_name, sentence, short, system_of
from fieldbook.checks.finding import CellRef, Finding
from fieldbook.checks.severity import Severity
from fieldbook.records.base import facts_of
from fieldbook.records.column_values import column_accepts
from fieldbook.records.conflict import BROKEN_LINK, CELL, EVIDENCE, REMOVED, Conflict, Version
from fieldbook.records.fact import Fact
from fieldbook.records.known_by import duplicates
from fieldbook.records.loaded_job import RECORDS, TABLES, LoadedJob
from fieldbook.records.neighbours import Neighbour
from fieldbook.records.printable import printable
from fieldbook.records.values import shown

NOT_READ = "what this fieldbook can't read"
_FLAGGED_ELSEWHERE = frozenset({"pipe_run", "conductor", "decoder"})
"""Tables whose numbers given twice are flags of other checks, which say what they spoil."""
_MAY_BE_TWO = frozenset(
    {
        "backflow_assembly",
        "programme",
        "fixed_point",
        "permit",
        "locate_ticket",
        "crew_member",
        "catch_can",
    }
)
"""Tables in which two things of one name are odd, but nothing rests on it."""
_SETTLE = "F6 shows every version: take one, or type another."


def has_conflicts(job: LoadedJob) -> bool:
    """Whether there is anything to settle with F6."""
    return bool(job.conflicts or duplicates(job) or job.neighbours)


def check_conflicts(job: LoadedJob) -> Iterator[Finding]:
    """Flags on every conflict, and on numbers and names that more than one row has."""
    for conflict in job.conflicts:
        yield _conflict_flag(job, conflict)
    yield from check_neighbours(job)
    for same in duplicates(job):
        if same.table in _FLAGGED_ELSEWHERE:
            continue
        names = listed([row_name(job, same.table, row_id) for row_id in same.row_ids])
        wrong = f"{sentence(names)} have the same {same.column}"
        if same.table == "zone":
            wrong += f": terminal {same.value} can't run both"
        at = CellRef(same.table, same.row_ids[-1], same.column)
        mend = f"F6 joins them if they are the same thing, or gives one another {same.column}."
        severity: Severity = "note" if same.table in _MAY_BE_TWO else "fix"
        yield Finding(f"{same.table.replace('_', ' ')} twice", severity, f"{wrong}.", mend, at)


def check_neighbours(job: LoadedJob) -> Iterator[Finding]:
    """Flags on properties with the same address, and on later entries of one joined with this."""
    at = CellRef("job", job.job.id, "address")
    for other in job.neighbours:
        if other.later:
            count = "1 entry" if other.later == 1 else f"{other.later} entries"
            wrong = f"{sentence(count)} of the property joined with this one came after that."
            mend = "F6 brings them over."
            yield Finding("joined property changed", "fix", wrong, mend, at)
        else:
            name = other_words(other)
            wrong = f"Another property has this address: {name}."
            mend = "F6 joins them if they are one property, or gives this one another address."
            yield Finding("address twice", "note", wrong, mend, at)


def other_words(other: Neighbour) -> str:
    """Another property, such as "12 Elm St, of R. Okonjo, added by AB on 2026-05-04"."""
    whose = f", of {short(other.customer)}" if other.customer else ""
    day = f" on {other.at[:10]}" if other.at else ""
    return f"{short(other.address)}{whose}, added by {other.by or '?'}{day}"


def _conflict_flag(job: LoadedJob, conflict: Conflict) -> Finding:
    at = CellRef(conflict.table, conflict.row_id, conflict.column or "state")
    name = row_name(job, conflict.table, conflict.row_id)
    shown_first = conflict.versions[0]
    if conflict.kind == REMOVED:
        at = CellRef(conflict.table, conflict.row_id, first_column(conflict.table))
        removal = next((v for v in conflict.versions if v.value == "removed"), shown_first)
        wrong = f"{_who(removal)} removed {name}, but another laptop changed it, so it stays."
        return Finding("removed and changed", "fix", wrong, "Keep or remove it with F6.", at)
    if conflict.kind == EVIDENCE:
        wrong = f"Somebody tried to change {name}; it stays as it was signed."
        mend = "Ask who did it; F5 shows when and on which laptop."
        return Finding("signature changed", "fix", wrong, mend, at)
    if conflict.kind == BROKEN_LINK:
        gone = gone_name(conflict)
        wrong = f"{sentence(name)} names {gone}, which {_who(shown_first)} removed."
        mend = f"With F6, put {gone} back, or remove what names it."
        if conflict.joined:
            kept = row_name(job, conflict.gone[0], conflict.joined)
            wrong = f"{sentence(name)} names {gone}, which {_who(shown_first)} joined with {kept}."
            mend = f"With F6, move it to {kept}, or put {gone} back."
        return Finding("line of what is gone", "fix", wrong, mend, at)
    label = f"{label_of(conflict)} of {name}"
    if conflict.kind != CELL:
        wrong = f"{label} holds {NOT_READ}, entered by {_who(shown_first)}."
        mend = "Update fieldbook on this laptop, or enter the value again."
        return Finding("not understood", "fix", wrong, mend, at)
    versions = dict.fromkeys(_version_words(job, conflict, one) for one in conflict.versions)
    return Finding("two versions", "fix", f"{label} is {' or '.join(versions)}.", _SETTLE, at)


def _version_words(job: LoadedJob, conflict: Conflict, version: Version) -> str:
    """Such as "62 psi (AB)"."""
    return f"{short(value_words(job, conflict, version))} ({_who(version)})"


def value_words(job: LoadedJob, conflict: Conflict, version: Version) -> str:
    """A value as a person reads it; a link as the name of the row it leads to."""
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
    """The row that was removed, such as "zone 3"; the version holds its number or name."""
    title, own = TABLES[conflict.gone[0]].title, conflict.versions[0].value
    return f"{title} {short(printable(str(own)))}" if own not in (None, "") else f"a {title}"


def fact_of(conflict: Conflict) -> Fact | None:
    """The description of the cell in conflict; None for a column of a newer fieldbook."""
    record = RECORDS.get(conflict.table)
    return None if record is None else facts_of(record).get(conflict.column)


def label_of(conflict: Conflict) -> str:
    """The label of the cell in conflict, or the name of a column that is not known here."""
    fact = fact_of(conflict)
    return fact.label if fact is not None else conflict.column


def first_column(table: str) -> str:
    """The first column of a table that its sheet shows."""
    record = RECORDS.get(table)
    facts = facts_of(record).items() if record is not None else ()
    return next((name for name, fact in facts if fact.kind not in ("hidden", "when")), "id")


def _who(version: Version) -> str:
    return short(version.who) or "another program"
