"""The flush of each zone: entries that say it is not yet clean, closed and put back."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from fieldbook.checks.common.naming import zone_name, zone_word
from fieldbook.checks.finding import CellRef, Finding
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.flush_backfill import FLUSH_STEPS, Flush
from fieldbook.records.tables.zones import Zone

STEP_WORDS: Mapping[str, str] = {
    "main_valve_on": "main valve on",
    "tops_off": "tops off",
    "bleed_open": "bleed screw open",
    "ran_clear": "ran clear",
    "bleed_closed": "bleed screw closed",
    "tops_back": "tops back",
}


def missing_steps(flush: Flush | None) -> tuple[str, ...]:
    """The columns of the flush steps that are not ticked as done, in the order of the work."""
    return tuple(step for step in FLUSH_STEPS if flush is None or getattr(flush, step) is not True)


def check_flush(job: LoadedJob) -> Iterator[Finding]:
    """Flags on every zone whose flush was begun; a zone that is not flushed yet has none."""
    for zone in job.zones:
        flush = job.flush_of(zone.id)
        if flush is not None:
            yield from _clear(zone, flush)
            yield from _bleed_screw(zone, flush)
            yield from _tops(zone, flush)


def _clear(zone: Zone, flush: Flush) -> Iterator[Finding]:
    """A flush that did not run clear, or was closed up though nobody entered that it did."""
    closed_up = flush.bleed_closed is True or flush.tops_back is True
    if flush.ran_clear is False:
        yield Finding(
            "flush not clear",
            "stop",
            f"The flush of {zone_name(zone)} did not run clear.",
            f"Flush {zone_word(zone)} again until every head runs clear, then tick Ran clear at "
            "the ground; do not bury it before.",
            CellRef("flush", flush.id, "ran_clear"),
        )
    elif flush.ran_clear is None and closed_up:
        yield Finding(
            "flush not clear",
            "fix",
            f"The flush of {zone_name(zone)} was closed up, but nobody entered that it ran clear.",
            f"Tick Ran clear for {zone_word(zone)} at the ground if it did, else flush it again.",
            CellRef("flush", flush.id, "ran_clear"),
        )


def _bleed_screw(zone: Zone, flush: Flush) -> Iterator[Finding]:
    """A bleed screw that is open, or not entered as closed though the zone ran clear."""
    ran = flush.bleed_open is True and flush.ran_clear is True
    if flush.bleed_closed is False or (ran and flush.bleed_closed is not True):
        yield Finding(
            "bleed screw open",
            "fix",
            f"The bleed screw of the valve of {zone_name(zone)} is not closed.",
            f"Close it hand-tight, no tool, and tick Closed for {zone_word(zone)} at the ground.",
            CellRef("flush", flush.id, "bleed_closed"),
        )


def _tops(zone: Zone, flush: Flush) -> Iterator[Finding]:
    """Head tops that are off, or not entered as put back though the zone was closed."""
    closed = flush.ran_clear is True and flush.bleed_closed is True
    if flush.tops_back is False or (closed and flush.tops_back is not True):
        yield Finding(
            "tops off",
            "fix",
            f"The head tops of {zone_name(zone)} are not back in.",
            f"Put the tops back and tick Tops back for {zone_word(zone)} at the ground.",
            CellRef("flush", flush.id, "tops_back"),
        )
