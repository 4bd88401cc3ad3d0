"""The digests of what a sign-off covers, which show a later change of the record.

A digest is SHA-256 over the rows as JSON, without who entered them and when. A link counts as the
name of the row it leads to, not as its id, so the digest is the same in a copy of the job.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping

from fieldbook.records.base import Record, facts_of
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.sign_offs import SignOff

_SIGNATURE = ("kind", "signed_by", "signed_at", "overridden", "override_by", "override_reason")
_NOT_COVERED = {"id", "entered_by", "entered_at", "signed_by", "signed_at", "job_id"}
_LEFT_OUT = ("sign_off", "note", "attachment", "rule")
"""Tables that even a handover does not cover."""


def covered(job: LoadedJob, kind: str, zone_id: str | None) -> dict[str, str]:
    """For each table, the digest of the rows that a sign-off of this kind and stretch covers."""
    return {table: digest(job, rows) for table, rows in _rows(job, kind, zone_id).items()}


def whole_digest(parts: Mapping[str, str], signature: Mapping[str, object]) -> str:
    """One digest over the digests of all tables and over the signature itself."""
    signed = {name: signature.get(name) or "" for name in _SIGNATURE}
    return _sha(json.dumps([dict(parts), signed], sort_keys=True, ensure_ascii=False))


def changed(job: LoadedJob, sign_off: SignOff) -> list[str]:
    """The tables whose covered rows changed since they were signed for.

    It is ["record"] where the sign-off itself can't be trusted.
    """
    try:
        then = json.loads(sign_off.covered or "{}")
    except ValueError:
        return ["record"]
    if not isinstance(then, dict) or whole_digest(then, sign_off.model_dump()) != sign_off.digest:
        return ["record"]
    now = covered(job, sign_off.kind, sign_off.zone_id)
    return [table for table in sorted({*then, *now}) if then.get(table) != now.get(table)]


def digest(job: LoadedJob, rows: Iterable[Record]) -> str:
    """SHA-256 of rows, whatever their order; columns that are not entered do not count."""
    written = (json.dumps(_values(job, row), sort_keys=True, ensure_ascii=False) for row in rows)
    return _sha("\n".join(sorted(written)))


def _values(job: LoadedJob, row: Record) -> dict[str, object]:
    facts = facts_of(type(row))
    found: dict[str, object] = {}
    for key, value in row.model_dump().items():
        if key in _NOT_COVERED or value in (None, ""):
            continue
        found[key] = _name(job.row(value)) if facts[key].links_to else value
    return found


def _name(row: Record | None) -> str:
    """The number and names by which a person knows a linked row."""
    words = [getattr(row, column, None) for column in ("number", "name", "kind", "colour")]
    return " ".join(str(word) for word in words if word not in (None, ""))


def _sha(text: str) -> str:
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


_TABLES: Mapping[str, tuple[str, ...]] = {
    "wire backfill": ("valve", "cable", "conductor", "splice"),
    "dig": ("permit", "locate_ticket"),
    "in service": ("backflow_assembly", "backflow_test"),
    "price": ("supply", "flow_test_point", "zone"),
}
"""Sign-offs that cover whole tables; a handover or closed job covers nearly everything."""


def _rows(job: LoadedJob, kind: str, zone_id: str | None) -> dict[str, list[Record]]:
    if kind == "backfill":
        return _stretch(job, zone_id)
    if kind in ("pressurise", "energise"):
        return _stretch(job, None)
    tables = job.tables()
    if kind in _TABLES:
        return {name: list(tables[name]) for name in _TABLES[kind]}
    return {name: list(rows) for name, rows in tables.items() if name not in _LEFT_OUT and rows}


def _stretch(job: LoadedJob, zone_id: str | None) -> dict[str, list[Record]]:
    """The rows of a stretch by table: its pipe and heads, test, flush and backfill."""
    runs = job.runs_of(zone_id)
    return {
        "pipe_run": list(runs),
        "head": [head for run in runs if (head := job.head_at(run.id)) is not None],
        "pressure_test": [row for row in job.pressure_tests if row.zone_id == zone_id],
        "flush": [row for row in job.flushes if row.zone_id == zone_id],
        "backfill": [row for row in job.backfills if row.zone_id == zone_id],
    }
