"""The programmes of a job as they run: terminals, their zones by the wire map, a season's days."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from functools import lru_cache

from fieldbook.checks.common.naming import address_words, controller_name, terminal_name, zone_name
from fieldbook.checks.watering.controller.job_permits import permit_of
from fieldbook.checks.watering.zone_rates import zone_gpm
from fieldbook.checks.wire.addresses import joined_addresses
from fieldbook.checks.wire.ends import joined_wires
from fieldbook.checks.wire.wire_evidence import end_name
from fieldbook.checks.wire.wire_tests import ran_at
from fieldbook.records.column_values import amount
from fieldbook.records.days import day_of
from fieldbook.records.ids import programme_minutes_id, terminal_id
from fieldbook.records.loaded_job import LoadedJob, once_per_job
from fieldbook.records.tables.controller import Terminal
from fieldbook.records.tables.watering.programmes import ProgrammeMinutes, ProgrammeRow
from fieldbook.records.tables.zones import Zone
from fieldbook.trade.watering.clock_times import read_times
from fieldbook.trade.watering.day_pattern import DayPattern, read_days
from fieldbook.watering.programmes.controller_programme import (
    MonthPercents,
    Overlap,
    Programme,
    StationTime,
    read_months,
)
from fieldbook.watering.programmes.season_calendar import (
    SeasonCalendar,
    Station,
    season_calendar,
)


@dataclass(frozen=True)
class Outlet:
    """One zone terminal of a controller.

    `meant` is the zone that it is meant for, `runs` the one that it runs: the zone that was seen to
    run, else the one to which its wire's colour leads, else the one that is meant. `proven` says
    that it was seen or that the colours join.
    """

    terminal_id: str
    number: int
    controller_id: str | None
    meant: Zone | None
    runs: Zone | None
    proven: bool

    @property
    def crossed(self) -> bool:
        """Whether it runs another zone than it is meant for."""
        return self.meant is not None and self.runs is not None and self.runs is not self.meant


@once_per_job
def outlets(job: LoadedJob) -> tuple[Outlet, ...]:
    """Every zone terminal, by controller and number; one a zone where no terminal is entered."""
    # On a two-wire path the decoder's address stands for the colour.
    joined = (*joined_wires(job).wires, *joined_addresses(job).wires)
    by_colour = {wire.controller.name: wire.box.station for wire in joined}
    found = [
        _outlet(job, one, by_colour.get(end_name(one)))
        for one in job.terminals
        if one.role == "zone" and one.number is not None
    ]
    known = {one.terminal_id for one in found}
    named = {one.meant.id for one in found if one.meant is not None}
    for zone in job.zones:
        row_id = terminal_id(job.job.id, "zone", zone.number or 0)
        if zone.number is not None and row_id not in known and zone.id not in named:
            found.append(Outlet(row_id, zone.number, None, zone, zone, proven=False))
    return tuple(sorted(found, key=lambda one: (one.controller_id or "", one.number)))


def _outlet(job: LoadedJob, terminal: Terminal, station: str | None) -> Outlet:
    meant, ran = job.terminal_zone(terminal), ran_at(job, terminal)
    seen = job.zone(next(iter(ran))) if ran is not None and len(ran) == 1 else None
    runs = seen or job.zone(station)
    return Outlet(
        terminal.id,
        terminal.number or 0,
        terminal.controller_id,
        meant,
        runs or meant,
        proven=runs is not None,
    )


def outlet_words(job: LoadedJob, outlet: Outlet) -> str:
    """Such as "terminal 3, zone 3 (front lawn)", and where its wire leads elsewhere, that too."""
    row = job.find(Terminal, outlet.terminal_id)
    name = terminal_name(job, row) if row is not None else f"terminal {outlet.number}"
    if outlet.meant is None:
        return f"{name}, no zone"
    if row is not None and row.address is not None:
        name = f"{name}, {address_words(row.address, row.output)}"
    words = f"{name}, {zone_name(outlet.meant)}"
    return f"{words}: its wire leads to {zone_name(outlet.runs)}" if outlet.crossed else words


@dataclass(frozen=True)
class JobProgramme:
    """A row of the programmes as it can be played. `unread` names a column that can't be read."""

    row: ProgrammeRow
    programme: Programme
    unread: str = ""


def minutes_of(job: LoadedJob, programme_id: str, terminal: int) -> float | None:
    """The minutes of a terminal in a programme; None where none are entered."""
    at = programme_minutes_id(programme_id, terminal)
    return amount(job.find(ProgrammeMinutes, at), "run_min")


