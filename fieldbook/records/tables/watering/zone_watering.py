"""What a zone waters and on what ground, for its run time. Soil, slope and sun are the zone's."""

from typing import Annotated, ClassVar

from fieldbook.records.base import Place, Record
from fieldbook.records.fact import amount, choice, day, hidden, tick, whole
from fieldbook.trade.plants_and_soils import DENSITIES, EXPOSURES, NEW_PLANTS, PLANTS
from fieldbook.units import AREA, EMITTER_FLOW, LENGTH, MINUTES, RATIO, SHORT_LENGTH

COVERS = ("covered", "bare")
PATTERNS = ("square", "triangle")


class ZoneWatering(Record, table="zone_watering"):
    """The ground, the plants and the spacing of one zone."""

    title: ClassVar[str] = "zone's watering"
    sheet: ClassVar[Place] = "ground"

    zone_id: Annotated[str | None, hidden("Zone", "zone")] = None
    area_ft2: Annotated[
        float | None,
        amount("Area", AREA, (1, 1e6), "The ground it wets: its flow over this is its rate."),
    ] = None
    planting: Annotated[
        str | None,
        choice("Planting", PLANTS, "Sets its part of reference ET, its roots, what may be used."),
    ] = None
    plant_factor: Annotated[
        float | None,
        amount("Factor", RATIO, (0.01, 1.5), "Part of reference ET; blank is the planting's."),
    ] = None
    density: Annotated[
        str | None, choice("Density", DENSITIES, "Of beds and shrubs; blank is average.")
    ] = None
    exposure: Annotated[
        str | None,
        choice("Exposure", EXPOSURES, "Blank follows the zone's sun: shade is sheltered."),
    ] = None
    root_in: Annotated[
        float | None,
        amount("Roots", SHORT_LENGTH, (1, 72), "How deep, by spade; blank is the planting's."),
    ] = None
    depletion_pct: Annotated[
        int | None,
        whole("May use, %", 5, 90, "Of the water held, before the next watering; blank is usual."),
    ] = None
    cover: Annotated[
        str | None, choice("Cover", COVERS, "Grass or mulch, or bare soil; blank is covered.")
    ] = None
    compact: Annotated[
        bool | None,
        tick("Compacted", "The subsoil is compacted, as after building.", either=True),
    ] = None
    runoff_min: Annotated[
        float | None,
        amount(
            "Run-off after",
            MINUTES,
            (0.5, 600),
            "Minutes until water ran off, timed on the spot: it wins over the soil's table.",
        ),
    ] = None
    new_plants: Annotated[
        str | None, choice("New", NEW_PLANTS, "What was planted anew, if anything.")
    ] = None
    planted_on: Annotated[str | None, day("Planted on", "Day 1 of its establishment.")] = None
    spacing_ft: Annotated[
        float | None,
        amount("Spacing", LENGTH, (0.1, 120), "Between heads; of dripline between emitters."),
    ] = None
    rows_ft: Annotated[
        float | None, amount("Rows", LENGTH, (0.1, 120), "Between rows; blank is the spacing.")
    ] = None
    pattern: Annotated[
        str | None, choice("Pattern", PATTERNS, "Of the heads; blank is square.")
    ] = None
    emitters: Annotated[int | None, whole("Emitters", 1, 100000, "Of drip, in the zone.")] = None
    emitter_gph: Annotated[
        float | None, amount("Each", EMITTER_FLOW, (0.05, 50), "Flow of one emitter.")
    ] = None
    plant_count: Annotated[
        int | None, whole("Plants", 1, 100000, "That the emitters feed: gallons a plant and hour.")
    ] = None
