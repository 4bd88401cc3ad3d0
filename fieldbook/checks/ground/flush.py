"""The flush of each line, mainline first: what says that it isn't clean, closed and fitted yet.

American Fork, Utah, 15.01.840 D: lines are flushed before heads are fitted. Elk River, Minnesota:
flush with nozzles removed, then adjust. No code found gives minutes or a velocity: "until clear".
"""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.naming import stretch_name
from fieldbook.checks.finding import CellRef, Finding, Missing
from fieldbook.checks.looked import Looked, stretch_rows
from fieldbook.records.ids import flush_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.flush_backfill import FLUSH_STEPS, MAINLINE_STEPS, Flush

STEP_WORDS = {
    "let_on_by": "how water was let on",
    "came_out_at": "where it came out",
    "ran_clear": "that it ran clear",
    "bleed_closed": "that it was closed again",
    "tops_back": "that nozzles or heads are fitted",
}
_SOURCE = "American Fork, Utah, 15.01.840 D; common practice."


def flush_steps(zone_id: str | None) -> tuple[str, ...]:
    """The columns that must be true of a flush: the mainline (None) has no heads to fit."""
    return MAINLINE_STEPS if zone_id is None else FLUSH_STEPS


def missing_steps(flush: Flush | None, zone_id: str | None) -> tuple[str, ...]:
    """The steps of a stretch's flush that are not ticked as done, in order."""
    steps = flush_steps(zone_id)
    return tuple(step for step in steps if flush is None or getattr(flush, step) is not True)


def check_flush(job: LoadedJob) -> Iterator[Finding | Looked]:
    """Each line that is there to be flushed: the mainline, then every zone."""
    stretches = [*([None] if job.runs_of(None) else []), *(zone.id for zone in job.zones)]
    for zone_id in stretches:
        flush = job.flush_of(zone_id)
        signed = job.backfill_of(zone_id)
        yield Looked(
            f"flush of {stretch_name(job, zone_id)}",
            stretch_rows(job, zone_id),
            tuple(_lacks(job, flush, zone_id)),
            "survey" if signed is not None and signed.signed_by else None,
        )
        if flush is not None:
            yield from _clear(job, flush)
            yield from _left_open(job, flush)


def _lacks(job: LoadedJob, flush: Flush | None, zone_id: str | None) -> Iterator[Missing]:
    """What is not entered of a flush."""
    row_id = flush.id if flush is not None else flush_id(zone_id or job.job.id)
    where = stretch_name(job, zone_id)
    if flush is None:
        yield Missing(f"the flush of {where}", CellRef("flush", row_id, "flush"))
        return
    for step in ("let_on_by", "came_out_at", *flush_steps(zone_id)):
        if getattr(flush, step) is None:
            words = f"{STEP_WORDS[step]} (flush of {where})"
            yield Missing(words, CellRef("flush", row_id, step))


def _clear(job: LoadedJob, flush: Flush) -> Iterator[Finding]:
    """Ran clear: entered as not clear, or closed up without an entry on it."""
    closed_up = flush.bleed_closed is True or flush.tops_back is True
    where = stretch_name(job, flush.zone_id)
    at = CellRef("flush", flush.id, "ran_clear")
    if flush.ran_clear is False:
        yield Finding(
            "flush not clear",
            "stop",
            f"The flush of {where} did not run clear.",
            f"Flush {where} again until the water is clear, then tick Ran clear at the ground; "
            "don't bury it before.",
            at,
            source=_SOURCE,
        )
    elif flush.ran_clear is None and closed_up:
        yield Finding(
            "flush not clear",
            "fix",
            f"The flush of {where} was closed up, but nobody entered that it ran clear.",
            f"Tick Ran clear for {where} at the ground if it did, else flush it again.",
            at,
            source=_SOURCE,
        )


def _left_open(job: LoadedJob, flush: Flush) -> Iterator[Finding]:
    """A line that was entered as not closed, or whose nozzles are not fitted."""
    where = stretch_name(job, flush.zone_id)
    if flush.bleed_closed is False:
        yield Finding(
            "line not closed",
            "fix",
            f"The line of {where} is not closed after its flush.",
            f"Close it, then tick Closed for {where} at the ground.",
            CellRef("flush", flush.id, "bleed_closed"),
        )
    if flush.zone_id is not None and flush.tops_back is False:
        yield Finding(
            "nozzles not fitted",
            "fix",
            f"The nozzles or heads of {where} are not fitted after its flush.",
            f"Fit them, then tick Fitted for {where} at the ground.",
            CellRef("flush", flush.id, "tops_back"),
        )
