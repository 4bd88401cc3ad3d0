"""Pipe rows of a job file must form lines: numbered once each, and fed from their start."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from fieldbook.jobfile.layout import JobFileError
from fieldbook.records.values import Value

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
