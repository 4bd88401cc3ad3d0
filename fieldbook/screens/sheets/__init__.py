"""What each place shows: pure builders from a loaded job to a sheet of cells.

`sheet.py` has the data (Sheet, Section, Row, Cell) and makes cells from records; `presses.py` says
what Enter and Space do on cells that are no plain column; `options.py` lists what a cell can be set
to; `drawing.py` turns a sheet into lines and segments; `explain.py` writes the help on a cell. Each
`*_sheet.py` builds one place, and counts its open cells without building it.

It may import actions, checks, papers, records and `widgets/terminal_cells.py`, never Textual. Start
with `sheet.py`, then `street_sheet.py`, the simplest builder.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial

from fieldbook.records.base import Place
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.screens.sheets.boxes_sheet import boxes, open_at_boxes
from fieldbook.screens.sheets.controller_sheet import controller, open_at_controller
from fieldbook.screens.sheets.desk_sheet import desk, open_at_desk
from fieldbook.screens.sheets.ground_sheet import ground, open_at_ground
from fieldbook.screens.sheets.service.service_sheet import open_at_service, service
from fieldbook.screens.sheets.sheet import Count, Sheet
from fieldbook.screens.sheets.sign_off_sections import countersigned_section
from fieldbook.screens.sheets.street_sheet import open_at_street, street
from fieldbook.units import System

_PLACES: Mapping[Place, Callable[[LoadedJob, System], Sheet]] = {
    "street": street,
    "boxes": boxes,
    "ground": ground,
    "controller": controller,
    "desk": desk,
    "service": service,
}


def build(place: Place, job: LoadedJob, system: System) -> Sheet:
    """The sheet of a place, below it whose entries there are countersigned."""
    sheet = _PLACES[place](job, system)
    return Sheet((*sheet.sections, *countersigned_section(job, place)))


BUILDERS: Mapping[Place, Callable[[LoadedJob, System], Sheet]] = {
    place: partial(build, place) for place in _PLACES
}
COUNTS: Mapping[Place, Callable[[LoadedJob], Count]] = {
    "street": open_at_street,
    "boxes": open_at_boxes,
    "ground": open_at_ground,
    "controller": open_at_controller,
    "desk": open_at_desk,
    "service": open_at_service,
}
"""How many cells of a place are open: what its sheet's `count` says, at a fraction of it."""
