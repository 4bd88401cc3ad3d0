"""The hydraulic summary: the supply as measured, and what each zone takes and has to spare."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.naming import quantity, sentence, zone_name
from fieldbook.checks.water.zone_status import ZoneStatus, zone_statuses
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.blocks.record_blocks import NOT_RECORDED, facts_block, rows_table
from fieldbook.papers.paper import Block, Cell, Figure, Heading, Paper, Paragraph, Table
from fieldbook.papers.zone_water.zone_sheet import zone_svg
from fieldbook.records.tables.supply import FlowTestPoint, Supply
from fieldbook.units import FLOW, PRESSURE

_SUPPLY = (
    "source",
    "static_psi",
    "static_where",
    "behind_regulator",
    "meter_size",
    "meter_number",
    "service_class",
    "service_size",
    "service_length_ft",
)
_POINT = ("residual_psi", "flow_gpm", "bucket_gal")


def water_summary(source: PaperSource) -> Paper:
    """The supply, the flow test, and one row a zone."""
    title = source.say("Hydraulic summary")
    return source.paper("water-summary", title, list(_blocks(source)))


def _blocks(source: PaperSource) -> Iterator[Block]:
    say, job = source.say, source.job
    yield Heading(say("The supply"))
    yield facts_block(source, job.supply, Supply, _SUPPLY)
    points = [str(number) for number, _ in enumerate(job.flow_test_points, 1)]
    yield rows_table(
        source, (say("Flow test"), points), job.flow_test_points, FlowTestPoint, _POINT
    )
    yield Heading(say("Zones"))
    headers = ("Zone", "Answer", "Takes", "Allowed", "Governed by", "Worst head has", "It needs")
    rows = tuple(_zone(source, status) for status in zone_statuses(job))
    words = tuple(map(say, headers))
    yield Table(words, rows, frozenset({2, 3, 5, 6}), say("No zone is recorded."))
    yield Paragraph(say("Solved from the record; a measurement of the work as built governs."))
    for status in zone_statuses(job):
        if status.group.solution is not None:
            name = sentence(zone_name(status.zone))
            alt = say("{zone}: supply and zone as curves, the losses, and the tree of its pipes")
            yield Figure(zone_svg(job, status), alt.format(zone=name), name)


def _zone(source: PaperSource, status: ZoneStatus) -> tuple[Cell, ...]:
    job, blank = source.job, source.say(NOT_RECORDED)
    worst = status.worst
    return (
        sentence(zone_name(status.zone)),
        source.say("not checked" if status.word == "open" else status.word),
        quantity(job, status.flow_gpm, FLOW) if status.flow_gpm is not None else blank,
        quantity(job, status.available.flow_gpm, FLOW) if status.available is not None else blank,
        status.available.rule if status.available is not None else blank,
        quantity(job, worst.result.psi, PRESSURE) if worst is not None else blank,
        quantity(job, worst.held_to_psi, PRESSURE) if worst is not None else blank,
    )
