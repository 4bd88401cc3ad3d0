"""The trench map: the record drawing with the ties of every buried thing, and the pipe as laid."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.naming import cable_name, sentence, stretch_name
from fieldbook.checks.ground.positions import position_words
from fieldbook.checks.ground.record_drawing import drawing_lacks
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.blocks.record_blocks import cautions, cell_of, rows_table
from fieldbook.papers.paper import Block, Figure, Heading, Paper, Paragraph, Table
from fieldbook.papers.site_plan.plan_sheet import plan_svg
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.supply import IsolationValve
from fieldbook.records.tables.wires import Cable

_RUN = ("after", "size", "pipe_class", "length_ft", "rise_ft")
_CABLE = ("gauge_awg", "fed_from", "cover_in", "under_driveway")
_SHUT_OFF = ("shuts", "kind", "found")


def trench_map(source: PaperSource) -> Paper:
    """The record drawing, the ties and the runs; what it lacks is listed."""
    return source.paper("trench-map", source.say("Trench map"), list(_blocks(source)))


def _blocks(source: PaperSource) -> Iterator[Block]:
    say, job = source.say, source.job
    drawing = plan_svg(job, source.today)
    yield Figure(drawing, say("Plan of the property as built"), say("Record drawing"))
    lacks = drawing_lacks(job).missing
    if lacks:
        words = ", ".join(missing.words for missing in lacks)
        yield Paragraph(say("The record drawing still lacks: {what}.").format(what=words))
    yield Heading(say("Where buried things are"))
    ties = [
        (tie.thing or "?", tie.name, position_words(job, tie), cell_of(source, tie, "depth_in"))
        for tie in job.ties
    ]
    headers = (say("Thing"), say("Name"), say("Where"), say("Depth"))
    yield Table(headers, tuple(ties), frozenset({3}), say("Nothing is tied to a fixed point."))
    for zone_id in (None, *(zone.id for zone in job.zones)):
        runs = job.runs_of(zone_id)
        if runs:
            yield Heading(sentence(stretch_name(job, zone_id)))
            numbers = [str(run.number or "?") for run in runs]
            yield rows_table(source, (say("Run"), numbers), runs, PipeRun, _RUN)
    yield Heading(say("Wire"))
    names = [sentence(cable_name(cable)) for cable in job.cables]
    yield rows_table(source, (say("Cable"), names), job.cables, Cable, _CABLE)
    yield Heading(say("Valves that shut the water off"))
    places = [valve.location for valve in job.isolation_valves]
    first = (say("Where"), places)
    yield rows_table(source, first, job.isolation_valves, IsolationValve, _SHUT_OFF)
    yield from cautions(source, ("digging",))
