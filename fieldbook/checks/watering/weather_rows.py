"""The weather of a property's months, from what is entered at the desk."""

from __future__ import annotations

from collections.abc import Mapping

from fieldbook.checks.finding import CellRef, Missing
from fieldbook.records.column_values import amount
from fieldbook.records.ids import weather_month_id
from fieldbook.records.loaded_job import LoadedJob, once_per_job
from fieldbook.records.tables.watering.watering_site import WeatherMonth
from fieldbook.watering.monthly_weather import (
    MonthWeather,
    TypedMonth,
    WeatherSite,
    weather_of,
)

RAIN_PCT = 25
"""The part of a month's rain that counts where none is entered: as the EPA's budget tool has it,
from memory. It is shown as a stated default."""
PEAK_MONTH = 7
"""The month that is asked for first: north of the tropics it needs most."""


@once_per_job
def job_weather(job: LoadedJob) -> Mapping[int, MonthWeather]:
    """The months whose reference ET is typed or can be worked out, by number."""
    return weather_of(weather_site(job), [_typed(row) for row in job.weather_months if row.month])


def weather_site(job: LoadedJob) -> WeatherSite:
    """Where the property is, and which part of its rain counts."""
    site = job.watering_site
    rain_pct = amount(site, "rain_pct")
    return WeatherSite(
        latitude_deg=amount(site, "latitude_deg"),
        elevation_ft=amount(site, "elevation_ft") or 0.0,
        rain_part=(RAIN_PCT if rain_pct is None else rain_pct) / 100.0,
        et_source=site.et_source.strip() if site is not None else "",
    )


def weather_lacks(job: LoadedJob) -> tuple[Missing, ...]:
    """What is missing while the reference ET of no month is known."""
    if job_weather(job):
        return ()
    at = CellRef("weather_month", weather_month_id(job.job.id, PEAK_MONTH), "et_in")
    return (Missing("the reference ET of July", at),)


def _typed(row: WeatherMonth) -> TypedMonth:
    return TypedMonth(
        month=row.month or 0,
        et_in=amount(row, "et_in"),
        high_f=amount(row, "high_deg_f"),
        low_f=amount(row, "low_deg_f"),
        rain_in=amount(row, "rain_in"),
        humidity_pct=amount(row, "humidity_pct"),
        wind_mph=amount(row, "wind_mph"),
        sun_h=amount(row, "sun_h"),
    )
