"""The property on a page: what was installed, how it stands, and what is due next."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.naming import sentence
from fieldbook.checks.progress.deadlines import dates_of
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.blocks.record_blocks import NOT_RECORDED, cell_of
from fieldbook.papers.blocks.verdict_blocks import open_table
from fieldbook.papers.blocks.visit_blocks import visits_table
from fieldbook.papers.blocks.wire_blocks import zone_title
from fieldbook.papers.paper import Block, Facts, Heading, Paper, Table


def property_page(source: PaperSource) -> Paper:
    """The first page of the handover."""
    return source.paper("property", source.say("The property"), list(_blocks(source)))


def _blocks(source: PaperSource) -> Iterator[Block]:
    say, job = source.say, source.job
    blank = say(NOT_RECORDED)
    yield Facts(
        (
            (say("Property"), job.job.address or blank),
            (say("Owner"), job.job.customer or blank),
            (say("Zones"), str(len(job.zones))),
            (say("Sprinkler heads"), str(len(job.heads))),
            (say("Valve boxes"), str(len(job.valve_boxes))),
            (say("Controller"), cell_of(source, job.controller, "location")),
            (say("Static pressure"), cell_of(source, job.supply, "static_psi")),
        )
    )
    yield Heading(say("Zones"))
    rows = tuple(
        (
            str(zone.number or "?"),
            zone_title(zone) or blank,
            cell_of(source, zone, "head_kind"),
            str(len(job.heads_of(zone.id))),
            zone.plants or zone.waters or blank,
        )
        for zone in job.zones
    )
    headers = (say("Zone"), say("Waters"), say("Heads"), say("How many"), say("Plants"))
    yield Table(headers, rows, frozenset({3}), say("No zone is recorded."))
    yield Heading(say("What was not checked, and what is still to be mended"))
    yield open_table(source)
    if job.visits:
        yield Heading(say("Visits"))
        yield visits_table(source)
    dated = dates_of(job, source.today)
    if dated:
        yield Heading(say("Dates"))
        lines = tuple((sentence(one.thing), one.on.isoformat()) for one in dated)
        yield Table((say("What"), say("On")), lines)
