"""Change orders, the punch list, the owner's walk-through and the warranties, as sections."""

from __future__ import annotations

from fieldbook.actions.rows import add_change_order
from fieldbook.actions.usual import papers_handed_over
from fieldbook.checks.finding import CellRef
from fieldbook.records.ids import once_id, zone_shown_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.owner.change_orders import ChangeOrder
from fieldbook.records.tables.owner.punch_list import PunchItem
from fieldbook.records.tables.owner.walk_through import HANDED_OVER, WalkThrough, ZoneShown
from fieldbook.records.tables.owner.warranties import Warranty
from fieldbook.screens.sheets.options import link_cell, zone_label
from fieldbook.screens.sheets.presses import AddRow, AnswerAll
from fieldbook.screens.sheets.sheet import (
    CellMaker,
    Count,
    Row,
    Section,
    add_line,
    blanks,
    press_cell,
    table_section,
)
from fieldbook.units import System

_ORDER = (
    *(("number", 3), ("asked_on", 10), ("changed", 26), ("why", 18), ("price", 9)),
    *(("agreed_by", 16), ("agreed_how", 10), ("agreed_at", 16), ("refused", 4)),
)
_WARRANTY = (
    *(("kind", 17), ("thing", 14), ("from_on", 10), ("months", 4), ("until_on", 10)),
    *(("given_by", 16), ("terms", 24), ("serial", 14), ("paper", 18)),
)
_WHO = ("owner", "held_at", "shown_by")
_REFUSAL = ("refused", "refused_at")


def change_orders(job: LoadedJob, system: System) -> Section:
    """What was changed from the first plan, and who agreed."""
    adds = AddRow("change_order", "change order", "changed", add_change_order)
    title = "Change orders: what changes from the first plan"
    return table_section(job.change_orders, ChangeOrder, system, title, _ORDER, adds)


def warranties(job: LoadedJob, system: System) -> Section:
    """What is promised for which thing, and until when."""
    adds = AddRow("warranty", "warranty", "kind")
    return table_section(job.warranties, Warranty, system, "Warranties", _WARRANTY, adds)


def punch_list(job: LoadedJob, system: System) -> Section:
    """What is still to be put right; an item is open until its day stands in it."""
    rows: list[Row] = []
    for item in job.punch_items:
        make = CellMaker(PunchItem, item.id, item, system)
        cells = (
            make.cell("what", 26),
            link_cell(make, job, "zone_id", 5),
            *make.cells(where=16, found_on=10, found_by=9, done_on=10, done_by=9),
        )
        rows.append(Row(str(len(rows) + 1), cells, removable=("punch_item", item.id)))
    rows.append(add_line(AddRow("punch_item", "punch item", "what"), "+ a punch item"))
    heads = ("To put right", "Zone", "Where", "Found", "Found by", "Done", "Done by")
    return Section("Punch list", tuple(rows), heads, label_width=4)


def walk_through(job: LoadedJob, system: System) -> tuple[Section, ...]:
    """Who was shown what, and for how long each zone ran; or the owner's refusal."""
    held = job.walk_through
    row_id = held.id if held is not None else once_id(job.job.id, "walk_through")
    make = CellMaker(WalkThrough, row_id, held, system)
    given = held is not None and all(getattr(held, one) is True for one in HANDED_OVER)
    why = "Space ticks what is not answered yet; what was not handed over gets its own no."
    at = CellRef("walk_through", row_id, "all handed over")
    act = AnswerAll((("Space", "all of these"),), papers_handed_over)
    text = "all of these" if given else "-"
    every = Row("All handed over", (press_cell(act, at, text, 34, why),))
    rows = (*make.form(*_WHO), every, *make.form(*HANDED_OVER, *_REFUSAL))
    form = Section("Walk-through with the owner", rows)
    zones = tuple(_shown(job, zone.id, zone_label(zone), system) for zone in job.zones)
    if not zones:
        return (form,)
    return form, Section("Zones shown to the owner", zones, ("Shown for",), label_width=22)


def _shown(job: LoadedJob, zone_id: str, label: str, system: System) -> Row:
    held = next((one for one in job.zones_shown if one.zone_id == zone_id), None)
    row_id = held.id if held is not None else zone_shown_id(zone_id)
    make = CellMaker(ZoneShown, row_id, held, system, {"zone_id": zone_id})
    return Row(label, (make.cell("shown_min", 10),))


def open_with_owner(job: LoadedJob) -> Count:
    """How many cells these sections ask for, and how many of them are open."""
    count = blanks(ChangeOrder, job.change_orders) + blanks(PunchItem, job.punch_items)
    return count + blanks(Warranty, job.warranties)
