"""The sections of the programmes: each with its totals, the minutes by terminal, the rule."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date

from fieldbook.actions.watering.adding_programmes import add_programme
from fieldbook.actions.watering.place_rules import chosen_rule
from fieldbook.checks.finding import CellRef
from fieldbook.checks.watering.controller.job_permits import law_of_job
from fieldbook.checks.watering.controller.job_programmes import (
    JobProgramme,
    Outlet,
    job_programmes,
    outlet_words,
    outlets,
    programme_name,
    programmes_on,
)
from fieldbook.checks.watering.controller.programme_words import (
    day_words,
    needs_words,
    totals_of,
    totals_words,
    week_min,
    week_words,
)
from fieldbook.records.ids import once_id, programme_minutes_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.watering.programmes import (
    ProgrammeMinutes,
    ProgrammeRow,
    WateringFacts,
)
from fieldbook.records.values import Value
from fieldbook.screens.sheets.options import link_cell
from fieldbook.screens.sheets.presses import AddRow
from fieldbook.screens.sheets.programmes.programme_presses import (
    ChoosePlaceRule,
    OpenMonth,
    WorkOutProgrammes,
)
from fieldbook.screens.sheets.sheet import Cell, CellMaker, Row, Section, add_line, press_cell
from fieldbook.units import System

_FACTS = (
    *("house_number", "no_number", "property_kind", "water", "assigned_days", "watering_group"),
    *("street_side", "lot_ft2", "time_zone", "new_part_pct", "new_paper", "overlap"),
)
_WORK_OUT = (
    "Finds days, starts and minutes that the local rule allows and the zones need, and puts them "
    "in the place of what is here: one act, which Ctrl+Z takes back. Minutes: what the peak month "
    "needs in a week, over the waterings of a week, in cycles that the soil takes. Starts: the "
    "order with the fewest minutes in which nothing runs while zones soak."
)
_MONTH = (
    "Each day of a month: what the rule lets run, what does run, its minutes and gallons, and why "
    "a day is barred."
)
_PLACE = (
    "The published rule of a place, copied into the job with its source. They were read once, some "
    "in older copies: the authority decides. A rule set with a [watering] part brings its own."
)
_HEADS = ("Days", "Starts", "Percent", "By month", "From", "To", "Cycle", "Soak", "At")


def programme_sections(job: LoadedJob, system: System) -> Iterator[Section]:
    """The programmes, their minutes where there are any, and what the rules go by."""
    today = date.today()
    yield _programmes(job, system, today)
    if job.programmes:
        yield _minutes(job, system)
    yield _rules(job, system)


def _programmes(job: LoadedJob, system: System, today: date) -> Section:
    rows = []
    for one in job_programmes(job):
        make = CellMaker(ProgrammeRow, one.row.id, one.row, system)
        cells = (
            make.cell("days", 13),
            _explained(make.cell("starts", 17), day_words(job, one, today)),
            *make.cells(percent=4, percent_by_month=14, first_day=10, last_day=10),
            *make.cells(cycle_min=7, soak_min=7),
            link_cell(make, job, "controller_id", 5),
        )
        rows.append(
            Row(
                programme_name(one.row),
                cells,
                totals_words(totals_of(job, one, today)),
                removable=("programme", one.row.id),
            )
        )
    rows.append(add_line(AddRow("programme", "programme", "days", add_programme), "+ a programme"))
    rows.append(_line(WorkOutProgrammes(), "work out", "Work out the programmes", _WORK_OUT))
    rows.append(_line(OpenMonth(), "month", "Open the month", _MONTH))
    return Section("Programmes typed into the controller", tuple(rows), _HEADS, label_width=4)


def _line(press: OpenMonth | WorkOutProgrammes, column: str, text: str, why: str) -> Row:
    return Row("", (press_cell(press, CellRef("programme", "", column), text, 40, why),))


def _minutes(job: LoadedJob, system: System) -> Section:
    """A row a terminal, a column a programme."""
    rows = []
    for outlet in outlets(job):
        cells = tuple(
            _minutes_cell(outlet, one, job, system)
            for one in programmes_on(job, outlet.controller_id)
        )
        if cells:
            total = f"{week_min(job, outlet):.0f} min a week"
            needs = needs_words(job, outlet)
            tail = f"{total}, {needs}" if needs else total
            name = outlet_words(job, outlet)
            rows.append(Row(str(outlet.number), cells, f"{tail}  {name}"))
    heads = tuple(f"{programme_name(one.row)} min" for one in job_programmes(job))
    return Section("Minutes at each start, by terminal", tuple(rows), heads, label_width=4)


def _minutes_cell(outlet: Outlet, one: JobProgramme, job: LoadedJob, system: System) -> Cell:
    row_id = programme_minutes_id(one.row.id, outlet.number)
    seed: dict[str, Value] = {"programme_id": one.row.id, "terminal": outlet.number}
    held = job.find(ProgrammeMinutes, row_id)
    cell = CellMaker(ProgrammeMinutes, row_id, held, system, seed).cell("run_min", 8)
    return _explained(cell, week_words(held, one))


def _explained(cell: Cell, words: str) -> Cell:
    """The cell with how its number comes about after what it is."""
    return replace(cell, fact=replace(cell.fact, why=f"{cell.fact.why} {words}".strip()))


def _rules(job: LoadedJob, system: System) -> Section:
    """What the rules go by, with the rule of the job's rule set in words above it."""
    row_id = once_id(job.job.id, "watering_facts")
    make = CellMaker(WateringFacts, row_id, job.watering_facts, system)
    law = law_of_job(job)
    rule = [Row("", (), line) for line in law.lines()]
    source = Row("", (), f"Source: {law.source}")
    at = CellRef("rule", "", "watering rule")
    place = press_cell(ChoosePlaceRule(), at, chosen_rule(job), 40, _PLACE)
    # The rule stands above the facts, so that the cursor passes it on a small screen.
    rows = (Row("Rule", (place,)), *rule, source, *make.form(*_FACTS, width=24))
    return Section("Watering rule here", rows)
