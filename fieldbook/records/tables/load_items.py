"""What is loaded on the truck for a property, and how much of it was used."""

from typing import Annotated, ClassVar

from fieldbook.records.base import Place, Record
from fieldbook.records.fact import amount, hidden, words
from fieldbook.units import LENGTH, RATIO

_MOST = (0, 100_000)
_LOADED = "On the truck. Space loads all that is needed; a number loads so many."
_USED = "Used on this property; what is loaded and not used goes back."


class LoadItem(Record, table="load_item"):
    """One line of the load list: an item of the takeoff by its words (`key`), or one of its own.

    Pipe and cable are counted in feet, everything else in pieces. `needed` is what the takeoff
    asked for when the item was loaded, so that a later change of the need shows; of an item of the
    crew's own it is what they typed.
    """

    title: ClassVar[str] = "load list item"
    sheet: ClassVar[Place] = "desk"

    key: Annotated[str, hidden("Item of the takeoff")] = ""
    item: Annotated[str, words("Item", "What to load besides what the record asks for.")] = ""
    needed: Annotated[float | None, amount("Needed", RATIO, _MOST, "So many pieces.")] = None
    needed_ft: Annotated[float | None, amount("Needed", LENGTH, _MOST, "So long.")] = None
    loaded: Annotated[float | None, amount("Loaded", RATIO, _MOST, _LOADED)] = None
    loaded_ft: Annotated[float | None, amount("Loaded", LENGTH, _MOST, _LOADED)] = None
    used: Annotated[float | None, amount("Used", RATIO, _MOST, _USED)] = None
    used_ft: Annotated[float | None, amount("Used", LENGTH, _MOST, _USED)] = None
