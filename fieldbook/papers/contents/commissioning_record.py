"""The commissioning record: what was measured at the start-up beside what was worked out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fieldbook.audit import Agreement, Figure
from fieldbook.checks.common.naming import run_name, sentence, zone_name
from fieldbook.checks.measured.check_commissioning import START_UP_TICKS
from fieldbook.checks.measured.compared import ZoneCompared, compared
from fieldbook.checks.measured.measured_words import within
from fieldbook.checks.water.head_pressures import law_source
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.blocks.record_blocks import NOT_RECORDED, cell_of, facts_block, rows_table
from fieldbook.papers.blocks.verdict_blocks import answers_table
from fieldbook.papers.paper import Block, Cell, Heading, Paper, Paragraph, Signatures, Table
from fieldbook.records.base import facts_of
from fieldbook.records.tables.measured.commissioning import Commissioning, ZoneMeasurement
from fieldbook.units import FLOW, PRESSURE, Measure

_SEEN = ("held_on", "held_by", "static_psi", "static_after_psi")
_READ = ("static_psi", "dial", "dial_start", "dial_stop", "dial_s", "flow_gpm", "read_by")
_FIGURES = ("Measured", "Worked out", "Answer")
_ERRORS = (
    "Each figure stands with how far it may be off. The zone is worked out by itself at the static "
    "that was read before it ran. It agrees where the difference is within both errors, differs "
    "where it is more, and nobody can tell where the errors are wider than a tenth of the flow or "
    "a fifth of the pressure."
)


def commissioning_record(source: PaperSource) -> Paper:
    """The measurements of every zone, the pressures at heads, and the list of the start-up."""
    title = source.say("Commissioning record")
    return source.paper("commissioning-record", title, list(_blocks(source)))


def _blocks(source: PaperSource) -> Iterator[Block]:
    say, job = source.say, source.job
    found = list(compared(job).values())
    yield Heading(say("Flow of each zone"))
    yield _flows(source, found)
    yield Paragraph(say(_ERRORS))
    yield Paragraph(law_source(job), "source")
    yield Heading(say("Pressure at heads"))
    yield _pressures(source, found)
    yield Heading(say("As it was read"))
    names = [sentence(zone_name(one.zone)) for one in found]
    rows = [one.row for one in found]
    yield rows_table(source, (say("Zone"), names), rows, ZoneMeasurement, _READ)
    yield Heading(say("Start-up list"))
    yield facts_block(source, job.commissioning, Commissioning, _SEEN)
    yield _list(source)
    yield Heading(say("What the checks say"))
    yield answers_table(source, ("commissioning",))
    yield Signatures((say("Installer"), say("Owner")))


def _flows(source: PaperSource, found: Sequence[ZoneCompared]) -> Table:
    say, blank = source.say, source.say(NOT_RECORDED)
    rows = tuple(
        (
            sentence(zone_name(one.zone)),
            one.row.measured_on or blank,
            say(one.reading.by) if one.reading is not None else blank,
            *_figures(
                source,
                one.reading.figure if one.reading is not None else None,
                one.worked_out,
                one.agreement,
                FLOW,
            ),
        )
        for one in found
    )
    headers = (say("Zone"), say("Measured on"), say("Read by"), *map(say, _FIGURES))
    return Table(headers, rows, frozenset({3, 4}), say("No zone is measured."))


def _pressures(source: PaperSource, found: Sequence[ZoneCompared]) -> Table:
    say, job, blank = source.say, source.job, source.say(NOT_RECORDED)
    rows = tuple(
        (
            sentence(run_name(job, one.run)) if one.run is not None else blank,
            zone.row.measured_on or blank,
            *_figures(source, one.measured, one.worked_out, one.agreement, PRESSURE),
        )
        for zone in found
        for one in zone.pressures
    )
    headers = (say("Head at"), say("Measured on"), *map(say, _FIGURES))
    return Table(headers, rows, frozenset({2, 3}), say("No pressure is read."))


def _figures(
    source: PaperSource,
    measured: Figure | None,
    worked_out: Figure | None,
    says: Agreement | None,
    measure: Measure,
) -> tuple[Cell, Cell, Cell]:
    """Both figures with their errors, and the answer."""
    say, job, blank = source.say, source.job, source.say(NOT_RECORDED)
    shown = [
        within(job, one.value, one.error, measure) if one is not None else blank
        for one in (measured, worked_out)
    ]
    return shown[0], shown[1], say(says.word if says is not None else "not checked")


def _list(source: PaperSource) -> Table:
    """Each thing that the start-up asks, its answer, and the text that asks it."""
    say, facts = source.say, facts_of(Commissioning)
    rows = tuple(
        (
            say(facts[column].label),
            cell_of(source, source.job.commissioning, column),
            facts[column].source,
        )
        for column in START_UP_TICKS
    )
    return Table((say("Asked"), say("Answer"), say("Source")), rows)
