"""Read a job file into rows for the book, or refuse it with one sentence."""

from __future__ import annotations

import uuid
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from fieldbook.jobfile.file_rows import (
    FileRow,
    refuse_bad_links,
    refuse_bad_runs,
    refuse_both_results,
    refuse_same_ids,
)
from fieldbook.jobfile.parse import JobFileError, parse_json, short
from fieldbook.jobfile.schema import (
    FORMAT,
    FORMAT_KEY,
    JOB_KEY,
    LONGEST_ID,
    TABLE_OF,
    columns_of,
    many,
)
from fieldbook.jobfile.things import with_thing
from fieldbook.records.base import natural_id, new_id
from fieldbook.records.fact import Fact
from fieldbook.records.ids import natural_row_id
from fieldbook.records.values import Value, ValueRefusedError, from_file
from fieldbook.units import System

_KIND_IF_MISSING: Mapping[str, Mapping[str, Value]] = {
    "valve": {"kind": "zone"},
    "terminal": {"role": "zone"},
}


@dataclass(frozen=True)
class JobFile:
    """A whole job as rows, the property's own row first."""

    job_id: str
    rows: tuple[FileRow, ...]

    @property
    def address(self) -> str:
        """The property's address."""
        return str(self.rows[0].values.get("address", ""))


def read_job(raw: bytes, *, copy: bool = False) -> JobFile:
    """Read the bytes of a job file; `copy` gives every row a new id.

    An id may be a UUID, which is kept, or any short word, which always becomes the same UUID.
    Rows that exist once (a zone's valve, a terminal, a flush ...) need no id.
    Raises JobFileError with one sentence that names the place inside the file.
    """
    document = parse_json(raw)
    _refuse_keys(document)
    job = _object(document.get(JOB_KEY), JOB_KEY)
    system: System = "metric" if job.get("units") == "metric" else "us"
    ids = _Ids(_id_word(job.get("id"), f"{JOB_KEY}.id"), copy=copy)
    rows = [_row(JOB_KEY, JOB_KEY, job, ids, system)]
    if not str(rows[0].values.get("address") or "").strip():
        raise JobFileError("job.address is missing: a property is named by its address.")
    for path, table, value in _objects(document):
        rows.append(_row(path, table, value, ids, system))
    refuse_bad_links(rows)
    named = rows
    rows = [rows[0], *(_with_own_id(row, ids) for row in rows[1:])]
    own = {before.row_id: after.row_id for before, after in zip(named, rows, strict=True)}
    rows = [with_thing(row, lambda word: own.get(ids.of(word), ids.of(word))) for row in rows]
    refuse_same_ids(rows)
    refuse_bad_runs(rows)
    refuse_both_results(rows)
    return JobFile(ids.job_id, tuple(rows))


class _Ids:
    """The ids of the book for the ids of a file."""

    def __init__(self, job: str, *, copy: bool) -> None:
        self._job, self._copy = job, copy
        self._made: dict[str, str] = {}
        self.job_id = self.of(job) if job else new_id()

    def of(self, word: str) -> str:
        """The book's id for an id of the file."""
        if self._copy:
            return self._made.setdefault(word, new_id())
        try:
            return str(uuid.UUID(word))
        except ValueError:
            return natural_id("job file", self._job, word)


def _refuse_keys(document: Mapping[str, Any]) -> None:
    # JSON's true equals 1 in Python, but is not format 1.
    if document.get(FORMAT_KEY) != FORMAT or isinstance(document.get(FORMAT_KEY), bool):
        found = short(document.get(FORMAT_KEY, "missing"))
        raise JobFileError(f"{FORMAT_KEY} is {found}; this fieldbook reads job files of format 1.")
    for key in document:
        if key not in (FORMAT_KEY, JOB_KEY, *TABLE_OF):
            raise JobFileError(f"{short(key)} is no part of a job file: remove it.")


def _objects(document: Mapping[str, Any]) -> Iterator[tuple[str, str, Mapping[str, Any]]]:
    """The path, table and JSON object of every row but the property's own."""
    for key, table in TABLE_OF.items():
        if key not in document:
            continue
        held = document[key]
        if not many(table):
            yield key, table, _object(held, key)
            continue
        if not isinstance(held, list):
            raise JobFileError(f"{key} must be a list, not {short(held)}.")
        for at, value in enumerate(held):
            yield f"{key}[{at}]", table, _object(value, f"{key}[{at}]")


def _row(path: str, table: str, held: Mapping[str, Any], ids: _Ids, system: System) -> FileRow:
    columns = columns_of(table)
    values: dict[str, Value] = {}
    for key, value in held.items():
        if key == "id":
            continue
        if key not in columns:
            raise JobFileError(f"{path}.{short(key)} is no part of a job file: remove it.")
        kept = _value(f"{path}.{key}", columns[key], value, ids, system)
        if kept not in (None, ""):
            values[key] = kept
    word = _id_word(held.get("id"), f"{path}.id")
    row_id = ids.job_id if table == JOB_KEY else ids.of(word) if word else ""
    return FileRow(path, table, row_id, values)


def _value(path: str, fact: Fact, value: object, ids: _Ids, system: System) -> Value:
    if fact.links_to and fact.links_to != "job":
        word = _id_word(value, path)
        return ids.of(word) if word else None
    if fact.kind == "amount" and isinstance(value, str) and _is_bare(value):
        raise JobFileError(f"{path} is text without a unit: write a number, or a unit after it.")
    try:
        return from_file(fact, value, system)
    except ValueRefusedError as error:
        raise JobFileError(f"{path}: {error}") from error


def _is_bare(text: str) -> bool:
    """Whether a text is a number without a unit."""
    try:
        float(text)
    except ValueError:
        return False
    return True


def _with_own_id(row: FileRow, ids: _Ids) -> FileRow:
    """The row with the id of a thing that exists once, else its id in the file, else a new one."""
    values = {**_KIND_IF_MISSING.get(row.table, {}), **row.values}
    row_id = natural_row_id(ids.job_id, row.table, values) or row.row_id or new_id()
    return replace(row, row_id=row_id, values=values)


def _object(held: object, path: str) -> dict[str, Any]:
    if not isinstance(held, dict):
        found = "missing" if held is None else f"{short(held)}, not an object"
        raise JobFileError(f"{path} is {found}: a job file needs one there.")
    return held


def _id_word(value: object, path: str) -> str:
    """An id as the file writes it; an empty text for none."""
    if value is None:
        return ""
    if isinstance(value, str) and 0 < len(value) <= LONGEST_ID and value.isprintable():
        return value
    raise JobFileError(f"{path} must be a word of at most {LONGEST_ID} characters.")
