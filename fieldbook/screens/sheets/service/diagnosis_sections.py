"""What is wrong: a row for each zone, which opens the page of its diagnosis."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.finding import CellRef
from fieldbook.checks.measured.flow_readings import newest_first
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.zones import Zone
from fieldbook.screens.sheets.options import zone_label
from fieldbook.screens.sheets.service.diagnosis_press import OpenDiagnosis
from fieldbook.screens.sheets.sheet import Row, Section, press_cell
from fieldbook.units import System

_WHY = "Enter ranks what could be wrong with the zone by what was read of it."


def diagnosis_sections(job: LoadedJob, _system: System) -> Iterator[Section]:
    """The section, once there is a zone. Nothing is worked out before the page is opened."""
    if not job.zones:
        return
    rows = tuple(_row(job, zone) for zone in job.zones)
    yield Section("What is wrong with a zone", rows, ("Zone",), label_width=4)


def _row(job: LoadedJob, zone: Zone) -> Row:
    measured = newest_first(job, zone.id)
    on = (measured[0].measured_on or "no day") if measured else ""
    text = f"measured {on}" if on else "type readings"
    at = CellRef("zone", zone.id, "diagnosis")
    return Row(zone_label(zone), (press_cell(OpenDiagnosis(zone.id), at, text, 20, _WHY),))
