"""What each zone waters and on what ground, as a section of the ground's sheet."""

from __future__ import annotations

from fieldbook.checks.watering.zone_rates import plant_gph, zone_rate
from fieldbook.records.ids import zone_watering_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.watering.zone_watering import ZoneWatering
from fieldbook.records.tables.zones import Zone
from fieldbook.screens.sheets.options import zone_label
from fieldbook.screens.sheets.sheet import CellMaker, Row, Section
from fieldbook.units import EMITTER_FLOW, WATERING_RATE, System, show

_WIDTHS = (
    *(("area_ft2", 10), ("planting", 26), ("runoff_min", 9), ("root_in", 7), ("cover", 8)),
    *(("compact", 9), ("exposure", 18), ("density", 8), ("plant_factor", 6)),
    *(("depletion_pct", 7), ("new_plants", 16), ("planted_on", 10), ("spacing_ft", 8)),
    *(("rows_ft", 8), ("pattern", 8), ("emitters", 8), ("emitter_gph", 8), ("plant_count", 6)),
)
_HEADS = (
    *("Area", "Planting", "Run-off", "Roots", "Cover", "Compacted", "Exposure", "Density"),
    *("Factor", "May use", "New", "Planted on", "Spacing", "Rows", "Pattern", "Emitters"),
    *("Each", "Plants"),
)
_LABEL = 26


def zone_watering(job: LoadedJob, system: System) -> Section:
    """A row for each zone: its ground, its plants, the distances between its heads."""
    rows = tuple(_zone(job, zone, system) for zone in job.zones)
    title = "Watering of the zones: for the run times at the controller"
    return Section(title, rows, _HEADS, _LABEL)


def _zone(job: LoadedJob, zone: Zone, system: System) -> Row:
    row, row_id = job.watering_of(zone.id), zone_watering_id(zone.id)
    make = CellMaker(ZoneWatering, row_id, row, system, {"zone_id": zone.id})
    cells = tuple(make.cell(column, width) for column, width in _WIDTHS)
    each = plant_gph(row)
    tail = f"{show(each, EMITTER_FLOW, system)} a plant" if each is not None else ""
    return Row(zone_label(zone), cells, beside=_rate(job, zone, system), tail=tail)


def _rate(job: LoadedJob, zone: Zone, system: System) -> str:
    rate = zone_rate(job, zone)
    return show(rate.value, WATERING_RATE, system) if rate is not None else ""
