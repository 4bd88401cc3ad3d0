"""Tick a flush, sign a stretch for backfill or a whole job for what comes next: holds first."""

from __future__ import annotations

import json
from dataclasses import dataclass, replace
from datetime import datetime

from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.common.naming import listed
from fieldbook.checks.progress.digests import covered, whole_digest
from fieldbook.checks.progress.holds import BACKFILL, SIGN_OFFS, unmet
from fieldbook.records.base import PLACE_WORDS, new_id, now
from fieldbook.records.ids import backfill_id, flush_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.flush_backfill import FLUSH_STEPS, Backfill
from fieldbook.records.tables.sign_offs import WITHDRAWN
from fieldbook.records.values import Value
from fieldbook.store.changes import Add, Change, Put


def flushed(job: LoadedJob, zone_id: str | None) -> bool:
    """Whether every step of a zone's flush, or the mainline's (None), is ticked."""
    flush = job.flush_of(zone_id)
    return flush is not None and all(getattr(flush, step) is True for step in FLUSH_STEPS)


def tick_flush(open_job: OpenJob, zone_id: str | None) -> bool:
    """Tick every step of a flush at once, or clear them when all are ticked; None: the mainline's.

    Returns whether it is now flushed.
    """
    done = flushed(open_job.job, zone_id)
    value = None if done else True
    seed = {"zone_id": zone_id}
    row_id = flush_id(zone_id or open_job.job_id)
    changes: list[Change] = [Put("flush", row_id, step, value, seed) for step in FLUSH_STEPS]
    zone = open_job.job.zone(zone_id)
    open_job.keep(changes, f"flush of {f'zone {zone.number}' if zone else 'the mainline'}")
    return not done


def sign_backfill(open_job: OpenJob, zone_id: str | None, override: Override | None = None) -> bool:
    """Sign a stretch as fit to bury, or take the signature back; returns whether it is signed.

    Raises RefusedError, naming what is missing and where, while a hold is not met and no override
    with a name and a reason is given.
    """
    row_id, seed = backfill_id(open_job.job_id, zone_id), {"zone_id": zone_id}
    stretch = open_job.job.backfill_of(zone_id)
    taking_back = stretch is not None and bool(stretch.signed_by)
    by, at = ("", "") if taking_back else (open_job.by, now())
    also: list[Change] = [
        Put("backfill", row_id, "signed_by", by, seed),
        Put("backfill", row_id, "signed_at", at, seed),
    ]
    if taking_back:
        _withdraw(open_job, BACKFILL, zone_id, also, "backfill signature taken back")
    else:
        _sign(open_job, BACKFILL, zone_id, override, also)
    return not taking_back


@dataclass(frozen=True)
class Override:
    """Who lets something go on though a hold is not met, and why."""

    name: str
    reason: str


def sign_off(open_job: OpenJob, kind: str, override: Override | None = None) -> bool:
    """Sign one of `SIGN_OFFS`, or take it back; returns whether it is signed. Raises as above."""
    if open_job.job.signed(kind) is not None:
        _withdraw(open_job, kind, None, [], "signature taken back")
        return False
    _sign(open_job, kind, None, override, [])
    return True


def why_not(job: LoadedJob, kind: str, zone_id: str | None, at: datetime | None = None) -> str:
    """The sentence that refuses a sign-off; nothing when it may be signed, now or `at` a time."""
    held = unmet(job, kind, zone_id, at or datetime.now())
    if not held:
        return ""
    first = held[0]
    more = f" {len(held) - 1} more after it." if held[1:] else ""
    return (
        f"Hold {first.hold.number}, {first.hold.title[:1].lower()}{first.hold.title[1:]}: missing "
        f"{listed([one.words for one in first.missing])} (enter it at the "
        f"{PLACE_WORDS[first.missing[0].at.place]}).{more}"
    )


def _sign(
    open_job: OpenJob, kind: str, zone_id: str | None, override: Override | None, also: list[Change]
) -> None:
    held = unmet(open_job.job, kind, zone_id, datetime.now())
    if held and override is None:
        raise RefusedError(
            why_not(open_job.job, kind, zone_id) + " Ctrl+O overrides it, with a name."
        )
    if override is not None and not (override.name.strip() and override.reason.strip()):
        raise RefusedError("An override needs a name and a reason.")
    parts = covered(_signed_over(open_job.job, zone_id, also), kind, zone_id)
    values: dict[str, Value] = {
        "kind": kind,
        "zone_id": zone_id,
        "state": "signed",
        "signed_by": open_job.by,
        "signed_at": now(),
        "covered": json.dumps(parts, sort_keys=True),
        "supersedes": _last(open_job.job, kind, zone_id),
    }
    if held and override is not None:
        values["overridden"] = "; ".join(
            f"hold {one.hold.number}, missing {one.words}" for one in held
        )
        values["override_by"] = override.name.strip()
        values["override_reason"] = override.reason.strip()
    values["digest"] = whole_digest(parts, values)
    what = "backfill signed" if kind == BACKFILL else f"signed: {SIGN_OFFS[kind].lower()}"
    open_job.keep([*also, Add("sign_off", new_id(), values)], what)


def _withdraw(
    open_job: OpenJob, kind: str, zone_id: str | None, also: list[Change], what: str
) -> None:
    """A signature is never deleted: a later row says that it is taken back."""
    values: dict[str, Value] = {
        "kind": kind,
        "zone_id": zone_id,
        "state": WITHDRAWN,
        "signed_by": open_job.by,
        "signed_at": now(),
        "supersedes": _last(open_job.job, kind, zone_id),
    }
    open_job.keep([*also, Add("sign_off", new_id(), values)], what)


def _last(job: LoadedJob, kind: str, zone_id: str | None) -> str | None:
    found = [one for one in job.sign_offs if (one.kind, one.zone_id) == (kind, zone_id)]
    after = {one.supersedes for one in found}
    newest = [one for one in found if one.id not in after]
    return max(newest, key=lambda one: (one.signed_at, one.id)).id if newest else None


def _signed_over(job: LoadedJob, zone_id: str | None, also: list[Change]) -> LoadedJob:
    """The job as it is once the signature's own columns are kept: they are not covered."""
    if also and job.backfill_of(zone_id) is None:
        made = Backfill(id=backfill_id(job.job.id, zone_id), job_id=job.job.id, zone_id=zone_id)
        return replace(job, backfills=(*job.backfills, made))
    return job