@once_per_job
def job_programmes(job: LoadedJob) -> tuple[JobProgramme, ...]:
    """Every programme, in the order of the record."""
    return tuple(_programme(job, row) for row in job.programmes)


def _programme(job: LoadedJob, row: ProgrammeRow) -> JobProgramme:
    unread = ""
    months: MonthPercents = ()
    try:
        months = read_months(row.percent_by_month or "")
    except ValueError:
        unread = "percent_by_month"
    cycle, soak = amount(row, "cycle_min"), amount(row, "soak_min")
    stations = tuple(
        StationTime(one.terminal_id, minutes, cycle, soak or 0.0)
        for one in outlets(job)
        if one.controller_id == row.controller_id
        and (minutes := minutes_of(job, row.id, one.number))
    )
    percent = amount(row, "percent")
    programme = Programme(
        programme_name(row),
        _read_days(row.days),
        _read_starts(row.starts),
        stations,
        100.0 if percent is None else percent,
        months,
        day_of(row.first_day),
        day_of(row.last_day),
    )
    return JobProgramme(row, programme, unread)


def programme_name(row: ProgrammeRow) -> str:
    """The letter of a programme, or a word for one without."""
    return (row.name or "").strip() or "without a name"


def _read_days(text: str) -> DayPattern:
    try:
        return read_days(text) if text else DayPattern("none")
    except ValueError:
        return DayPattern("none")


def _read_starts(text: str) -> tuple[int, ...]:
    try:
        return read_times(text or "")
    except ValueError:
        return ()


def programmes_on(job: LoadedJob, controller_id: str | None) -> list[JobProgramme]:
    """The programmes of one controller; None is the first."""
    return [one for one in job_programmes(job) if (one.row.controller_id or None) == controller_id]


def overlap_of(job: LoadedJob) -> Overlap | None:
    """What the controller does with a start while another programme runs; None if not known."""
    held = job.watering_facts.overlap if job.watering_facts is not None else None
    if held == "at once":
        return "at once"
    return "one after the other" if held == "one after the other" else None


def controllers_of(job: LoadedJob) -> Iterator[tuple[str | None, str]]:
    """The id and name of each controller that has a programme; None is the first."""
    used = {row.controller_id for row in job.programmes}
    if None in used or "" in used:
        yield None, "the controller"
    for other in job.other_controllers:
        if other.id in used:
            yield other.id, controller_name(other)


def stations_of(job: LoadedJob) -> tuple[Station, ...]:
    """Every terminal as the calendar sees it: the permit and the flow of the zone that it runs."""
    found = []
    for one in outlets(job):
        if one.runs is not None:
            flow = zone_gpm(job, one.runs)
            gpm = flow.value if flow is not None else None
            found.append(Station(one.terminal_id, permit_of(job, one.runs), gpm))
    return tuple(found)


def calendar_of(
    job: LoadedJob, controller_id: str | None, first: date, last: date
) -> SeasonCalendar:
    """The days of a season for the programmes of one controller."""
    programmes = tuple(one.programme for one in programmes_on(job, controller_id))
    mine = {one.terminal_id for one in outlets(job) if one.controller_id == controller_id}
    stations = tuple(one for one in stations_of(job) if one.name in mine)
    overlap = overlap_of(job) or "one after the other"
    return _played(programmes, stations, (first, last), overlap)


# Most entries change no programme: the season is then not played anew. All that it follows from is
# in the key; a permit is in it by identity, and is shared between jobs (`permit_for`).
@lru_cache(maxsize=8)
def _played(
    programmes: tuple[Programme, ...],
    stations: tuple[Station, ...],
    season: tuple[date, date],
    overlap: Overlap,
) -> SeasonCalendar:
    return season_calendar(programmes, stations, *season, overlap)


def season_of_job(job: LoadedJob, today: date) -> tuple[date, date]:
    """From the first to the last day on which its programmes are in use; at most two years.

    Programmes without days of their own are played for the calendar year.
    """
    year = (date(today.year, 1, 1), date(today.year, 12, 31))
    firsts = [one.programme.first_day or year[0] for one in job_programmes(job)]
    lasts = [one.programme.last_day or year[1] for one in job_programmes(job)]
    first, last = min(firsts, default=year[0]), max(lasts, default=year[1])
    first = max(first, date(last.year - 1, 1, 1))
    return (first, last) if first <= last else year


def names_of(job: LoadedJob, stations: Sequence[str]) -> list[str]:
    """The words of terminals by their ids, in order."""
    by_id = {one.terminal_id: one for one in outlets(job)}
    return [outlet_words(job, by_id[one]) for one in stations if one in by_id]
