"""What each place shows: pure builders from a loaded job to a sheet of cells. No Textual here."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from fieldbook.records.base import Place
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.screens.sheets.boxes_sheet import boxes
from fieldbook.screens.sheets.controller_sheet import controller
from fieldbook.screens.sheets.desk_sheet import desk
from fieldbook.screens.sheets.ground_sheet import ground
from fieldbook.screens.sheets.sheet import Sheet
from fieldbook.screens.sheets.street_sheet import street
from fieldbook.units import System

BUILDERS: Mapping[Place, Callable[[LoadedJob, System], Sheet]] = {
    "street": street,
    "boxes": boxes,
    "ground": ground,
    "controller": controller,
    "desk": desk,
}
