"""What a claim is about, as it is typed: a zone, a stretch, a sign-off, a row or one cell."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from fieldbook.actions.refused import RefusedError
from fieldbook.checks.common.naming import row_name, stretch_name, zone_name
from fieldbook.checks.progress.digests import covered_rows
from fieldbook.checks.progress.holds import BACKFILL, SIGN_OFFS
from fieldbook.records.base import facts_of
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.records.tables.zones import Zone
from fieldbook.store.journal.entry import ADD, Entry

PRIVATE_TABLES = ("job", "note")
"""How to get in, and the crew's own notes: no entry of these is ever printed."""
OF_A_STRETCH = ("pipe_run", "flush", "pressure_test", "backfill", "sign_off")
"""The tables whose rows are of what is buried as one; what belongs to them follows."""
MAINLINE = "mainline"
_ALIASES = {"box": "valve_box", "signoff": "sign_off", "assembly": "backflow_assembly"}
HOW = "zone:2, stretch:mainline, sign-off:backfill:2, box:A, supply.static_psi or row:ID"


@dataclass(frozen=True)
class About:
    """The rows that a claim is about, in words; of `column` alone, unless that is ""."""

    words: str
    rows: frozenset[str]
    column: str = ""


def read_about(job: LoadedJob, entries: Sequence[Entry], typed: str) -> About:
    """What `typed` names: THING or THING.COLUMN. Raises RefusedError with how to write it.

    Rows that were removed since count too: what belongs to a thing is read from the journal.
    """
    thing, _, column = typed.strip().partition(".")
    kind, _, which = thing.partition(":")
    kind = kind.strip().lower().replace("-", "_").replace(" ", "_")
    kind, which = _ALIASES.get(kind, kind), which.strip()
    refuse_private(kind)
    if column:
        return _cell(job, entries, kind, which, column.strip())
    if kind == "zone" and which:
        zone = _zone(job, which)
        rows = _with_what_belongs(entries, {zone.id})
        return About(f"{zone_name(zone)}, with all that belongs to it", rows)
    if kind == "stretch":
        zone_id = None if which.lower() == MAINLINE else _zone(job, which).id
        return About(stretch_name(job, zone_id), _stretch(entries, zone_id))
    if kind == "sign_off" and which:
        return _sign_off(job, entries, which)
    return _rows_of(job, entries, kind, which)


def refuse_private(table: str) -> None:
    """Raise RefusedError for a table of which no entry is ever printed."""
    if table in PRIVATE_TABLES:
        raise RefusedError("How to get in and the crew's own notes are never on a dispute sheet.")


def _zone(job: LoadedJob, which: str) -> Zone:
    found = next((zone for zone in job.zones if str(zone.number) == which), None)
    if found is None:
        raise RefusedError(f"There is no zone “{which}”: name it by its number, as in zone:2.")
    return found


def _cell(job: LoadedJob, entries: Sequence[Entry], kind: str, which: str, column: str) -> About:
    """One column of the rows that are named; a zone is then its own row alone."""
    rows = _rows_of(job, entries, kind, which)
    tables = {entry.table for entry in entries if entry.row_id in rows.rows}
    for table in sorted(tables):
        for name, fact in facts_of(TABLES[table]).items():
            if column.lower() in (name, fact.label.lower()):
                return About(f"{fact.label} of {rows.words}", rows.rows, name)
    raise RefusedError(f"There is no column “{column}” in {kind}: write it as {HOW}.")


def _rows_of(job: LoadedJob, entries: Sequence[Entry], kind: str, which: str) -> About:
    """The rows of a table by number, name or id, all of them where none is named."""
    if kind != "row" and kind not in TABLES:
        raise RefusedError(f"“{kind}” names nothing of the record: write {HOW}.")
    found = {
        entry.row_id: entry.table
        for entry in entries
        if entry.table in TABLES and kind in ("row", entry.table)
    }
    rows = {row_id: table for row_id, table in found.items() if _is_named(job, row_id, which)}
    if kind == "row" and not which:
        rows = {}
    if not rows:
        raise RefusedError(f"There is no {kind} “{which}” in the journal: write {HOW}.")
    words = {row_name(job, table, row_id) for row_id, table in rows.items()}
    listed = ", ".join(sorted(words)) if len(words) <= 3 else f"{len(rows)} rows of {kind}"
    return About(listed, _with_files(entries, set(rows)))


def _is_named(job: LoadedJob, row_id: str, which: str) -> bool:
    if not which or row_id.startswith(which.lower()):
        return True
    row = job.row(row_id)
    names = {str(getattr(row, name, None) or "").lower() for name in ("number", "name", "kind")}
    return which.lower() in names


def _sign_off(job: LoadedJob, entries: Sequence[Entry], which: str) -> About:
    """The signatures of a kind, and what they cover."""
    kind, _, number = which.partition(":")
    kind = kind.strip().replace("-", " ")
    if kind not in (BACKFILL, *SIGN_OFFS):
        kinds = ", ".join((BACKFILL, *SIGN_OFFS))
        raise RefusedError(f"There is no sign-off “{kind}”: it is one of {kinds}.")
    zone_id = _zone(job, number).id if number and number.lower() != MAINLINE else None
    signed = {
        entry.row_id
        for entry in entries
        if entry.table == "sign_off"
        and entry.op == ADD
        and (entry.row.get("kind"), entry.row.get("zone_id")) == (kind, zone_id)
    }
    held = covered_rows(job, kind, zone_id)
    covers = {row.id for rows in held.values() for row in rows}
    if kind == BACKFILL:
        words = f"the backfill of {stretch_name(job, zone_id)}, and what its signature covers"
        covers |= _stretch(entries, zone_id)
    else:
        words = f"“{SIGN_OFFS[kind]}”, and what its signature covers"
    return About(words, _with_files(entries, signed | covers))


def _stretch(entries: Sequence[Entry], zone_id: str | None) -> frozenset[str]:
    """The rows of a zone's trenches, or of the mainline (None)."""
    rows = {
        entry.row_id
        for entry in entries
        if entry.table in OF_A_STRETCH
        and entry.op == ADD
        and entry.row.get("zone_id") == zone_id
        and entry.row.get("kind", BACKFILL) == BACKFILL
    }
    return _with_what_belongs(entries, rows)


def _with_what_belongs(entries: Sequence[Entry], rows: set[str]) -> frozenset[str]:
    """The rows, and all rows that ever belonged to one of them, such as the head of a run."""
    known = set(rows)
    while True:
        more = {
            entry.row_id
            for entry in entries
            if entry.op == ADD and entry.row_id not in known and known & set(_belongs_to(entry))
        }
        if not more:
            return frozenset(known)
        known |= more


def _with_files(entries: Sequence[Entry], rows: set[str]) -> frozenset[str]:
    """The rows, and the files that were attached to them."""
    files = {
        entry.row_id
        for entry in entries
        if entry.table == "attachment" and entry.op == ADD and entry.row.get("of_row") in rows
    }
    return frozenset(rows | files)


def _belongs_to(entry: Entry) -> Iterator[str]:
    """The ids of the rows that an added row belongs to, or that it says something of."""
    if entry.table not in TABLES or entry.table in PRIVATE_TABLES:
        return
    row = entry.row
    for column, fact in facts_of(TABLES[entry.table]).items():
        belongs = fact.kind == "hidden" and fact.links_to not in ("", "job")
        # A terminal names the zone it runs by a link that can be typed.
        if belongs or column == "of_row" or (entry.table, column) == ("terminal", "zone_id"):
            yield str(row.get(column) or "")
