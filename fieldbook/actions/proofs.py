"""Tick a zone's flush, and sign a stretch for backfill."""

from __future__ import annotations

from fieldbook.actions.work import Work
from fieldbook.records.base import now
from fieldbook.records.loaded import LoadedJob, backfill_id, flush_id
from fieldbook.records.proofs import FLUSH_STEPS
from fieldbook.store.change import Change, Put


def flushed(job: LoadedJob, zone_id: str) -> bool:
    """Whether every step of a zone's flush is ticked."""
    flush = job.flush_of(zone_id)
    return flush is not None and all(getattr(flush, step) is True for step in FLUSH_STEPS)


def tick_flush(work: Work, zone_id: str) -> bool:
    """Tick every step of a zone's flush at once, or clear them when all are ticked.

    Returns whether the zone is now flushed.
    """
    done = flushed(work.job, zone_id)
    value = None if done else True
    seed = {"zone_id": zone_id}
    changes: list[Change] = [
        Put("flush", flush_id(zone_id), step, value, seed) for step in FLUSH_STEPS
    ]
    zone = work.job.zone(zone_id)
    work.keep(changes, f"flush of zone {zone.number if zone else '?'}")
    return not done


def sign_backfill(work: Work, zone_id: str | None) -> bool:
    """Sign a stretch as fit to bury, or take one's signature back; returns whether it is signed.

    What is missing does not refuse the signature here: it shows as a stop on the flags.
    """
    signed = work.job.backfill_of(zone_id)
    row_id, seed = backfill_id(work.job_id, zone_id), {"zone_id": zone_id}
    taking_back = signed is not None and bool(signed.signed_by)
    by, at = ("", "") if taking_back else (work.by, now())
    changes: list[Change] = [
        Put("backfill", row_id, "signed_by", by, seed),
        Put("backfill", row_id, "signed_at", at, seed),
    ]
    work.keep(changes, "backfill signature taken back" if taking_back else "backfill signed")
    return not taking_back
