"""The lines of the properties that this laptop does not hold, as the office's table gives them.

Where the office has no board row of a property yet, the line is made of the few entries of the
property's own row: address and customer.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from fieldbook.store.holding.lines import (
    FarLine,
    Passed,
    line_of,
    plain_places,
    plain_row,
    plain_runs_out,
    whole_line,
)
from fieldbook.store.office.connection import checked_count
from fieldbook.store.office.office_session import Session
from fieldbook.store.office.office_tables import ENTRY_COLUMNS
from fieldbook.store.office.pulled_rows import entry_of

_MOST_ASKED = 1_000
# Of each property its newest entry: so a line can say whether it is older. One row a property, of
# which there are far fewer than entries.
_FRESH = "SELECT job_id, newest FROM fieldbook.job_state WHERE newest > %s ORDER BY job_id"
# What an older hub can be asked.
_CHANGED = """
SELECT job_id, max(n) FROM fieldbook.entry WHERE n > %s AND n <= %s GROUP BY job_id ORDER BY job_id
"""
_MADE_SINCE = "SELECT job_id, made_from FROM fieldbook.board_line WHERE made_from > %s"
_LINES = """
SELECT l.job_id, l.line, l.made_from, e.wall, e.clock
FROM fieldbook.board_line l LEFT JOIN fieldbook.entry e ON e.n = l.made_from
WHERE l.job_id = ANY (%s)
"""
_OF_THE_JOB = f"""
SELECT n, {ENTRY_COLUMNS} FROM fieldbook.entry e
WHERE row_id = ANY (%s) AND "table" = 'job' ORDER BY n
"""
_LAST = "SELECT n, wall FROM fieldbook.entry WHERE n = ANY (%s)"


def pull_lines(session: Session, after: int, upto: int) -> None:
    """Bring the lines up to date of properties with entries in a range of numbers.

    A line that was older than its property is asked for again each time.
    """
    if session.takes_derived:
        rows = session.connection.execute(_FRESH, (after,)).fetchall()
    else:
        rows = session.connection.execute(_CHANGED, (after, upto)).fetchall()
    newest = {str(row[0]): checked_count(row[1]) for row in rows}
    held = set(session.book.keeping.held_jobs())
    wanted = {**(_made_since(session) if session.takes_derived else {}), **newest}
    asked = [job for job in wanted if job not in held]
    for start in range(0, len(asked), _MOST_ASKED):
        jobs = {job: wanted[job] for job in asked[start : start + _MOST_ASKED]}
        lines = _lines(session, jobs) if session.takes_derived else _from_entries(session, jobs)
        session.book.keeping.save_lines([*lines])
        session.report()


def _made_since(session: Session) -> dict[str, int]:
    """The properties whose line here is older than the property, if the office's is newer now."""
    known = session.book.keeping.numbers_of_lines()
    behind = {job: made for job, (last, made) in known.items() if made < last}
    if not behind:
        return {}
    rows = session.connection.execute(_MADE_SINCE, (min(behind.values()),)).fetchall()
    made = {str(job_id): checked_count(number) for job_id, number in rows}
    return {job: known[job][0] for job, had in behind.items() if made.get(job, 0) > had}


def _lines(session: Session, newest: Mapping[str, int]) -> Iterator[FarLine]:
    without = dict(newest)
    found = session.connection.execute(_LINES, (list(newest),)).fetchall()
    for job_id, line, made_from, wall, clock in found:
        if job_id in without and isinstance(line, Mapping):
            made = checked_count(made_from)
            yield _from_row(job_id, line, made, without.pop(job_id), (wall, clock))
    yield from _from_entries(session, without)


def _from_row(
    job_id: str,
    line: Mapping[str, Any],
    made_from: int,
    newest: int,
    entry: tuple[object, object],
) -> FarLine:
    content, (wall, clock) = line.get("content"), entry
    return whole_line(
        FarLine(
            job_id,
            plain_row(content if isinstance(content, Mapping) else {}),
            str(wall or "")[:10],
            f"entry {made_from} of the office",
            plain_places(line.get("places")),
            plain_runs_out(line.get("runs_out")),
            line.get("off_board") is True,
            made_number=made_from,
            newest=max(newest, made_from),
            closed=line.get("closed") is True,
        ),
        clock if isinstance(clock, int) else 0,
    )


def _from_entries(session: Session, newest: Mapping[str, int]) -> Iterator[FarLine]:
    """The lines of properties without a board row, which say address and customer alone."""
    if not newest:
        return
    passed: dict[str, Passed] = {}
    for row in session.connection.execute(_OF_THE_JOB.encode(), (list(newest),)).fetchall():
        entry = entry_of(row)
        if entry.job_id in newest:
            passed.setdefault(entry.job_id, Passed(entry.job_id)).add(entry)
    days = _days(session, list(newest.values()))
    for job_id, seen in passed.items():
        last = newest[job_id]
        seen.changed = days.get(last, seen.changed)
        line = line_of(seen, f"entry {last} of the office", None)
        yield FarLine(**{**vars(line), "newest": last})


def _days(session: Session, numbers: Sequence[int]) -> dict[int, str]:
    rows = session.connection.execute(_LAST, (list(numbers),)).fetchall()
    return {checked_count(row[0]): str(row[1])[:10] for row in rows}
