"""What each place shows: pure builders from a loaded job to a sheet of cells. No Textual here."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from fieldbook.checks.finding import Place
from fieldbook.records.loaded import LoadedJob
from fieldbook.screens.places.boxes import boxes
from fieldbook.screens.places.controller import controller
from fieldbook.screens.places.desk import desk
from fieldbook.screens.places.ground import ground
from fieldbook.screens.places.sheet import Sheet
from fieldbook.screens.places.street import street
from fieldbook.units import System

BUILDERS: Mapping[Place, Callable[[LoadedJob, System], Sheet]] = {
    "street": street,
    "boxes": boxes,
    "ground": ground,
    "controller": controller,
    "desk": desk,
}
