"""The handover packet: everything that the owner keeps, as one paper."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.naming import box_name, sentence
from fieldbook.papers.blocks.owner_blocks import (
    changes_blocks,
    punch_table,
    walk_through_blocks,
    warranties_table,
)
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.blocks.rule_blocks import rules_table
from fieldbook.papers.blocks.wire_blocks import valves_table
from fieldbook.papers.contents.audit_report import audit_report
from fieldbook.papers.contents.backflow_record import backflow_record
from fieldbook.papers.contents.commissioning_record import commissioning_record
from fieldbook.papers.contents.door_card import door_card
from fieldbook.papers.contents.property_page import property_page
from fieldbook.papers.contents.season_guide import season_guide
from fieldbook.papers.contents.trench_map import trench_map
from fieldbook.papers.contents.water_summary import water_summary
from fieldbook.papers.contents.work_log import work_log
from fieldbook.papers.paper import Block, Figure, Heading, Paper, joined
from fieldbook.papers.wire_pictures import box_pictures


def handover_packet(source: PaperSource) -> Paper:
    """The packet. Access notes, the crew's own notes and phone numbers are never in it."""
    say = source.say
    first = property_page(source)
    parts = (
        first,
        trench_map(source),
        door_card(source),
        source.paper("boxes", say("Valve boxes"), list(_boxes(source))),
        water_summary(source),
        backflow_record(source),
        work_log(source),
        *_measured(source),
        *_changes(source),
        season_guide(source),
        source.paper("rules", say("Local rules applied"), [rules_table(source)]),
        source.paper(
            "warranties",
            say("Warranties"),
            [warranties_table(source), Heading(say("Punch list")), punch_table(source)],
        ),
        source.paper(
            "walk-through", say("Walk-through with the owner"), list(walk_through_blocks(source))
        ),
    )
    return joined("handover-packet", say("Handover packet"), first.lines, parts)


def _measured(source: PaperSource) -> Iterator[Paper]:
    """The start-up and the audits, where they were held."""
    job = source.job
    if job.commissioning is not None or job.zone_measurements:
        yield commissioning_record(source)
    if job.catch_audits:
        yield audit_report(source)


def _changes(source: PaperSource) -> Iterator[Paper]:
    """The changes from the first plan, without their prices: the quote has those."""
    blocks = list(changes_blocks(source, priced=False))
    if blocks:
        yield source.paper("changes", source.say("Changes from the first plan"), blocks)


def _boxes(source: PaperSource) -> Iterator[Block]:
    pictures = box_pictures(source.job)
    for box, picture in zip(source.job.valve_boxes, pictures, strict=False):
        yield Heading(sentence(box_name(box)))
        yield valves_table(source, box)
        yield Figure(picture.svg(), source.say("What each conductor does in this box"))
