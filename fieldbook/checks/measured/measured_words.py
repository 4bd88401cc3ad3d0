"""What a measurement and an audit say, in words that sheets, flags and papers share."""

from __future__ import annotations

from fieldbook.audit import Agreement, AuditFault, Evenness, Figure, percent
from fieldbook.checks.common.naming import quantity, system_of
from fieldbook.checks.measured.audits import AuditResult
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.measured.audit import CatchAudit
from fieldbook.units import CATCH, RATE, SHORT_LENGTH, WIND, Measure, show


def within(job: LoadedJob, value: float, error: float, measure: Measure) -> str:
    """Such as "12 gpm ±0.4": a figure and how far it may be off."""
    off = show(error, measure, system_of(job), unit=False)
    return f"{quantity(job, value, measure)} ±{off}"


def agreement_words(job: LoadedJob, says: Agreement, measure: Measure) -> str:
    """Such as "agrees", or "differs by 3 gpm, more than the ±0.9 of both"."""
    off = show(says.error, measure, system_of(job), unit=False)
    if says.word == "differs":
        by = quantity(job, abs(says.difference), measure)
        side = "more" if says.difference > 0 else "less"
        small = ", too little to act on" if says.is_small else ""
        return f"differs: {by} {side}, over the ±{off} of both{small}"
    if says.word == "can't tell":
        return f"can't tell: ±{off} is wider than {quantity(job, says.matters, measure)}"
    return f"agrees within ±{off}"


def compared_words(
    job: LoadedJob,
    measured: Figure | None,
    worked_out: Figure | None,
    says: Agreement | None,
    measure: Measure,
) -> str:
    """One line on a figure as measured and as worked out; "" where nothing is known."""
    parts = []
    if measured is not None:
        parts.append(within(job, measured.value, measured.error, measure))
    if worked_out is not None:
        parts.append(f"worked out {within(job, worked_out.value, worked_out.error, measure)}")
    if says is not None:
        parts.append(agreement_words(job, says, measure))
    return "; ".join(parts)


def cans_words(even: Evenness) -> str:
    """Such as "12 of 46 cans, round": what the low quarter is of."""
    return f"{even.quarter_cans:g} of {even.cans} cans, {even.rule}"


def catch_measure(audit: CatchAudit) -> Measure:
    """What the cans of an audit are read in."""
    return SHORT_LENGTH if audit.caught_as == "depth" else CATCH


def caught_words(job: LoadedJob, audit: CatchAudit, caught: float) -> str:
    """What a can caught, in the unit of its audit."""
    return quantity(job, caught, catch_measure(audit))


def rate_words(job: LoadedJob, rate_in_h: float) -> str:
    """A precipitation rate in the job's units."""
    return quantity(job, rate_in_h, RATE)


def result_words(job: LoadedJob, result: AuditResult) -> str:
    """One line on an audit: its figures, and why it does not count."""
    even, parts = result.evenness, []
    if even is not None:
        parts.append(f"low quarter {percent(even.low_quarter)} % ({cans_words(even)})")
        parts.append(f"low half {percent(even.low_half)} %")
        parts.append(f"Christiansen {percent(even.christiansen)} %")
    if result.rate_in_h is not None:
        parts.append(rate_words(job, result.rate_in_h))
    if result.faults:
        why = "; ".join(fault_words(job, fault) for fault in result.faults)
        parts.append(f"does not count: {why}")
    elif result.missing:
        parts.append(f"does not count yet: {result.missing[0].words}")
    return ", ".join(parts)


def fault_words(job: LoadedJob, fault: AuditFault) -> str:
    """Such as "the wind was 8 mph, at most 5 mph"."""
    limit = fault.limit.value
    if fault.name == "wind":
        return (
            f"the wind was {quantity(job, fault.value, WIND)}, at most {quantity(job, limit, WIND)}"
        )
    if fault.name == "cans":
        cans = "1 can was" if fault.value == 1 else f"{fault.value:g} cans were"
        return f"{cans} read, at least {limit:g}"
    return f"it ran {fault.value:g} min, at least {limit:g}"
