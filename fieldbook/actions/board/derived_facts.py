"""What the office's hub shows of a property besides its rows: its board row, flags and dates.

Worked out from the record alone: attached files are beside a book, and the hub has no book.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from datetime import date, datetime, timedelta

from fieldbook.actions.board.day_list import unsigned, waits_of
from fieldbook.actions.board.make_row import make_row, to_store
from fieldbook.checks.common.naming import stretch_name
from fieldbook.checks.finding import CellRef
from fieldbook.checks.progress.deadlines import dates_of
from fieldbook.checks.progress.holds import BACKFILL, unmet
from fieldbook.checks.registry import instant, verdicts
from fieldbook.checks.verdicts import Verdicts
from fieldbook.records.days import day_of
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.store.office.derived.derived_rows import Derived

_Facts = Iterator[tuple[str, Mapping[str, object]]]
_DAY = timedelta(days=1)


def derived_facts(job: LoadedJob, now: date | None = None) -> Derived:
    """What is said of a job at an instant or on a day, this computer's clock unless given.

    Nothing is asked of a property that is off the board.
    """
    at = instant(now)
    today = at.date()
    answers = verdicts(job, at)
    stored = to_store(make_row(job, today, answers), job, today)
    until = day_of(stored.valid_until) or today
    waits = list(_waits(job, answers, at))
    # What waits for a day waits no longer once that day has come.
    until = min([until, *(max(on - _DAY, today) for on, _ in waits if on is not None)])
    facts = [
        *_flags(answers),
        *(("waiting", cells) for _, cells in waits),
        *_dates(job, today),
        *_holds(job, at),
    ]
    line = {
        "sort_key": stored.sort_key,
        "search_text": stored.search_text,
        "valid_until": until.isoformat(),
        "content": json.loads(stored.content),
        "places": stored.places,
        "runs_out": stored.runs_out,
        "off_board": bool(job.job.off_board),
        "closed": stored.closed,
    }
    return Derived(line, [] if job.job.off_board else facts, today, until)


def _flags(answers: Verdicts) -> _Facts:
    """The flags, then what could not be checked, with the first cell that it lacks."""
    for flag in answers.flags:
        # A flag may bear on several things that a check looked at, a note on none of them.
        of_check = next((one for one in answers.answers if flag in one.flags), None)
        yield (
            "flag",
            {
                "severity": flag.severity,
                "check_name": of_check.check if of_check is not None else "",
                "code": flag.code,
                "thing": of_check.thing if of_check is not None else "",
                "sentence": flag.sentence,
                "mend": flag.mend,
                "place": flag.place,
                "source": flag.source,
                **_cell(flag.at),
            },
        )
    for answer in answers.not_checked:
        first = answer.missing[0]
        yield (
            "flag",
            {
                "severity": "not checked",
                "check_name": answer.check,
                "thing": answer.thing,
                "sentence": f"Not checked: {', '.join(lack.words for lack in answer.missing)}.",
                "place": first.at.place,
                **_cell(first.at),
            },
        )


def _cell(at: CellRef) -> dict[str, object]:
    return {"table": at.table, "row_id": at.row_id, "column": at.column}


def _waits(
    job: LoadedJob, answers: Verdicts, at: datetime
) -> Iterator[tuple[date | None, Mapping[str, object]]]:
    for due in waits_of(job, answers, at):
        on = due.on.isoformat() if due.on is not None else None
        yield due.on, {"what": due.what, "on": on, "waits_for": due.waits}


def _dates(job: LoadedJob, today: date) -> _Facts:
    for found in dates_of(job, today):
        yield "due", {"kind": found.kind, "thing": found.thing, "on": found.on.isoformat()}


def _holds(job: LoadedJob, at: datetime) -> _Facts:
    """What each hold point misses of the sign-offs that are still to come."""
    for kind, zone_id in unsigned(job):
        for held in unmet(job, kind, zone_id, at.replace(tzinfo=None)):
            for lack in held.missing:
                yield (
                    "hold_point",
                    {
                        "title": held.hold.title,
                        "sign_off": kind,
                        "stretch": stretch_name(job, zone_id) if kind == BACKFILL else None,
                        "missing": lack.words,
                        **_cell(lack.at),
                    },
                )
