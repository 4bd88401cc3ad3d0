"""The weather, the water budget and the rebate papers, as sections of the desk's sheet."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.actions.usual import REBATE_PAPERS, add_rebate_papers
from fieldbook.checks.finding import CellRef
from fieldbook.checks.watering.water_budget import WaterBudget, water_budget
from fieldbook.checks.watering.weather_rows import job_weather
from fieldbook.records.ids import once_id, weather_month_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.watering.watering_site import RebatePaper, WateringSite, WeatherMonth
from fieldbook.screens.sheets.presses import Add, AddRow, ShowSteps
from fieldbook.screens.sheets.sheet import (
    CellMaker,
    Mood,
    Row,
    Section,
    add_line,
    press_cell,
    table_section,
)
from fieldbook.units import SHORT_LENGTH, VOLUME, System, show
from fieldbook.watering.monthly_weather import MONTH_NAMES, MonthWeather

_SITE = (
    *("latitude_deg", "elevation_ft", "et_source", "rain_pct", "multiplier"),
    *("allowance", "landscape_ft2", "special_ft2", "rain_allowed"),
)
_MONTH = (
    *(("et_in", 8), ("high_deg_f", 6), ("low_deg_f", 6), ("rain_in", 8)),
    *(("humidity_pct", 6), ("wind_mph", 6), ("sun_h", 6)),
)
_MONTH_HEADS = ("Needs a day", "ET", "High F", "Low F", "Rain", "Humid", "Wind", "Sun")


def weather(job: LoadedJob, system: System) -> Iterator[Section]:
    """Where the property is, the weather of its months, and the budget where it can be made."""
    row_id = job.watering_site.id if job.watering_site else once_id(job.job.id, "watering_site")
    make = CellMaker(WateringSite, row_id, job.watering_site, system)
    yield Section("Watering: the site and its allowance", tuple(make.form(*_SITE)))
    known = job_weather(job)
    rows = tuple(_month(job, month, known.get(month), system) for month in range(1, 13))
    yield Section("Weather by month: type ET, or highs and lows", rows, _MONTH_HEADS, 10)
    yield from _budget(water_budget(job), system)


def _month(job: LoadedJob, month: int, known: MonthWeather | None, system: System) -> Row:
    row_id = weather_month_id(job.job.id, month)
    held = next((one for one in job.weather_months if one.month == month), None)
    make = CellMaker(WeatherMonth, row_id, held, system, {"month": month})
    name = MONTH_NAMES[month - 1]
    cells = tuple(make.cell(column, width) for column, width in _MONTH)
    at = CellRef("weather_month", row_id, "et a day")
    text = show(known.et_in_day, SHORT_LENGTH, system) if known is not None else "-"
    steps = ShowSteps(f"Reference ET of {name}", _et_words(known, system))
    return Row(name, (press_cell(steps, at, text, 11, "What the reference grass uses."), *cells))


def _et_words(known: MonthWeather | None, system: System) -> str:
    """How a month's ET came about, each step on a line."""
    if known is None:
        return "Not checked: type ET, or the highs and lows with the latitude."
    lines = [f"Reference ET {show(known.et_in_day, SHORT_LENGTH, system)} a day: {known.words}"]
    if known.steps is not None:
        steps = known.steps
        lines += [
            f"Radiation above the air {steps.outside:.2f} MJ/m2, on the ground {steps.ground:.2f}",
            f"Net short-wave {steps.net_short:.2f}, long-wave {steps.net_long:.2f}, "
            f"into the soil {steps.soil:.2f}",
            f"Air {steps.pressure_kpa:.1f} kPa, vapour {steps.vapour_kpa:.3f} of "
            f"{steps.saturated_kpa:.3f} kPa, slope {steps.slope:.4f}",
            f"From radiation {steps.radiation_mm:.2f} mm, from wind {steps.wind_mm:.2f} mm",
        ]
    lines.append(f"Rain that counts {show(known.rain_in_day, SHORT_LENGTH, system)} a day")
    return "\n".join(lines)


def _budget(budget: WaterBudget, system: System) -> Iterator[Section]:
    """The year against the ordinance, and the peak month against the EPA's budget."""
    rows = []
    if budget.missing and budget.allowance is not None:
        missing = ", ".join(one.words for one in budget.missing[:3])
        rows.append(Row("Year", tail=f"- not checked: {missing}"))
    if budget.used_gal is not None:
        rows.append(Row("Plantings use", tail=_gallons(budget.used_gal, system)))
    if budget.planned_gal is not None:
        rows.append(Row("The schedule gives", tail=_gallons(budget.planned_gal, system)))
    if budget.allowed_gal is not None and budget.allowance is not None:
        sign, mood = _sign(not budget.exceeded)
        words = f"{sign} {_gallons(budget.allowed_gal, system)} {budget.allowance.name}"
        rows.append(Row("Allowed a year", tail=words, tail_mood=mood))
    if budget.peak is not None:
        sign, mood = _sign(budget.peak.passes)
        need = _gallons(budget.peak.need_gal, system)
        allowed = _gallons(budget.peak.allowed_gal, system)
        words = f"{sign} {need} of {allowed} (EPA method)"
        rows.append(Row("Peak month", tail=words, tail_mood=mood))
    if rows:
        yield Section("Water budget", tuple(rows))


def _sign(good: bool) -> tuple[str, Mood]:
    return ("+", "good") if good else ("!", "bad")


def _gallons(gallons: float, system: System) -> str:
    return show(round(gallons), VOLUME, system)


@dataclass(frozen=True)
class AddRebatePapers(Add):
    """Adds the papers that water agencies usually ask for, none of them in hand yet."""

    @property
    def at(self) -> CellRef:
        """The line's own address."""
        return CellRef("rebate_paper", "", "add rebate papers")

    def add(self, open_job: OpenJob) -> CellRef:
        """Add them: the first one's day is filled in first."""
        return CellRef("rebate_paper", add_rebate_papers(open_job), "due_on")

    def add_typed(self, open_job: OpenJob, text: str) -> CellRef:
        """Nothing is typed here: several rows are added at once."""
        raise RefusedError("Press Enter to add them, then fill in each.")


def rebate_papers(job: LoadedJob, system: System) -> Section:
    """The papers of a rebate, with their days."""
    section = table_section(
        job.rebate_papers,
        RebatePaper,
        system,
        "Rebate papers",
        (("paper", 34), ("due_on", 10), ("in_hand", 7), ("note", 26)),
        AddRow("rebate_paper", "rebate paper", "paper"),
    )
    if job.rebate_papers:
        return section
    usual = add_line(AddRebatePapers(), f"+ the usual {len(REBATE_PAPERS)} papers")
    return Section(section.title, (usual, *section.rows), section.heads, section.label_width)
