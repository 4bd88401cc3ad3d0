"""The load list: what is still to be loaded, what was used, and what goes back."""

from __future__ import annotations

from fieldbook.checks.common.naming import listed, quantity
from fieldbook.materials.load_lines import LoadLine, load_lines
from fieldbook.materials.takeoff import takeoff
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.blocks.record_blocks import NOT_RECORDED
from fieldbook.papers.paper import Block, Paper, Paragraph, Table
from fieldbook.units import LENGTH

_HEADERS = ("Kind", "Item", "Needed", "Loaded", "To load", "Used", "Left on the truck", "Note")


def load_list(source: PaperSource) -> Paper:
    """Every item, as it was ticked on the truck, with room to count by hand.

    All kinds stand in one table, so that a whole load fits on one or two pages.
    """
    say, lines = source.say, list(load_lines(source.job))
    rows: list[tuple[str, ...]] = []
    before = ""
    for line in lines:
        kind = "" if line.group == before else say(line.group)
        rows.append((kind, *_row(source, line)))
        before = line.group
    empty = say("The record has nothing to load yet.")
    headers = tuple(map(say, _HEADERS))
    blocks: list[Block] = [Table(headers, tuple(rows), frozenset(range(2, 7)), empty)]
    not_counted = takeoff(source.job).not_counted
    if not_counted:
        words = say("Not counted: {what}.").format(what=listed(not_counted, len(not_counted)))
        blocks.append(Paragraph(words))
    return source.paper("load-list", say("Load list"), blocks)


def _row(source: PaperSource, line: LoadLine) -> tuple[str, ...]:
    def words(value: float | None) -> str:
        return source.say(NOT_RECORDED) if value is None else _amount(source, line, value)

    on_truck = "" if line.used is None and line.loaded is None else words(max(line.on_truck, 0.0))
    return (
        line.what,
        words(line.needed),
        "" if line.loaded is None else words(line.loaded),
        words(line.to_load),
        "" if line.used is None else words(line.used),
        on_truck,
        _note(source, line),
    )


def _note(source: PaperSource, line: LoadLine) -> str:
    """What does not add up."""
    say, notes = source.say, []
    if line.need_changed:
        then = _amount(source, line, line.needed_then or 0.0)
        notes.append(say("needed {amount} when it was loaded").format(amount=then))
    if line.on_truck < 0:
        notes.append(say("more used than loaded"))
    return ", ".join(notes)


def _amount(source: PaperSource, line: LoadLine, value: float) -> str:
    """An amount in the unit of the property; what is counted has no unit."""
    if line.unit == "ft":
        return quantity(source.job, value, LENGTH)
    return f"{value:g}"
