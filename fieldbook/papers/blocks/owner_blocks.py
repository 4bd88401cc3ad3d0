"""What is settled with the owner: changes, the punch list, the walk-through, warranties."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fieldbook.checks.common.naming import zone_word
from fieldbook.checks.desk.owner_shown import WALK_THROUGH
from fieldbook.checks.desk.warranty_ends import warranty_end
from fieldbook.materials.agreed_changes import agreed_changes, other_changes, price_of, sum_of
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.blocks.record_blocks import NOT_RECORDED, cell_of, facts_block
from fieldbook.papers.blocks.signature_blocks import signatures_table
from fieldbook.papers.paper import Block, Cell, Checklist, Heading, Paragraph, Signatures, Table
from fieldbook.records.base import facts_of
from fieldbook.records.tables.owner.change_orders import ChangeOrder
from fieldbook.records.tables.owner.walk_through import WALK_THROUGH_SOURCE, WalkThrough, ZoneShown

HANDED_OVER = ("season_taught", "checklist", "manual", "schedule", "parts_list", "drawing")
_SHOWN = (
    "Where each valve box and shut-off is",
    "How a zone is run by hand and how the water is shut off",
    "How the controller is set, and how it is changed through the year",
    "When the backflow assembly is tested next",
    "How the system is closed before winter",
)


def changes_blocks(source: PaperSource, *, priced: bool) -> Iterator[Block]:
    """The changes that were agreed, and apart from them those that were not; nothing for none."""
    agreed, others = agreed_changes(source.job), other_changes(source.job)
    if not agreed and not others:
        return
    yield Heading(source.say("Agreed changes"))
    yield _changes_table(source, agreed, priced=priced)
    if priced and agreed:
        words = source.say("The agreed changes come to {sum}.")
        yield Paragraph(words.format(sum=sum_of(agreed)))
    if others:
        yield Heading(source.say("Changes not agreed: the first plan stands"))
        yield _changes_table(source, others, priced=priced)


def _changes_table(source: PaperSource, orders: Sequence[ChangeOrder], *, priced: bool) -> Table:
    say = source.say
    rows: list[tuple[Cell, ...]] = []
    for order in orders:
        price = price_of(order)
        money = (say(NOT_RECORDED) if price is None else str(price),) if priced else ()
        number = str(order.number or "")
        what = cell_of(source, order, "changed")
        rows.append((number, what, order.why, *money, *_answer(source, order)))
    price_head = (say("Price"),) if priced else ()
    headers = (say("No."), say("What changes"), say("Why"), *price_head, say("Answer"), say("When"))
    numbers = frozenset({0, 3} if priced else {0})
    return Table(headers, tuple(rows), numbers, say("No change is agreed."))


def _answer(source: PaperSource, order: ChangeOrder) -> tuple[Cell, Cell]:
    """Who answered and how, and when."""
    say, by = source.say, order.agreed_by.strip()
    if not by:
        return say("not answered yet"), ""
    words = say("refused by {name}") if order.refused is True else say("agreed by {name}")
    how = f", {say(order.agreed_how)}" if order.agreed_how else ""
    return f"{words.format(name=by)}{how}", cell_of(source, order, "agreed_at")


def punch_table(source: PaperSource) -> Table:
    """The punch list: what is still open first, then what was put right."""
    say, job = source.say, source.job
    items = sorted(job.punch_items, key=lambda item: bool(item.done_on))
    rows = tuple(
        (
            cell_of(source, item, "what"),
            _joined(zone_word(job.zone(item.zone_id)) if item.zone_id else "", item.where),
            _joined(item.found_on, item.found_by),
            _joined(item.done_on, item.done_by) or say("open"),
        )
        for item in items
    )
    headers = (say("To put right"), say("Where"), say("Found"), say("Done"))
    return Table(headers, rows, empty=say("Nothing is on the punch list."))


def _joined(*parts: str | None) -> str:
    """The parts that are entered, with commas between them."""
    return ", ".join(part for part in parts if part)


def warranties_table(source: PaperSource) -> Table:
    """The warranties with their last day."""
    say, blank = source.say, source.say(NOT_RECORDED)
    rows: list[tuple[Cell, ...]] = []
    for row in source.job.warranties:
        ends = warranty_end(row)
        thing = _joined(row.thing, row.serial)
        last = blank if ends is None else ends.isoformat()
        columns = (cell_of(source, row, name) for name in ("given_by", "from_on"))
        rows.append((cell_of(source, row, "kind"), thing, *columns, last, row.terms, row.paper))
    headers = ("Warranty on", "Which one", "Given by", "From", "Until", "Terms", "Paper kept at")
    empty = say("No warranty is recorded.")
    return Table(tuple(map(say, headers)), tuple(rows), empty=empty)


def walk_through_blocks(source: PaperSource) -> Iterator[Block]:
    """What was shown and handed over, by whom to whom and when; else lines to do it by hand."""
    say, held = source.say, source.job.walk_through
    facts = facts_of(WalkThrough)
    yield facts_block(source, held, WalkThrough, ("owner", "held_at", "shown_by"))
    yield Heading(say("Taught and handed over"))
    given = [name for name in HANDED_OVER if getattr(held, name, None) is True]
    done = frozenset(no for no, name in enumerate(HANDED_OVER) if name in given)
    yield Checklist(tuple(say(facts[name].label) for name in HANDED_OVER), done)
    yield Heading(say("Shown to the owner"))
    yield _zones_shown(source)
    yield Paragraph(say("Shown to the owner; each is ticked as it is shown."))
    yield Checklist(tuple(map(say, _SHOWN)))
    yield from _signed_or_refused(source, held)
    yield Paragraph(WALK_THROUGH_SOURCE, "source")


def _zones_shown(source: PaperSource) -> Table:
    say, job = source.say, source.job
    shown: dict[str, ZoneShown] = {row.zone_id: row for row in job.zones_shown}
    rows = tuple(
        (zone_word(zone), cell_of(source, shown.get(zone.id), "shown_min")) for zone in job.zones
    )
    headers = (say("Zone"), say("Ran while the owner watched"))
    return Table(headers, rows, empty=say("No zone is recorded."))


def _signed_or_refused(source: PaperSource, held: WalkThrough | None) -> Iterator[Block]:
    """The refusal with its time, or the signature in the record and the lines to sign on."""
    say = source.say
    if held is not None and held.refused is True:
        when = cell_of(source, held, "refused_at")
        words = say("The owner did not sign. The refusal is of: {when}.")
        yield Paragraph(words.format(when=when))
        yield Signatures((say("Installer"),))
        return
    if source.job.newest_sign_off(WALK_THROUGH) is not None:
        yield signatures_table(source, (WALK_THROUGH,))
    yield Signatures((say("Owner"), say("Installer")))
    words = say(
        "Where the owner does not sign, write the date and the hour of the refusal here: "
        "some states ask for it."
    )
    yield Paragraph(words, "source")
