"""Read a job file into rows fit for the book, or refuse it with one sentence."""

from __future__ import annotations

import uuid
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from fieldbook.jobfile.parse import JobFileError, parse_json, short
from fieldbook.jobfile.write import (
    FORMAT,
    FORMAT_KEY,
    JOB_KEY,
    KEYS,
    TABLE_OF,
    columns_of,
    many,
)
from fieldbook.records.base import natural_id, new_id
from fieldbook.records.fact import Fact
from fieldbook.records.ids import natural_row_id
from fieldbook.records.values import Value, ValueRefusedError, from_file
from fieldbook.units import System

_ID_LONGEST = 80
_USUAL: Mapping[str, Mapping[str, Value]] = {
    "valve": {"kind": "zone"},
    "terminal": {"role": "zone"},
}
"""What a row is that doesn't say."""


@dataclass(frozen=True)
class FileRow:
    """One row of a job file: where it stood, its table, its id in the book, its columns."""

    path: str
    table: str
    row_id: str
    values: Mapping[str, Value]


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
    ids = _Ids(_word(job.get("id"), f"{JOB_KEY}.id"), copy=copy)
    rows = [_row(JOB_KEY, JOB_KEY, job, ids, system)]
    if not str(rows[0].values.get("address") or "").strip():
        raise JobFileError("job.address is missing: a property is named by its address.")
    for path, table, value in _listed(document):
        rows.append(_row(path, table, value, ids, system))
    rows = _with_natural_ids(resolve_links(rows), ids)
    _refuse_doubles(rows)
    refuse_bad_lines([(row.path, row.values) for row in rows if row.table == "pipe_run"])
    return JobFile(ids.job_id, tuple(rows))


class _Ids:
    """From the ids of a file to ids of the book."""

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
    if document.get(FORMAT_KEY) != FORMAT or isinstance(document.get(FORMAT_KEY), bool):
        said = short(document.get(FORMAT_KEY, "missing"))
        raise JobFileError(f"{FORMAT_KEY} is {said}; this fieldbook reads job files of format 1.")
    for key in document:
        if key not in KEYS:
            raise JobFileError(f"{short(key)} is no part of a job file: remove it.")


def _listed(document: Mapping[str, Any]) -> Iterator[tuple[str, str, Mapping[str, Any]]]:
    """Path, table and object of every row besides the property's own."""
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
    word = _word(held.get("id"), f"{path}.id")
    row_id = ids.job_id if table == JOB_KEY else ids.of(word) if word else ""
    return FileRow(path, table, row_id, values)


def _value(path: str, fact: Fact, value: object, ids: _Ids, system: System) -> Value:
    if fact.links_to and fact.links_to != "job":
        word = _word(value, path)
        return ids.of(word) if word else None
    if fact.kind == "amount" and isinstance(value, str) and _is_bare(value):
        raise JobFileError(f"{path} is text without a unit: write a number, or a unit after it.")
    try:
        return from_file(fact, value, system)
    except ValueRefusedError as why:
        raise JobFileError(f"{path}: {why}") from why


