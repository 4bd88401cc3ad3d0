"""The audit report: how evenly each audited zone waters, with its cans drawn."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.audit import Evenness, percent, read_error_part
from fieldbook.audit.audit_faults import LEAST_CANS, LEAST_MINUTES, MOST_WIND
from fieldbook.audit.published import HOME_LOW_QUARTER, IDEAL_LOW_QUARTER
from fieldbook.checks.measured.audits import AuditResult, audit_results
from fieldbook.checks.measured.measured_words import (
    cans_words,
    caught_words,
    fault_words,
    rate_words,
)
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.blocks.record_blocks import NOT_RECORDED, facts_block
from fieldbook.papers.blocks.verdict_blocks import answers_table
from fieldbook.papers.measured.can_picture import can_svg
from fieldbook.papers.paper import Block, Cell, Facts, Figure, Heading, Paper, Paragraph, Table
from fieldbook.records.tables.measured.audit import CatchAudit

_AS_DONE = ("held_on", "run_min", "wind_mph", "caught_as", "throat_in", "note")
_RULER_IN = 1 / 8
"""The step that a depth is read to by a ruler."""
_COUNTS = (
    "An audit counts for the schedule only with enough cans, in little wind and after long enough "
    "a run; one that does not is printed all the same."
)


def audit_report(source: PaperSource) -> Paper:
    """Every audit, the newest first."""
    return source.paper("audit-report", source.say("Audit report"), list(_blocks(source)))


def _blocks(source: PaperSource) -> Iterator[Block]:
    say = source.say
    results = sorted(
        audit_results(source.job).values(),
        key=lambda one: (one.audit.held_on or "", one.audit.id),
        reverse=True,
    )
    if not results:
        yield Paragraph(say("No audit is recorded."))
    for result in results:
        yield from _audit(source, result)
    yield Heading(say("What the figures are seen beside"))
    yield _published(source)
    yield Paragraph(say(_COUNTS))
    for rule in (LEAST_CANS, MOST_WIND, LEAST_MINUTES):
        yield Paragraph(f"{rule.value:g} {rule.unit}: {rule.source}", "source")
    yield Heading(say("What the checks say"))
    yield answers_table(source, ("catch-can audit",))


def _audit(source: PaperSource, result: AuditResult) -> Iterator[Block]:
    say, job = source.say, source.job
    yield Heading(say("Audit of {zones}").format(zones=result.where))
    yield facts_block(source, result.audit, CatchAudit, _AS_DONE)
    if result.evenness is not None:
        yield _figures(source, result, result.evenness)
    if result.faults:
        why = "; ".join(fault_words(job, fault) for fault in result.faults)
        yield Paragraph(say("It does not count: {why}.").format(why=why))
    elif result.missing:
        lacks = result.missing[0].words
        yield Paragraph(say("It does not count yet: {lacks} is missing.").format(lacks=lacks))
    if result.cans:
        alt = say("The cans of the audit of {zones}, the driest and the wettest marked")
        yield Figure(can_svg(job, result), alt.format(zones=result.where))


def _figures(source: PaperSource, result: AuditResult, even: Evenness) -> Facts:
    say, job = source.say, source.job
    caught = [
        caught_words(job, result.audit, one) for one in (even.mean, even.lowest, even.highest)
    ]
    most = say("no figure: a can stayed dry")
    if even.most_scheduling is not None:
        most = say("at most {most}").format(most=f"{even.most_scheduling:.2f}")
    rate = say(NOT_RECORDED)
    if result.rate_in_h is not None:
        rate = rate_words(job, result.rate_in_h)
    rows: tuple[tuple[str, Cell], ...] = ()
    off = read_error_part([one.amount for one in result.cans], _RULER_IN)
    if result.audit.caught_as == "depth" and off is not None:
        rows = ((say("A ruler read to 1/8 in"), f"±{percent(off)} %"),)
    return Facts(
        (
            (say("Low-quarter uniformity"), f"{percent(even.low_quarter)} %"),
            (say("The quarter is of"), cans_words(even)),
            (say("Low-half uniformity"), f"{percent(even.low_half)} %"),
            (say("Christiansen's coefficient"), f"{percent(even.christiansen)} %"),
            (say("Precipitation rate"), rate),
            (say("Scheduling coefficient"), most),
            (say("Mean, least, most"), ", ".join(caught)),
            *rows,
        )
    )


def _published(source: PaperSource) -> Table:
    """What was published of homes and of a test field, by the kind of head."""
    say = source.say
    rows: tuple[tuple[Cell, ...], ...] = tuple(
        (say(kind), f"{percent(home.value)} %", f"{percent(IDEAL_LOW_QUARTER[kind].value)} %")
        for kind, home in HOME_LOW_QUARTER.items()
    )
    source_words = HOME_LOW_QUARTER["spray"].source
    headers = (say("Head type"), say("On homes, on average"), say("On a test field"))
    return Table((*headers, say("Source")), tuple((*row, source_words) for row in rows))
