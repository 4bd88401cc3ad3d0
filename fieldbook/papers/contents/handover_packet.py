"""The handover packet: everything that the owner keeps, as one paper."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.naming import box_name, sentence
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.blocks.rule_blocks import rules_table
from fieldbook.papers.blocks.wire_blocks import valves_table
from fieldbook.papers.contents.backflow_record import backflow_record
from fieldbook.papers.contents.door_card import door_card
from fieldbook.papers.contents.property_page import property_page
from fieldbook.papers.contents.season_guide import season_guide
from fieldbook.papers.contents.trench_map import trench_map
from fieldbook.papers.contents.water_summary import water_summary
from fieldbook.papers.contents.work_log import work_log
from fieldbook.papers.paper import (
    Block,
    Checklist,
    Figure,
    Heading,
    Paper,
    Paragraph,
    Signatures,
    joined,
)
from fieldbook.papers.wire_pictures import box_pictures

_SHOWN = (
    "Where each valve box and shut-off is",
    "How a zone is run by hand and how the water is shut off",
    "How the controller is set, and how it is changed through the year",
    "When the backflow assembly is tested next",
    "How the system is closed before winter",
)


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
        season_guide(source),
        source.paper("rules", say("Local rules applied"), [rules_table(source)]),
        source.paper("walk-through", say("Walk-through with the owner"), _walk_through(source)),
    )
    return joined("handover-packet", say("Handover packet"), first.lines, parts)


def _boxes(source: PaperSource) -> Iterator[Block]:
    pictures = box_pictures(source.job)
    for box, picture in zip(source.job.valve_boxes, pictures, strict=False):
        yield Heading(sentence(box_name(box)))
        yield valves_table(source, box)
        yield Figure(picture.svg(), source.say("What each conductor does in this box"))


def _walk_through(source: PaperSource) -> list[Block]:
    say = source.say
    return [
        Paragraph(say("Shown to the owner; each is ticked as it is shown.")),
        Checklist(tuple(map(say, _SHOWN))),
        Signatures((say("Owner"), say("Installer"))),
        Paragraph(
            say(
                "Where the owner does not sign, write the date and the hour of the refusal here: "
                "some states ask for it."
            ),
            "source",
        ),
        Paragraph("30 Tex. Admin. Code 344.63.", "source"),
    ]
