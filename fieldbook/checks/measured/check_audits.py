"""Flags on the newest audit of each zone: that it does not count, or waters less evenly than most.

A published mean is no limit, so a low uniformity is a note with the figure it is seen beside.
"""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.audit import Evenness, percent
from fieldbook.audit.audit_faults import USUAL_MINUTES
from fieldbook.audit.published import HOME_LOW_QUARTER
from fieldbook.checks.common.naming import sentence, zone_name
from fieldbook.checks.finding import CellRef, Finding, Missing, Number
from fieldbook.checks.looked import Looked
from fieldbook.checks.measured.audits import AuditResult, audit_results, newest_audits
from fieldbook.checks.measured.measured_words import cans_words, fault_words
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob

_CELL = {"wind": "wind_mph", "cans": "held_on", "minutes": "run_min"}


def check_audits(job: LoadedJob) -> Iterator[Finding | Looked]:
    """The newest audit of each zone, and audits without a zone."""
    newest = (newest_audits(job, zone.id)[:1] for zone in job.zones)
    strays = [one for one in audit_results(job).values() if not one.zones]
    for result in {one.audit.id: one for found in newest for one in found}.values():
        yield from _audit(job, result)
    for result in strays:
        yield from _audit(job, result)


def _audit(job: LoadedJob, result: AuditResult) -> Iterator[Finding | Looked]:
    rows = frozenset({result.audit.id, *(one.can.id for one in result.cans)})
    missing = list(result.missing)
    if result.faults and not missing:
        at = CellRef("catch_audit", result.audit.id, "held_on")
        missing.append(Missing(f"an audit of {result.where} that counts", at))
    yield Looked(f"audit of {result.where}", rows, tuple(missing))
    for fault in result.faults:
        yield Finding(
            "audit does not count",
            "note",
            f"The audit of {result.where} does not count: {fault_words(job, fault)}. The schedule "
            "leaves it out.",
            "Audit again, or correct the entry at the service place.",
            CellRef("catch_audit", result.audit.id, _CELL[fault.name]),
            source=fault.limit.source,
            numbers=(
                Number("as audited", fault.value, fault.limit.unit),
                Number("limit", fault.limit.value, fault.limit.unit),
            ),
        )
    if result.evenness is not None and result.counts:
        yield from _beside_homes(result, result.evenness)
        yield from _short(result)


def _beside_homes(result: AuditResult, even: Evenness) -> Iterator[Finding]:
    """A low quarter under what homes have on average, by the kind of head."""
    zone = result.zones[0]
    home = HOME_LOW_QUARTER.get(zone.head_kind or "")
    if home is None or even.low_quarter >= home.value:
        return
    yield Finding(
        "watered less evenly than most",
        "note",
        f"{sentence(zone_name(zone))} has a low quarter of {percent(even.low_quarter)} % "
        f"({cans_words(even)}); homes with {zone.head_kind} heads have {percent(home.value)} % on "
        "average.",
        "Look at the driest spots: spacing, tilted or blocked heads, pressure. No limit is "
        "published; the run time grows with it.",
        CellRef("catch_audit", result.audit.id, "zone_id"),
        source=home.source,
        numbers=(
            Number("low quarter", even.low_quarter, "of the mean"),
            Number("homes", home.value, "of the mean"),
        ),
    )


def _short(result: AuditResult) -> Iterator[Finding]:
    """An audit that counts, but ran shorter than an audit of evenness is advised to."""
    minutes = amount(result.audit, "run_min")
    if minutes is None or minutes >= USUAL_MINUTES.value:
        return
    yield Finding(
        "short audit",
        "note",
        f"The audit of {result.where} ran {minutes:g} min; 30 to 60 are advised, as cans that hold "
        "little are read less well.",
        "Run longer at the next audit; this one counts.",
        CellRef("catch_audit", result.audit.id, "run_min"),
        source=USUAL_MINUTES.source,
        numbers=(Number("ran", minutes, "min"), Number("advised", USUAL_MINUTES.value, "min")),
    )
