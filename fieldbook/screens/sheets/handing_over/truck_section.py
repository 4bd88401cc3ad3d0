"""The load list: each item is ticked or counted on the truck, and again when it is used."""

from __future__ import annotations

from dataclasses import dataclass, replace

from fieldbook.actions.loading import load_typed, tick_loaded
from fieldbook.actions.open_job import OpenJob
from fieldbook.checks.finding import CellRef
from fieldbook.materials.load_lines import OWN, LoadLine, load_lines
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.load_items import LoadItem
from fieldbook.screens.sheets.presses import AddRow, CountedPress
from fieldbook.screens.sheets.sheet import Cell, CellMaker, Row, Section, add_line
from fieldbook.units import LENGTH, RATIO, System, show

_HEADS = ("Loaded", "Used")
_OWN_HEADS = ("Item", "Needed", *_HEADS)


@dataclass(frozen=True)
class LoadItemPress(CountedPress):
    """How much of an item is loaded: Space loads all that is needed."""

    at: CellRef

    def keep(self, open_job: OpenJob, text: str) -> None:
        """Keep how much is loaded."""
        load_typed(open_job, self.at.row_id, text)

    def tick(self, open_job: OpenJob) -> bool:
        """Load all that is needed, or take that back."""
        return tick_loaded(open_job, self.at.row_id)

    @property
    def history_at(self) -> CellRef | None:
        """The column of the amount loaded."""
        return self.at


def load_list(job: LoadedJob, system: System) -> tuple[Section, ...]:
    """What the record asks for, as the takeoff counts it, then what the crew adds to it."""
    held = {row.id: row for row in job.load_items}
    rows: list[Row] = []
    own: list[Row] = []
    for line in load_lines(job):
        row = held.get(line.row_id)
        seed = {"key": line.key} if line.key else {}
        make = CellMaker(LoadItem, line.row_id, row, system, seed)
        cells = (_loaded(make, line), make.cell(line.column("used"), 7))
        if line.group == OWN:
            more = make.cells(item=26, needed=7)
            removable = ("load_item", line.row_id)
            own.append(Row(str(len(own) + 1), (*more, *cells), _tail(line, system), removable))
        else:
            needed = _amount(line.needed or 0.0, line, system)
            # The need stands first, so that a long name that is cut never hides it.
            rows.append(Row(f"{needed:>6} {line.what}", cells, _tail(line, system)))
    own.append(add_line(AddRow("load_item", "item to load", "item"), "+ an item of your own"))
    sections = [Section("Also to load", tuple(own), _OWN_HEADS, label_width=4)]
    if rows:
        title = "Load list: what the record needs (Space: it is loaded)"
        sections.insert(0, Section(title, tuple(rows), _HEADS, label_width=46))
    return tuple(sections)


def _loaded(make: CellMaker, line: LoadLine) -> Cell:
    """The cell of what is loaded."""
    cell = make.cell(line.column("loaded"), 7)
    return replace(cell, press=LoadItemPress(cell.at))


def _tail(line: LoadLine, system: System) -> str:
    """What is still to be done with the item, in words."""
    parts = []
    if line.need_changed:
        parts.append(f"! need was {_amount(line.needed_then or 0.0, line, system)}")
    if line.loaded is not None and line.to_load:
        parts.append(f"{_amount(line.to_load, line, system)} to load")
    if line.on_truck < 0:
        parts.append("! more used than loaded")
    elif line.used is not None and line.on_truck:
        parts.append(f"{_amount(line.on_truck, line, system)} left on the truck")
    elif line.group == "no longer needed":
        parts.append("no longer needed")
    return ", ".join(parts)


def _amount(value: float, line: LoadLine, system: System) -> str:
    return show(round(value, 2), LENGTH if line.unit == "ft" else RATIO, system)