def _is_bare(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True


def _with_natural_ids(rows: list[FileRow], ids: _Ids) -> list[FileRow]:
    """Give rows that exist once their id, and free rows without one a new one."""
    return [rows[0], *(_identified(row, ids) for row in rows[1:])]


def _identified(row: FileRow, ids: _Ids) -> FileRow:
    values = {**_USUAL.get(row.table, {}), **row.values}
    wanted = natural_row_id(ids.job_id, row.table, values)
    return replace(row, row_id=wanted or row.row_id or new_id(), values=values)


def _refuse_doubles(rows: list[FileRow]) -> None:
    seen: dict[str, str] = {}
    for row in rows:
        if row.row_id in seen:
            raise JobFileError(
                f"{row.path} is the same thing as {seen[row.row_id]} (one id, or one of its "
                "kind): remove one of them."
            )
        seen[row.row_id] = row.path


def _object(held: object, path: str) -> dict[str, Any]:
    if not isinstance(held, dict):
        said = "missing" if held is None else f"{short(held)}, not an object"
        raise JobFileError(f"{path} is {said}: a job file needs one there.")
    return held


def _word(value: object, path: str) -> str:
    """An id as it stands in the file; nothing for none."""
    if value is None:
        return ""
    if isinstance(value, str) and 0 < len(value) <= _ID_LONGEST and value.isprintable():
        return value
    raise JobFileError(f"{path} must be a word of at most {_ID_LONGEST} characters.")


_Numbered = tuple[str, int, int | None]


def refuse_bad_lines(runs: Sequence[tuple[str, Mapping[str, Value]]]) -> None:
    """Raise JobFileError, naming the row, for a number used twice, a lost feeder or a cycle."""
    lines: dict[Value, list[_Numbered]] = {}
    for path, values in runs:
        number, after = values.get("number"), values.get("after")
        if not isinstance(number, int):
            raise JobFileError(f"{path}.number is missing: number the runs of a line from 1.")
        one = (path, number, after if isinstance(after, int) else None)
        lines.setdefault(values.get("zone_id"), []).append(one)
    for line in lines.values():
        _refuse_line(line)


def _refuse_line(line: list[_Numbered]) -> None:
    feeder: dict[int, int | None] = {}
    for path, number, after in line:
        if number in feeder:
            raise JobFileError(f"{path}.number {number} stands twice in one line.")
        feeder[number] = after
    for path, _number, after in line:
        if after is not None and after not in feeder:
            raise JobFileError(f"{path}.after {after} names no run of this line.")
    done: set[int] = set()
    for path, number, _after in line:
        _walk_up(path, number, feeder, done)


def _walk_up(path: str, number: int, feeder: Mapping[int, int | None], done: set[int]) -> None:
    """Follow what feeds a run to the start of its line."""
    passed: set[int] = set()
    at: int | None = number
    while at is not None and at not in done:
        if at in passed:
            raise JobFileError(f"{path}.after goes round in a circle at run {at}.")
        passed.add(at)
        at = feeder[at]
    done |= passed


_NEEDED = {
    ("head", "run_id"),
    ("conductor", "cable_id"),
}
_WORDS = {"valve": ("kind", ("zone", "master")), "terminal": ("role", ("zone", "common", "master"))}


def resolve_links(rows: list[FileRow]) -> list[FileRow]:
    """The rows unchanged, or JobFileError naming the first link that leads nowhere."""
    ids: dict[str, set[str]] = {}
    for row in rows:
        ids.setdefault(row.table, set()).add(row.row_id)
    for row in rows:
        if row.table != JOB_KEY:
            _refuse_loose(row, ids)
    return rows


def _refuse_loose(row: FileRow, ids: dict[str, set[str]]) -> None:
    for column, fact in columns_of(row.table).items():
        if not fact.links_to:
            continue
        target = row.values.get(column)
        if target and target not in ids.get(fact.links_to, set()):
            raise JobFileError(
                f"{row.path}.{column} names no {fact.links_to.replace('_', ' ')} of this file."
            )
        if not target and (row.table, column) in _NEEDED:
            raise JobFileError(f"{row.path}.{column} is missing: name the row it belongs to.")
    _refuse_roles(row)


def _refuse_roles(row: FileRow) -> None:
    """Valves and terminals say what they are, and name what that needs."""
    if row.table not in _WORDS:
        return
    column, words = _WORDS[row.table]
    said = row.values.get(column) or "zone"
    if said not in words:
        raise JobFileError(f"{row.path}.{column} takes one of {', '.join(words)}.")
    needed = {
        ("valve", "zone"): "zone_id",
        ("terminal", "zone"): "number",
        ("terminal", "common"): "cable_id",
    }.get((row.table, str(said)))
    if needed and not row.values.get(needed):
        raise JobFileError(f"{row.path}.{needed} is missing: it tells which {row.table} this is.")
