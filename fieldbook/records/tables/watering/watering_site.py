"""The weather and the water allowance of a property, and the sensors that stop its watering."""

from typing import Annotated, ClassVar

from fieldbook.records.base import Place, Record
from fieldbook.records.fact import amount, choice, day, tick, whole, words
from fieldbook.trade.plants_and_soils import ALLOWANCES, MULTIPLIERS
from fieldbook.units import AREA, COORDINATE, HOURS, LENGTH, RATIO, SHORT_LENGTH

SENSOR_KINDS = ("rain", "freeze", "soil moisture", "wind", "flow")


class WateringSite(Record, table="watering_site"):
    """Where the property is, and what its watering is worked out with."""

    title: ClassVar[str] = "watering site"
    sheet: ClassVar[Place] = "desk"
    once: ClassVar[bool] = True

    latitude_deg: Annotated[
        float | None,
        amount(
            "Latitude", COORDINATE, (-90, 90), "North is positive; ET from temperatures needs it."
        ),
    ] = None
    elevation_ft: Annotated[
        float | None,
        amount("Elevation", LENGTH, (-1500, 15000), "Above the sea; blank counts as 0."),
    ] = None
    et_source: Annotated[
        str, words("ET figures from", "The station or page whose monthly ET is typed below.")
    ] = ""
    rain_pct: Annotated[
        int | None,
        whole("Rain that counts, %", 0, 100, "Of the month's rain; blank is a stated 25 %."),
    ] = None
    multiplier: Annotated[
        str | None,
        choice(
            "Multiplier",
            MULTIPLIERS,
            "How unevenness lengthens the run time. Blank: the low half where cans gave it, else "
            "softened, 1 / (0.4 + 0.6 DU).",
        ),
    ] = None
    landscape_ft2: Annotated[
        float | None,
        amount("Landscape", AREA, (1, 5e6), "All of it, for the water budget; blank adds zones."),
    ] = None
    special_ft2: Annotated[
        float | None,
        amount("Of it special", AREA, (0, 5e6), "Food gardens, reclaimed water: allowed all ET."),
    ] = None
    allowance: Annotated[
        str | None,
        choice("Water allowance", ALLOWANCES, "The ordinance that limits the water of a year."),
    ] = None
    rain_allowed: Annotated[
        bool | None,
        tick(
            "Rain is taken off",
            "The city takes up to a quarter of a year's rain off the allowance.",
            either=True,
        ),
    ] = None


class WeatherMonth(Record, table="weather_month"):
    """What is known of the weather in one month of an average year."""

    title: ClassVar[str] = "month's weather"
    sheet: ClassVar[Place] = "desk"

    month: Annotated[int | None, whole("Month", 1, 12)] = None
    et_in: Annotated[
        float | None,
        amount("ET", SHORT_LENGTH, (0, 20), "Reference ET in the whole month: it wins."),
    ] = None
    high_deg_f: Annotated[
        int | None, whole("High, F", -60, 140, "Mean of the daily highs: gives ET by Hargreaves.")
    ] = None
    low_deg_f: Annotated[int | None, whole("Low, F", -80, 120, "Mean of the daily lows.")] = None
    rain_in: Annotated[
        float | None, amount("Rain", SHORT_LENGTH, (0, 60), "In the whole month, on average.")
    ] = None
    humidity_pct: Annotated[
        int | None,
        whole("Humid %", 1, 100, "Mean; with wind it gives ET by Penman-Monteith."),
    ] = None
    wind_mph: Annotated[
        float | None, amount("Wind mph", RATIO, (0, 100), "Mean, as measured 33 ft up.")
    ] = None
    sun_h: Annotated[float | None, amount("Sun", HOURS, (0, 24), "Hours of sun a day.")] = None


class Sensor(Record, table="sensor"):
    """A sensor that stops the watering: what it is, where it hangs, how it is set."""

    title: ClassVar[str] = "sensor"
    sheet: ClassVar[Place] = "controller"

    kind: Annotated[
        str | None, choice("Kind", SENSOR_KINDS, "Local rules may require one of a kind.")
    ] = None
    where: Annotated[
        str,
        words("Where", "Rain: open sky, not under eaves or trees, not in the spray."),
    ] = ""
    setting: Annotated[
        str,
        words(
            "Set to",
            "Such as 1/4 in, 37 F or 20 %. A university's turf page advises 1/2 to 3/4 in of rain.",
        ),
    ] = ""
    tested_on: Annotated[
        str | None, day("Tested on", "Monthly in the wet season, else each quarter.")
    ] = None
    stops: Annotated[
        bool | None,
        tick(
            "Stops",
            "Wetted or pressed while a programme ran a zone, the zone stopped. A start by hand may "
            "go past the sensor.",
            source="Common practice, no source.",
        ),
    ] = None


class RebatePaper(Record, table="rebate_paper"):
    """A paper that a water agency asks for before it pays a rebate."""

    title: ClassVar[str] = "rebate paper"
    sheet: ClassVar[Place] = "desk"

    paper: Annotated[str, words("Paper", "Such as the itemised invoice.")] = ""
    due_on: Annotated[
        str | None, day("Due on", "Deadlines of 90 days and of a year are published.")
    ] = None
    in_hand: Annotated[bool | None, tick("In hand", "Kept with the job, or sent.")] = None
    note: Annotated[str, words("Note", "Number, agency, where it lies.")] = ""
