"""What each zone of a job needs in each month, or what is missing for saying so."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from fieldbook.checks.common.naming import zone_name
from fieldbook.checks.finding import CellRef, Missing
from fieldbook.checks.watering.weather_rows import job_weather, weather_lacks
from fieldbook.checks.watering.zone_evenness import zone_evenness
from fieldbook.checks.watering.zone_rates import zone_gpm, zone_rate
from fieldbook.records.column_values import amount
from fieldbook.records.ids import zone_watering_id
from fieldbook.records.loaded_job import LoadedJob, once_per_job
from fieldbook.records.tables.watering.zone_watering import ZoneWatering
from fieldbook.records.tables.zones import Zone
from fieldbook.trade.plants_and_soils import AVAILABLE_SOURCE, plants_and_soils
from fieldbook.watering.cycle_soak import Intake, soil_intake
from fieldbook.watering.figure import Figure
from fieldbook.watering.new_plants import NewPlanting
from fieldbook.watering.plant_water import PlantWater, entered_plant_water, plant_water
from fieldbook.watering.root_zone import usable_in
from fieldbook.watering.run_multiplier import Evenness, Way, multiplier, way_named
from fieldbook.watering.zone_need import MonthNeed, ZoneWater, season_needs

_SHADE = "shaded or sheltered"


@dataclass(frozen=True)
class ZoneSeason:
    """One zone's watering: what it needs by month, and what that rests on.

    water: None while anything is missing; needs is then empty. missing: each thing with its cell.
    evenness and way: how evenly it waters, and which multiplier follows. new: what was planted anew
    and when, if anything.
    """

    zone: Zone
    water: ZoneWater | None
    needs: Mapping[int, MonthNeed]
    evenness: Evenness
    way: Way
    missing: tuple[Missing, ...] = ()
    new: NewPlanting | None = None

    @property
    def peak(self) -> MonthNeed | None:
        """The month that needs most; None while nothing is known."""
        return max(self.needs.values(), key=lambda need: need.need_in_day, default=None)


@once_per_job
def zone_seasons(job: LoadedJob) -> tuple[ZoneSeason, ...]:
    """Every zone's watering, in the order of the zones."""
    return tuple(_season(job, zone) for zone in job.zones)


def season_of(job: LoadedJob, zone_id: str) -> ZoneSeason | None:
    """The watering of one zone; None of a zone that the job doesn't have."""
    return next((one for one in zone_seasons(job) if one.zone.id == zone_id), None)


def _season(job: LoadedJob, zone: Zone) -> ZoneSeason:
    row, rate, site = job.watering_of(zone.id), zone_rate(job, zone), job.watering_site
    evenness = zone_evenness(job, zone)
    way, more = multiplier(evenness, way_named(site.multiplier if site is not None else None))
    plants, usable = zone_plants(zone, row), zone_usable(zone, row)
    missing = (*_lacks(job, zone, rate, plants), *weather_lacks(job))
    water = None
    if rate is not None and plants is not None and usable is not None:
        gpm = zone_gpm(job, zone)
        water = ZoneWater(
            key=zone.id,
            name=zone_name(zone),
            rate=rate,
            multiplier=_used(way, more, evenness),
            plants=plants,
            usable=usable,
            intake=zone_intake(zone, row),
            runoff_min=amount(row, "runoff_min"),
            gpm=gpm.value if gpm is not None else None,
        )
    needs = season_needs(water, job_weather(job)) if water is not None else {}
    return ZoneSeason(zone, water, needs, evenness, way, missing, _new_planting(row))


def _used(way: Way, more: float, evenness: Evenness) -> Figure:
    """The multiplier with the way it was worked out and the figure it rests on."""
    by = {"low half": evenness.low_half, "coefficient": evenness.coefficient}
    figure = by.get(way) or evenness.low_quarter
    row = plants_and_soils().multipliers[way]
    if way == "none":
        return Figure(more, "entered", row["words"])
    words = f"{row['words']}, which is {figure.value:.2f}: {figure.source}; {row['source']}"
    return Figure(more, figure.origin, words)


def _lacks(
    job: LoadedJob, zone: Zone, rate: Figure | None, plants: PlantWater | None
) -> list[Missing]:
    """What is missing of the zone itself, in the order in which it is entered."""
    row_id, name = zone_watering_id(zone.id), zone_name(zone)
    found = []
    if rate is None:
        row = job.watering_of(zone.id)
        if amount(row, "area_ft2") is None:
            at = CellRef("zone_watering", row_id, "area_ft2")
            found.append(Missing(f"the area of {name}", at))
        else:
            at = CellRef("zone", zone.id, "design_flow_gpm")
            found.append(Missing(f"the flow of {name}", at))
    if plants is None:
        at = CellRef("zone_watering", row_id, "planting")
        found.append(Missing(f"the planting of {name}", at))
    if zone.soil not in plants_and_soils().soils:
        found.append(Missing(f"the soil of {name}", CellRef("zone", zone.id, "soil")))
    return found


def zone_plants(zone: Zone, row: ZoneWatering | None) -> PlantWater | None:
    """What a zone's plants use: by the factor entered, else by its planting; None of neither."""
    factor = amount(row, "plant_factor")
    if factor is not None:
        return entered_plant_water(Figure(factor, "entered"))
    if row is None or row.planting not in plants_and_soils().plants:
        return None
    listed = plants_and_soils()
    exposure = row.exposure or (_SHADE if zone.sun == "shade" else None)
    return plant_water(
        str(row.planting),
        row.density if row.density in listed.density else None,
        exposure if exposure in listed.exposure else None,
    )


def zone_usable(zone: Zone, row: ZoneWatering | None) -> Figure | None:
    """Inches that may be used between waterings: soil by roots by the part that may be used."""
    listed = plants_and_soils()
    soil = listed.soils.get(zone.soil or "")
    planted = listed.plants.get(row.planting or "") if row is not None else None
    roots, part = amount(row, "root_in"), amount(row, "depletion_pct")
    if soil is None or (planted is None and (roots is None or part is None)):
        return None
    depth = roots if roots is not None else planted.root_in if planted else 0.0
    used = part / 100.0 if part is not None else planted.depletion if planted else 0.0
    dug = "entered" if roots is not None else "stated default"
    why = "entered" if part is not None or planted is None else planted.depletion_source
    words = (
        f"{soil.name} {soil.available_in_in:.3f} in/in ({AVAILABLE_SOURCE}) x {depth:g} in of "
        f"roots ({dug}) x {used:.2f} ({why})"
    )
    return Figure(usable_in(soil.available_in_in, depth, used), "worked out", words)


def zone_intake(zone: Zone, row: ZoneWatering | None) -> Intake | None:
    """What a zone's soil takes at its slope and cover; None of a soil that is not listed."""
    if zone.soil not in plants_and_soils().soils:
        return None
    bare = row is not None and row.cover == "bare"
    compact = row is not None and row.compact is True
    slope_pct = amount(zone, "slope_pct") or 0.0
    return soil_intake(str(zone.soil), slope_pct, bare=bare, compact=compact)


def _new_planting(row: ZoneWatering | None) -> NewPlanting | None:
    if row is None or not row.new_plants or not row.planted_on:
        return None
    try:
        return NewPlanting(row.new_plants, date.fromisoformat(row.planted_on))
    except ValueError:
        return None
