"""Until when what was said of a job stays true though nothing is entered: dates make new flags."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from fieldbook.checks.desk.digging import SOON_DAYS
from fieldbook.checks.street.backflow_tests import SOON_DAYS as TEST_SOON_DAYS
from fieldbook.checks.street.backflow_tests import retest_on
from fieldbook.records.days import day_of
from fieldbook.records.loaded_job import LoadedJob

NEVER = date(9999, 1, 1)


def true_until(job: LoadedJob, today: date) -> date:
    """The last day on which the flags of today hold, if nothing is entered."""
    after = [day for day in _turns(job) if day > today]
    return min(after, default=NEVER) - timedelta(days=1)


def _turns(job: LoadedJob) -> Iterator[date]:
    """The days on which a flag comes or changes: as something is soon to run out, and has."""
    ends = [day_of(one.expires_on) for one in job.permits]
    ends += [day_of(one.expires_on) for one in job.crew]
    for end in ends:
        if end is not None:
            yield end - timedelta(days=SOON_DAYS)
            yield end + timedelta(days=1)
    for assembly in job.backflow_assemblies:
        due = retest_on(job, assembly)
        if due is not None:
            yield due - timedelta(days=TEST_SOON_DAYS)
            yield due + timedelta(days=1)
