"""The punch list: what is still to be put right, and items whose days can't be."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from fieldbook.checks.common.naming import fitting, short, zone_word
from fieldbook.checks.finding import CellRef, Finding, Missing
from fieldbook.checks.looked import Looked
from fieldbook.records.days import day_of
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.owner.punch_list import PunchItem


def item_name(job: LoadedJob, item: PunchItem) -> str:
    """What is to be put right, with its zone and where."""
    zone = zone_word(job.zone(item.zone_id)) if job.zone(item.zone_id) is not None else ""
    where = ", ".join(part for part in (zone, short(item.where)) if part)
    what = short(item.what, 60) or "an item without words"
    return f"{what} ({where})" if where else what


def open_on(job: LoadedJob, on: date) -> list[PunchItem]:
    """The items that were found by a day and not done by it; one without a day was there."""
    return [
        item
        for item in job.punch_items
        if ((found := day_of(item.found_on)) is None or found <= on)
        and ((done := day_of(item.done_on)) is None or done > on)
    ]


def open_items_missing(job: LoadedJob, on: date) -> Iterator[Missing]:
    """Each open item of a day, as what a handover waits for where the rules say so."""
    for item in open_on(job, on):
        words = f"the punch item “{short(item.what) or 'without words'}”, done"
        yield Missing(words, CellRef("punch_item", item.id, "done_on"))


def check_punch_list(job: LoadedJob, today: date) -> Iterator[Finding | Looked]:
    """Each item: open ones are notes while the work goes on, and fixes once it is handed over."""
    still_open = {item.id for item in open_on(job, today)}
    handed_over = job.signed("handover") is not None
    for item in job.punch_items:
        name = item_name(job, item)
        at = CellRef("punch_item", item.id, "done_on")
        words = CellRef("punch_item", item.id, "what")
        missing = [] if item.what.strip() else [Missing("what the punch item is about", words)]
        yield Looked(f"punch item: {name}", frozenset({item.id}), tuple(missing))
        yield from _wrong_days(item, name, today, at)
        if item.id in still_open and day_of(item.done_on) is None:
            found = f", found on {item.found_on}" if item.found_on else ""
            found += f" by {short(item.found_by, 20)}" if found and item.found_by else ""
            yield Finding(
                "open punch item",
                "fix" if handed_over else "note",
                fitting(
                    f"Still to be put right: {name}{found}.",
                    f"Still to be put right: {short(item.what)}.",
                ),
                "Put it right, then enter the day and who did it.",
                at,
            )


def _wrong_days(item: PunchItem, name: str, today: date, at: CellRef) -> Iterator[Finding]:
    """A day on which it was done that is before it was found, or still to come."""
    found, done = day_of(item.found_on), day_of(item.done_on)
    if done is not None and found is not None and done < found:
        said = f"It is done on {done}, before it was found on {found}: {name}."
    elif done is not None and done > today:
        said = f"It is done on {done}, which is still to come: {name}."
    else:
        return
    yield Finding("wrong day of a punch item", "fix", fitting(said), "Correct the day.", at)
