"""The controller's door card: what each terminal runs, by wire and in words."""

from __future__ import annotations

from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.blocks.programme_blocks import programme_blocks
from fieldbook.papers.blocks.record_blocks import cautions, facts_block
from fieldbook.papers.blocks.verdict_blocks import answers_table
from fieldbook.papers.blocks.wire_blocks import terminals_table, wire_codes
from fieldbook.papers.paper import Block, Figure, Heading, Paper
from fieldbook.papers.wire_pictures import strip_picture
from fieldbook.records.tables.controller import Controller

_COLUMNS = ("location", "make", "model", "serial", "stations", "rain_sensor", "transformer_va")


def door_card(source: PaperSource) -> Paper:
    """The card that is kept inside the controller's door."""
    say = source.say
    blocks: list[Block] = [
        terminals_table(source),
        Figure(
            strip_picture(source.job).svg(),
            say("The controller's terminals in a row, with the wire under each"),
        ),
        *programme_blocks(source),
        Heading(say("What the checks say")),
        answers_table(source, ("wire map", "electrics", "controller")),
        Heading(say("The controller")),
        facts_block(source, source.job.controller, Controller, _COLUMNS),
        *cautions(source, ("controller",)),
        *wire_codes(source),
    ]
    return source.paper("door-card", say("Door card"), blocks)
