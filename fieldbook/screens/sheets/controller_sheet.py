"""The controllers: what is under each terminal, the tests, and the controllers themselves."""

from __future__ import annotations

from collections.abc import Sequence

from fieldbook.actions.controllers import add_controller
from fieldbook.checks.wire.zone_feeds import is_at_valves
from fieldbook.records.ids import once_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.controller import Controller, OtherController
from fieldbook.screens.sheets.options import link_cell
from fieldbook.screens.sheets.presses import AddRow
from fieldbook.screens.sheets.programmes.programme_sections import programme_sections
from fieldbook.screens.sheets.sheet import (
    Asked,
    CellMaker,
    Count,
    Row,
    Section,
    Sheet,
    add_line,
    blanks,
)
from fieldbook.screens.sheets.sign_off_sections import sign_off_section
from fieldbook.screens.sheets.terminal_rows import open_terminals, terminal_sections, test_sections
from fieldbook.screens.sheets.watering.need_sections import needs, sensors
from fieldbook.trade.cautions import cautions_at
from fieldbook.units import System

_BEFORE_BOX: Sequence[str] = (
    *("location", "make", "model", "serial", "stations", "outdoors", "outdoor_model", "powered_by"),
)
_AFTER_BOX: Sequence[str] = (
    *("supply_near", "wire_in_conduit", "rain_sensor", "transformer_va", "output_v", "pull_in_v"),
    *("inrush_a", "holding_a", "relay_a", "soil_deg_f"),
)


def controller(job: LoadedJob, system: System) -> Sheet:
    """The sheet of the controllers."""
    return Sheet(
        (
            *terminal_sections(job, system),
            _controller(job, system),
            _others(job, system),
            sign_off_section(job, "energise"),
            *test_sections(job, system),
            sensors(job, system),
            *needs(job, system),
            *programme_sections(job, system),
        )
    )


def open_at_controller(job: LoadedJob) -> Count:
    """How many cells the sheet asks for and how many are open, counted without building it."""
    others = (blanks(OtherController, [one], _asked(job, one)) for one in job.other_controllers)
    first = blanks(Controller, [job.controller], _asked(job, job.controller))
    return first + sum(others, Count()) + open_terminals(job)


def _controller(job: LoadedJob, system: System) -> Section:
    row_id = job.controller.id if job.controller else once_id(job.job.id, "controller")
    make = CellMaker(Controller, row_id, job.controller, system, asked=_asked(job, job.controller))
    box = Row("In valve box", (link_cell(make, job, "box_id", 34),))
    rows = (*make.form(*_BEFORE_BOX), box, *make.form(*_AFTER_BOX))
    return Section("Controller", rows, cautions=cautions_at("controller"))


def _others(job: LoadedJob, system: System) -> Section:
    """The controllers beside the first, a row each."""
    rows = []
    for one in job.other_controllers:
        make = CellMaker(OtherController, one.id, one, system, asked=_asked(job, one))
        cells = (
            *make.cells(name=5, location=18, stations=9, powered_by=8),
            link_cell(make, job, "box_id", 6),
            *make.cells(outdoors=8, outdoor_model=8, supply_near=6, make=12, model=14),
        )
        rows.append(Row("Also", cells, removable=("other_controller", one.id)))
    adds = AddRow("other_controller", "controller", "location", add_controller)
    rows.append(add_line(adds, "+ another controller"))
    heads = (
        *("Name", "Where", "Terminals", "Power", "In box"),
        *("Outdoors", "Made for", "Supply", "Make", "Model"),
    )
    return Section("Other controllers on the property", tuple(rows), heads, label_width=6)


def _asked(job: LoadedJob, held: Controller | OtherController | None) -> Asked:
    """An outdoor model matters only outdoors, a power supply only where no battery feeds it.

    In a valve box nothing hangs on a wall.
    """
    boxed = is_at_valves(job, held)
    battery = held is not None and held.powered_by == "battery"
    asked = {
        "outdoors": not boxed,
        "outdoor_model": held is not None and held.outdoors is True and not boxed,
        "supply_near": not battery and not boxed,
    }
    return asked if isinstance(held, OtherController) else {**asked, "wire_in_conduit": not boxed}
