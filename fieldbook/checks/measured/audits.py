"""The figures of each catch-can audit, and the newest that counts for a zone."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from fieldbook.audit import (
    AuditFault,
    Evenness,
    audit_faults,
    depth_in,
    evenness,
    rate_in_h,
)
from fieldbook.audit.quarters import USUAL_RULE
from fieldbook.checks.common.naming import listed, zone_word
from fieldbook.checks.finding import CellRef, Missing
from fieldbook.records.column_values import amount
from fieldbook.records.days import order_of
from fieldbook.records.loaded_job import LoadedJob, once_per_job
from fieldbook.records.tables.measured.audit import CatchAudit, CatchCan
from fieldbook.records.tables.zones import Zone

ZONE_COLUMNS = ("zone_id", "zone_2_id", "zone_3_id")


@dataclass(frozen=True)
class Caught:
    """One can and what it holds, in mL or as a depth in inches as the audit says."""

    can: CatchCan
    amount: float


@dataclass(frozen=True)
class AuditResult:
    """What one audit gives.

    cans: those that were read. evenness: None where none caught anything. rate_in_h: in inches an
    hour of all zones that ran together; None without minutes or, of mL, without the throat.
    faults: why it does not count. missing: what is not entered, each with its cell.
    """

    audit: CatchAudit
    zones: tuple[Zone, ...]
    cans: tuple[Caught, ...]
    evenness: Evenness | None
    rate_in_h: float | None
    faults: tuple[AuditFault, ...]
    missing: tuple[Missing, ...]

    @property
    def counts(self) -> bool:
        """Whether it may feed a schedule: nothing is missing and nothing stands against it."""
        return self.evenness is not None and not self.faults and not self.missing

    @property
    def where(self) -> str:
        """Such as "zone 1 and zone 2"."""
        return listed([zone_word(zone) for zone in self.zones]) or "no zone"


@dataclass(frozen=True)
class AuditedUniformity:
    """What a schedule takes from an audit; uniformities are parts of one.

    rate_in_h: the zone's own precipitation rate; None where other zones ran too, or where the
    throat of the cans is not known. quarter_cans and rule: how many cans `low_quarter` is of.
    """

    audit_id: str
    on: str
    low_quarter: float
    low_half: float
    christiansen: float
    most_scheduling: float | None
    rate_in_h: float | None
    cans: int
    quarter_cans: float
    rule: str


@once_per_job
def audit_results(job: LoadedJob) -> dict[str, AuditResult]:
    """Every audit by its id, in the order of the record."""
    return {audit.id: _result(job, audit) for audit in job.catch_audits}


def newest_audits(job: LoadedJob, zone_id: str) -> list[AuditResult]:
    """The audits in which a zone ran, the newest first; those without a day last."""
    found = [
        result
        for result in audit_results(job).values()
        if any(zone.id == zone_id for zone in result.zones)
    ]

    def key(one: AuditResult) -> tuple[str, datetime, str]:
        return one.audit.held_on or "", order_of(one.audit.entered_at), one.audit.id

    return sorted(found, key=key, reverse=True)


def audited_uniformity(job: LoadedJob, zone_id: str) -> AuditedUniformity | None:
    """The newest audit of a zone that counts, for its schedule; None without one.

    An audit in more wind than 5 mph, with fewer than 20 cans, shorter than 15 minutes, or that
    lacks an entry is passed over.
    """
    for result in newest_audits(job, zone_id):
        even = result.evenness
        if even is not None and result.counts:
            return AuditedUniformity(
                result.audit.id,
                result.audit.held_on or "",
                even.low_quarter,
                even.low_half,
                even.christiansen,
                even.most_scheduling,
                result.rate_in_h if len(result.zones) == 1 else None,
                even.cans,
                even.quarter_cans,
                even.rule,
            )
    return None


def cans_of(job: LoadedJob, audit: CatchAudit) -> tuple[CatchCan, ...]:
    """The cans of an audit, in the order of their numbers."""
    return tuple(can for can in job.catch_cans if can.audit_id == audit.id)


def caught_column(audit: CatchAudit) -> str:
    """The column of a can that this audit reads."""
    return "depth_in" if audit.caught_as == "depth" else "caught_ml"


def _result(job: LoadedJob, audit: CatchAudit) -> AuditResult:
    column = caught_column(audit)
    read = ((can, amount(can, column)) for can in cans_of(job, audit))
    cans = tuple(Caught(can, value) for can, value in read if value is not None)
    ids = dict.fromkeys(getattr(audit, name) for name in ZONE_COLUMNS)
    zones = tuple(zone for zone_id in ids if (zone := job.zone(zone_id)) is not None)
    minutes, wind = amount(audit, "run_min"), amount(audit, "wind_mph")
    even = evenness([one.amount for one in cans], audit.quarter_rule or USUAL_RULE)
    return AuditResult(
        audit,
        zones,
        cans,
        even,
        _rate(audit, even, minutes),
        _faults(len(cans), minutes, wind),
        tuple(_missing(job, audit, zones, len(cans))),
    )


def _faults(cans: int, minutes: float | None, wind: float | None) -> tuple[AuditFault, ...]:
    """What stands against an audit; one of which no can is read yet lacks its cans, not some."""
    found = audit_faults(cans, minutes, wind)
    return found if cans else tuple(fault for fault in found if fault.name != "cans")


def _rate(audit: CatchAudit, even: Evenness | None, minutes: float | None) -> float | None:
    throat = amount(audit, "throat_in")
    if even is None or not minutes:
        return None
    if audit.caught_as == "depth":
        return rate_in_h(even.mean, minutes)
    return rate_in_h(depth_in(even.mean, throat), minutes) if throat else None


def _missing(
    job: LoadedJob, audit: CatchAudit, zones: tuple[Zone, ...], read: int
) -> list[Missing]:
    of = f"the audit of {zone_word(zones[0])}" if zones else "an audit"
    words = {
        "held_on": f"the day of {of}",
        "run_min": f"how long the zone ran for {of}",
        "wind_mph": f"the wind at {of}",
        "caught_as": f"whether the cans of {of} are in mL or a depth",
    }
    found = [
        Missing(what, CellRef("catch_audit", audit.id, column))
        for column, what in words.items()
        if getattr(audit, column) is None
    ]
    if not zones:
        found.insert(0, Missing(f"the zone of {of}", CellRef("catch_audit", audit.id, "zone_id")))
    blank = [can for can in cans_of(job, audit) if amount(can, caught_column(audit)) is None]
    if blank:
        at = CellRef("catch_can", blank[0].id, caught_column(audit))
        found.append(Missing(f"what can {blank[0].number or '?'} of {of} caught", at))
    elif not read:
        found.append(Missing(f"the cans of {of}", CellRef("catch_can", audit.id, "add can")))
    return found
