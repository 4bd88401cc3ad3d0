"""What a sign-off covers, as digests: so that a later change of it shows.

A digest is SHA-256 over the rows as JSON: without who entered them and when, and with the names of
the rows they link to rather than ids, so that it is the same in a copy of the job.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping

from fieldbook.records.base import Record, facts_of
from fieldbook.records.loaded_job import LoadedJob, once_per_job
from fieldbook.records.tables.sign_offs import SignOff
from fieldbook.records.tables.zones import Zone

_SIGNATURE = ("kind", "signed_by", "signed_at", "overridden", "override_by", "override_reason")
_NOT_COVERED = {"id", "entered_by", "entered_at", "signed_by", "signed_at", "job_id"}
VERSION_KEY = "digest version"
VERSION = "2"
"""What a sign-off keeps beside its digests. Those without it were made by version 1, which also
took the names of zones and boxes, so that renaming one looked like a change of the work."""
_ONLY_NAMES = {"zone": ("name",), "valve_box": ("location",)}
"""Columns that only say how a thing is called; version 2 leaves them out."""


def covered(
    job: LoadedJob, kind: str, zone_id: str | None, version: str = VERSION
) -> dict[str, str]:
    """The digest of each table's rows that a sign-off of this kind and stretch covers."""
    kept, key = _digests(job), (*_extent(kind, zone_id), version)
    if key not in kept:
        rows = covered_rows(job, kind, zone_id)
        kept[key] = {table: digest(job, table, held, version) for table, held in rows.items()}
    found = dict(kept[key])
    if version == "1":
        # Version 1 knew no utility answers.
        found.pop("utility_answer", None)
        return found
    return {**found, VERSION_KEY: version}


@once_per_job
def _digests(_job: LoadedJob) -> dict[tuple[str, str | None, str], dict[str, str]]:
    """The digests made so far, by extent and version: several signatures ask for the same ones."""
    return {}


def whole_digest(parts: Mapping[str, str], signature: Mapping[str, object]) -> str:
    """One digest over all of them and over the signature's own words."""
    words = {name: signature.get(name) or "" for name in _SIGNATURE}
    return _sha(json.dumps([dict(parts), words], sort_keys=True, ensure_ascii=False))


def changed(job: LoadedJob, sign_off: SignOff) -> list[str]:
    """The tables whose covered rows are no longer as they were signed over."""
    try:
        then = json.loads(sign_off.covered or "{}")
    except ValueError:
        return ["record"]
    if not isinstance(then, dict) or whole_digest(then, sign_off.values()) != sign_off.digest:
        return ["record"]
    version = str(then.get(VERSION_KEY, "1"))
    now = covered(job, sign_off.kind, sign_off.zone_id, version)
    return [table for table in sorted({*then, *now}) if then.get(table) != now.get(table)]


def digest(job: LoadedJob, table: str, rows: Iterable[Record], version: str = VERSION) -> str:
    """SHA-256 of a table's rows, whatever their order; columns that hold nothing do not count."""
    left_out = _NOT_COVERED | set(() if version == "1" else _ONLY_NAMES.get(table, ()))
    facts = [_facts(job, row, left_out, version) for row in rows]
    return _sha("\n".join(sorted(json.dumps(f, sort_keys=True, ensure_ascii=False) for f in facts)))


def _facts(job: LoadedJob, row: Record, left_out: set[str], version: str) -> dict[str, object]:
    facts = facts_of(type(row))
    found: dict[str, object] = {}
    for key, value in row.values().items():
        if key in left_out or value in (None, ""):
            continue
        found[key] = _name(job.row(value), version) if facts[key].links_to else value
    return found


def _name(row: Record | None, version: str) -> str:
    """A linked row by what a person knows it by: of a zone version 2 takes only the number."""
    columns = ["number", "name", "kind", "colour"]
    if version != "1" and isinstance(row, Zone) and row.number is not None:
        columns = ["number"]
    words = [getattr(row, column, None) for column in columns]
    return " ".join(str(word) for word in words if word not in (None, ""))


def _sha(text: str) -> str:
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


_TABLES: Mapping[str, tuple[str, ...]] = {
    "wire backfill": ("valve", "cable", "conductor", "splice"),
    "dig": ("permit", "locate_ticket", "utility_answer"),
    "in service": ("backflow_assembly", "backflow_test"),
    "price": ("supply", "flow_test_point", "zone"),
    "walk-through": ("walk_through", "zone_shown"),
}
"""The tables that some sign-offs cover whole; a handover covers all of `COVERED_TABLES`."""
COVERED_TABLES = (
    "local_rules",
    "supply",
    "flow_test_point",
    "backflow_assembly",
    "zone",
    "pipe_run",
    "head",
    "valve_box",
    "cable",
    "conductor",
    "splice",
    "valve",
    "two_wire_path",
    "decoder",
    "controller",
    "other_controller",
    "terminal",
    "wire_test",
    "flush",
    "backfill",
    "permit",
    "inspection",
    "locate_ticket",
    "utility_answer",
    "crew_member",
    "pressure_test",
    "backflow_test",
    "fixed_point",
    "tie",
    "isolation_valve",
)
"""What a handover covers: the work as it was handed over. The list is closed: a table that joins
the record later would make every handover before it look changed, as soon as it has a row."""


def covered_rows(job: LoadedJob, kind: str, zone_id: str | None) -> dict[str, list[Record]]:
    """The rows that a sign-off of this kind and stretch covers, by table."""
    extent, stretch = _extent(kind, zone_id)
    if extent == "backfill":
        return _stretch(job, stretch)
    tables = job.tables()
    if extent in _TABLES:
        return {name: list(tables[name]) for name in _TABLES[extent]}
    return {name: list(rows) for name in COVERED_TABLES if (rows := tables[name])}


def _extent(kind: str, zone_id: str | None) -> tuple[str, str | None]:
    """The same for all sign-offs that cover the same rows: a kind of them, and a stretch."""
    if kind == "backfill":
        return kind, zone_id
    if kind in ("pressurise", "energise"):
        return "backfill", None
    return kind if kind in _TABLES else "handover", None


def _stretch(job: LoadedJob, zone_id: str | None) -> dict[str, list[Record]]:
    """The rows of a stretch: its pipe and heads, test, flush and backfill."""
    runs = list(job.runs_of(zone_id))
    heads = [head for run in runs if (head := job.head_at(run.id)) is not None]
    return {
        "pipe_run": list(runs),
        "head": list(heads),
        "pressure_test": [one for one in job.pressure_tests if one.zone_id == zone_id],
        "flush": [one for one in job.flushes if one.zone_id == zone_id],
        "backfill": [one for one in job.backfills if one.zone_id == zone_id],
    }
