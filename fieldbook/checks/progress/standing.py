"""Whether a signature still stands: its holds asked again, as of the day it was signed.

A signature counts as proven only when all of this is true of the record as it is now: somebody
signed it, at a time that is not in the future; every hold was met on that day, or is overridden by
a named person with a reason where the rules allow it; and no other laptop signed or withdrew the
same thing without having seen it. It does not matter how the row came into the book.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from fieldbook.checks.common.job_rules import required
from fieldbook.checks.progress.holds import BACKFILL, SIGN_OFFS, Hold, Unmet, unmet
from fieldbook.checks.progress.signature_rows import latest_rows, readable_words, row_faults
from fieldbook.records.days import time_of
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.sign_offs import WITHDRAWN, SignOff

_OVERRIDDEN = re.compile(r"hold (\d+)")


@dataclass(frozen=True)
class Standing:
    """One signature that counts, and what speaks against it.

    `unmet` are the holds that the record does not meet now, without those that are overridden;
    `overridden` are the overridden ones that are still not met. `faults` say in words what is wrong
    with the row itself. `rivals` are rows of the same sign-off that nobody has settled.
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
    # Holds are asked with the wall clock of the laptop that signed: days and cure times are local.
    at = time_of(row.signed_at) or now.replace(tzinfo=None)
    left = unmet(job, kind, zone_id, at)
    allowed = _overridden(job, row, left)
    return Standing(
        row,
        tuple(one for one in left if one not in allowed),
        allowed,
        tuple(row_faults(row, now)),
        rivals,
    )


def proven(job: LoadedJob, kind: str, zone_id: str | None, now: datetime) -> bool:
    """Whether a signature counts and nothing speaks against it."""
    found = standing(job, kind, zone_id, now)
    return found is not None and found.proven


def may_override(job: LoadedJob, hold: Hold) -> bool:
    """Whether the local rules let anybody override a hold."""
    return not hold.override_rule or required(job, hold.override_rule)


def _overridden(job: LoadedJob, row: SignOff, left: Sequence[Unmet]) -> tuple[Unmet, ...]:
    """The holds not met that a readable name and reason let through, where the rules allow it."""
    if not (readable_words(row.override_by or "") and readable_words(row.override_reason or "")):
        return ()
    numbers = {int(number) for number in _OVERRIDDEN.findall(row.overridden or "")}
    return tuple(one for one in left if one.hold.number in numbers and may_override(job, one.hold))
