"""The next free number of a zone, letter of a valve box, name of a cable."""

from __future__ import annotations

from collections.abc import Sequence

from fieldbook.checks.desk.duplicates import NUMBERED
from fieldbook.records.base import facts_of
from fieldbook.records.loaded_job import TABLES, LoadedJob

_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def free_names(job: LoadedJob, table: str, count: int = 1) -> list[int | str]:
    """So many numbers or names that no row has, after the highest in use."""
    column = NUMBERED[table]
    used = [getattr(row, column) for row in job.tables()[table]]
    known = {str(one).strip() for one in used if one not in (None, "")}
    if table == "zone":
        highest = facts_of(TABLES[table])[column].high
        after = max((int(one) for one in used if one is not None), default=0)
        return [*_numbers(known, after, count, int(highest))]
    places = [_place(table, one) for one in known]
    # A box without a letter of its own takes up one all the same.
    after = max(*places, len(known) + sum(one in (None, "") for one in used), 0)
    names: list[int | str] = []
    while len(names) < count:
        after += 1
        name = _name(table, after)
        if name not in known:
            names.append(name)
    return names


def _numbers(known: set[str], after: int, count: int, highest: int) -> Sequence[int]:
    """Numbers after the highest; the unused ones before it where there are no more."""
    later = range(after + 1, highest + 1)
    free = [*later[:count], *(one for one in range(1, after) if str(one) not in known)]
    return free[:count]


def _name(table: str, place: int) -> str:
    """The name of the first, second ... row: A, B ... then 27 for boxes, 1, 2 ... for cables."""
    return _LETTERS[place - 1] if table == "valve_box" and place <= len(_LETTERS) else str(place)


def _place(table: str, name: str) -> int:
    """Where a name stands in that row; 0 for one that does not."""
    if table == "valve_box" and len(name) == 1 and name.upper() in _LETTERS:
        return _LETTERS.index(name.upper()) + 1
    return int(name) if name.isascii() and name.isdigit() and len(name) < 4 else 0
