"""The load list: what is still to be loaded, what was used, and what goes back."""

from __future__ import annotations

from fieldbook.checks.common.naming import listed, quantity
from fieldbook.materials.load_lines import LoadLine, load_lines
from fieldbook.materials.takeoff import takeoff
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.blocks.record_blocks import NOT_RECORDED
from fieldbook.papers.paper import Block, Heading, Paper, Paragraph, Table
from fieldbook.units import LENGTH

_HEADERS = ("Item", "Needed", "Loaded", "To load", "Used", "Left on the truck", "Note")


def load_list(source: PaperSource) -> Paper:
    """Every item by groups, as it was ticked on the truck, with room to count by hand."""
    say, lines = source.say, list(load_lines(source.job))
    blocks: list[Block] = []
    for group in dict.fromkeys(line.group for line in lines):
        rows = tuple(_row(source, line) for line in lines if line.group == group)
        headers = tuple(map(say, _HEADERS))
        blocks += [Heading(say(group).capitalize()), Table(headers, rows, frozenset(range(1, 6)))]
    if not blocks:
        blocks.append(Paragraph(say("The record has nothing to load yet.")))
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
