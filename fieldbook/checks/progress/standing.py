"""Whether a signature still stands: its holds asked again, as of the day it was signed.

A signature counts as proven only when all of this is true of the record as it is now: somebody
signed it, at a time that is not in the future; every hold was met on that day, or is overridden by
a named person with a reason where the rules allow it; and no other laptop signed or withdrew the
same thing without having seen it. It does not matter how the row came into the book. What visits
changed after the handover does not count against it (`before_visits`).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from fieldbook.checks.progress.holds import (
    BACKFILL,
    SIGN_OFFS,
    Unmet,
    may_override,
    unmet,
    unmet_by,
)
from fieldbook.checks.progress.signature_rows import latest_rows, overrides_of, row_faults
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.sign_offs import WITHDRAWN, SignOff


@dataclass(frozen=True)
class Standing:
    """One signature that counts, and what speaks against it.

    `unmet` are the holds that the record does not meet as of the day it was signed, without those
    that are overridden; `overridden` are the overridden ones that are not met even now. `faults`
    say in words what is wrong with the row itself. `rivals` are rows of the same sign-off that
    nobody has settled.
    """

    sign_off: SignOff
    unmet: tuple[Unmet, ...] = ()
    overridden: tuple[Unmet, ...] = ()
    faults: tuple[str, ...] = ()
    rivals: tuple[SignOff, ...] = ()

    @property
    def proven(self) -> bool:
        """Whether nothing speaks against it; an override that is allowed does not."""
        return not (self.unmet or self.faults or self.rivals)


def kinds_signed(job: LoadedJob) -> list[tuple[str, str | None]]:
    """Every sign-off and stretch of which there is a row, in the order of the rows."""
    known = {BACKFILL, *SIGN_OFFS}
    return list(dict.fromkeys((r.kind, r.zone_id) for r in job.sign_offs if r.kind in known))


def standings(job: LoadedJob, now: datetime) -> list[Standing]:
    """Every signature that counts, whether or not it is proven."""
    found = (standing(job, kind, zone_id, now) for kind, zone_id in kinds_signed(job))
    return [one for one in found if one is not None]


def standing(job: LoadedJob, kind: str, zone_id: str | None, now: datetime) -> Standing | None:
    """The signature of one kind and stretch, as it stands at an instant; None where none counts."""
    newest = latest_rows(job, kind, zone_id)
    signed = [row for row in newest if row.state != WITHDRAWN]
    if not signed:
        return None
    row, rivals = signed[-1], tuple(one for one in newest if one is not signed[-1])
    left = unmet_by(job, row, now)
    allowed = _overridden(job, row, left)
    # What was skipped may be proven later than it was signed.
    by_now = {one.hold.number for one in unmet(job, kind, zone_id, now.replace(tzinfo=None))}
    return Standing(
        row,
        tuple(one for one in left if one not in allowed),
        tuple(one for one in allowed if one.hold.number in by_now),
        tuple(row_faults(row, now)),
        rivals,
    )


def proven(job: LoadedJob, kind: str, zone_id: str | None, now: datetime) -> bool:
    """Whether a signature counts and nothing speaks against it."""
    found = standing(job, kind, zone_id, now)
    return found is not None and found.proven


def _overridden(job: LoadedJob, row: SignOff, left: Sequence[Unmet]) -> tuple[Unmet, ...]:
    """The holds not met that a readable name and reason let through, where the rules allow it."""
    numbers = overrides_of(row)
    return tuple(one for one in left if one.hold.number in numbers and may_override(job, one.hold))
