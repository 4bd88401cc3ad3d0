"""The load list: what the takeoff asks for, against what was loaded on the truck and used."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from fieldbook.materials.item import Group, Item, Unit
from fieldbook.materials.takeoff import takeoff
from fieldbook.records.column_values import amount
from fieldbook.records.ids import load_item_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.load_items import LoadItem

OWN = "own items"
_NOT_LOADED: tuple[Group, ...] = ("work",)
_ALIKE = 0.05
"""Feet or pieces by which a need may differ and is still the same: lengths are shown rounded."""


@dataclass(frozen=True)
class LoadLine:
    """An item with its figures, in feet or pieces as `unit` says; None is not entered.

    `needed_then` is what was needed when it was loaded. `key` is "" for an item of the crew's own.
    """

    row_id: str
    key: str
    group: str
    what: str
    unit: Unit
    needed: float | None
    needed_then: float | None = None
    loaded: float | None = None
    used: float | None = None

    @property
    def to_load(self) -> float:
        """How much is still to be loaded; 0 where more is loaded than needed."""
        return max((self.needed or 0.0) - (self.loaded or 0.0), 0.0)

    @property
    def on_truck(self) -> float:
        """How much is loaded and not used; less than 0 where more was used than loaded."""
        return (self.loaded or 0.0) - (self.used or 0.0)

    @property
    def need_changed(self) -> bool:
        """Whether the record asks for more or less of it than when it was loaded."""
        if self.loaded is None or self.needed_then is None or not self.key:
            return False
        return abs((self.needed or 0.0) - self.needed_then) > _ALIKE

    def column(self, name: str) -> str:
        """The column of "needed", "loaded" or "used" in the unit of this item."""
        return f"{name}_ft" if self.unit == "ft" else name


def load_lines(job: LoadedJob) -> Iterator[LoadLine]:
    """Every line: the takeoff's in its order, what it asks for no longer, the crew's own."""
    held: Mapping[str, LoadItem] = {row.id: row for row in job.load_items}
    asked: dict[str, Item] = {}
    needed: dict[str, float] = {}
    for item in takeoff(job).items:
        if item.group not in _NOT_LOADED:
            # Two cables of one kind are one line: they are loaded from one reel.
            asked.setdefault(item.what, item)
            needed[item.what] = needed.get(item.what, 0.0) + item.count
    for what, item in asked.items():
        row_id = load_item_id(job.job.id, what)
        yield _line(held.get(row_id), row_id, item, needed[what])
    for row in job.load_items:
        if row.key and row.key not in asked:
            unit: Unit = "each" if row.loaded_ft is None else "ft"
            gone = Item("work", row.key, 0.0, unit, "")
            yield _line(row, row.id, gone, 0.0, "no longer needed")
    for row in job.load_items:
        if not row.key:
            own = Item("work", row.item.strip() or "own item", 0.0, "each", "")
            yield _line(row, row.id, own, amount(row, "needed"), OWN)


def _line(
    row: LoadItem | None, row_id: str, item: Item, needed: float | None, group: str = ""
) -> LoadLine:
    ending = "_ft" if item.unit == "ft" else ""
    then, loaded, used = (
        amount(row, f"{name}{ending}") if row is not None else None
        for name in ("needed", "loaded", "used")
    )
    key = row.key if row is not None else item.what
    named = group or item.group
    return LoadLine(row_id, key, named, item.what, item.unit, needed, then, loaded, used)
