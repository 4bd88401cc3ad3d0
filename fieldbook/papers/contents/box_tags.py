"""Tags for the valve boxes, several on a sheet: what is in each box, by wire."""

from __future__ import annotations

from fieldbook.checks.common.naming import box_word, sentence
from fieldbook.checks.ground.positions import position_words
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.blocks.record_blocks import NOT_RECORDED, colour_cell
from fieldbook.papers.blocks.wire_blocks import valve_word, valves_in, wire_codes
from fieldbook.papers.paper import Block, Cell, Paper, Paragraph, Swatch, Tag, Tags
from fieldbook.records.tables.wires import ValveBox


def box_tags(source: PaperSource) -> Paper:
    """One tag a box, with its code; a box whose text is too long for one code has more tags."""
    tags = tuple(tag for box in source.job.valve_boxes for tag in _tags(source, box))
    blocks: list[Block] = [Tags(tags)] if tags else [Paragraph(source.say("No box is recorded."))]
    return source.paper("box-tags", source.say("Valve box tags"), blocks)


def _tags(source: PaperSource, box: ValveBox) -> list[Tag]:
    title = sentence(box_word(box))
    lines: list[Cell] = [box.location] if box.location.strip() else []
    for valve in valves_in(source.job, box):
        word = valve_word(source, valve)
        if valve.colour:
            wire = colour_cell(valve.colour)
            lines.append(Swatch(f"{word}: {wire.word}", wire.base, wire.stripe))
        else:
            lines.append(f"{word}: {source.say(NOT_RECORDED)}")
    lines += [position_words(source.job, tie) for tie in source.job.ties if tie.box_id == box.id]
    first, *more = wire_codes(source, box)
    return [Tag(title, tuple(lines), first), *(Tag(title, (), code) for code in more)]
