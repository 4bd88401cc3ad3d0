"""What each place shows: pure builders from a loaded job to a sheet of cells. No Textual here."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from fieldbook.checks.finding import Place
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.screens.sheets.boxes import boxes
from fieldbook.screens.sheets.controller import controller
from fieldbook.screens.sheets.desk import desk
from fieldbook.screens.sheets.ground import ground
from fieldbook.screens.sheets.sheet import Sheet
from fieldbook.screens.sheets.street import street
from fieldbook.units import System

BUILDERS: Mapping[Place, Callable[[LoadedJob, System], Sheet]] = {
    "street": street,
    "boxes": boxes,
    "ground": ground,
    "controller": controller,
    "desk": desk,
}
