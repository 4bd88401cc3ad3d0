"""The materials of a property: what to load, and what the record says was laid."""

from __future__ import annotations

from fieldbook.checks.common.naming import listed, quantity
from fieldbook.materials.item import Item
from fieldbook.materials.takeoff import takeoff
from fieldbook.papers.blocks.owner_blocks import changes_blocks
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.paper import Block, Heading, Paper, Paragraph, Table
from fieldbook.units import LENGTH


def materials_list(source: PaperSource) -> Paper:
    """The takeoff by groups, each line with how it was counted and room to tick it off."""
    say, found = source.say, takeoff(source.job)
    blocks: list[Block] = []
    for group in dict.fromkeys(item.group for item in found.items):
        rows = tuple(
            (item.what, count_words(source, item), item.how, "")
            for item in found.items
            if item.group == group
        )
        headers = (say("Item"), say("Needed"), say("How it was counted"), say("Loaded"))
        blocks += [Heading(say(group).capitalize()), Table(headers, rows, frozenset({1}))]
    if not blocks:
        blocks.append(Paragraph(say("The record has nothing to count yet.")))
    blocks += changes_blocks(source, priced=True)
    if found.not_counted:
        what = listed(found.not_counted, len(found.not_counted))
        blocks.append(Paragraph(say("Not counted: {what}.").format(what=what)))
    return source.paper("materials", say("Materials"), blocks)


def count_words(source: PaperSource, item: Item) -> str:
    """How much of an item there is, in the units of the property."""
    if item.unit == "ft":
        return quantity(source.job, item.count, LENGTH)
    return f"{item.count:g}"
