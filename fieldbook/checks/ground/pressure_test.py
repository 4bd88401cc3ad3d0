"""The pressure test of a stretch: cement cured, water only, high and long enough, and its drop."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from fieldbook.checks.common.job_rules import figure
from fieldbook.checks.common.naming import quantity, run_name, sentence, stretch_name
from fieldbook.checks.common.water_source import supply_cell
from fieldbook.checks.finding import CellRef, Finding, Missing, Number
from fieldbook.checks.looked import Looked, stretch_rows
from fieldbook.checks.severity import Severity
from fieldbook.records.column_values import amount
from fieldbook.records.days import CLOCK_TOLERANCE, time_of
from fieldbook.records.ids import pressure_test_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.tests import PressureTest
from fieldbook.trade.pipes import PIPE_SIZES, rated_psi
from fieldbook.trade.solvent_cement import CURE_SOURCE, cure_min, is_cemented
from fieldbook.units import PRESSURE

_WATER = "PPFA User Bulletin 4-80: never compressed air or gas in plastic pipe; ASTM D2241, note 1."
_RATING = (
    "ASTM D1785, D2241: the rating at 73 F, less in the heat by the pipe's temperature factor; "
    "fittings may be less."
)
_RATED = "rating_psi"
_PRINTED = "The rating printed along the pipe, or on its sheet."
_MENDS = {
    "pressure dropped": "Mend what leaks, then test again and enter the new readings.",
    "tested before cured": "Wait until the cement has cured, test again, enter the new readings.",
    "test too short": "Hold the pressure for the whole time, and enter the new readings.",
    "tested too low": "Test again at that pressure or more, and enter the new readings.",
    "tested over the rating": "Look for damage, test again under the rating, enter the readings.",
}


@dataclass(frozen=True)
class Failure:
    """One way in which a test did not pass: the code of its flag, words, cell, source, figures."""

    code: str
    words: str
    column: str
    source: str
    numbers: tuple[Number, ...] = ()


def cemented_runs(job: LoadedJob, zone_id: str | None) -> list[PipeRun]:
    """The runs of a stretch whose joints are cemented; a run of no known class may be one."""
    return [run for run in job.runs_of(zone_id) if is_cemented(run.pipe_class)]


def cured_at(job: LoadedJob, test: PressureTest) -> datetime | None:
    """When the last joint has cured: by its label, else by the longest table for its pipe.

    None while no time is entered, and for pipe without cemented joints, which has no cure time.
    """
    cemented = time_of(test.cemented_at)
    runs = cemented_runs(job, test.zone_id)
    if cemented is None or (job.runs_of(test.zone_id) and not runs):
        return None
    minutes = amount(test, "label_min")
    # No cement cures in no time: a 0 was not read from a label.
    if not minutes:
        sizes = [run.size for run in runs if run.size in PIPE_SIZES]
        largest = max(sizes, key=PIPE_SIZES.index, default=None)
        tested_psi = amount(test, "start_psi") or least_psi(job)
        minutes = cure_min(largest, test.air_deg_f, test.humidity_pct, tested_psi)
    return cemented + timedelta(minutes=minutes)


def least_psi(job: LoadedJob) -> float:
    """What a test begins at, at least: the rule's figure or the static pressure, in psi."""
    return max(figure(job, "pressure_test_psi").value, amount(job.supply, "static_psi") or 0.0)


def lowest_rating(
    job: LoadedJob, zone_id: str | None, deg_f: float | None = None
) -> tuple[float, str] | None:
    """The lowest rating in psi of the pipe under test at a temperature, with its source.

    A run counts as its standard rates it, else as is printed along it. None: no rating is known.
    """
    found: list[tuple[float, str]] = []
    for run in job.runs_of(zone_id):
        published, printed = rated_psi(run.pipe_class, run.size, deg_f), amount(run, "rating_psi")
        if published is not None:
            found.append((published, _RATING))
        elif printed is not None:
            found.append((printed, _PRINTED))
    return min(found, default=None)


def _ratings_looked_at(job: LoadedJob, zone_id: str | None) -> Iterator[Looked]:
    """The runs whose rating no standard publishes: it is asked for as printed along the pipe."""
    runs = [
        run
        for run in job.runs_of(zone_id)
        if run.pipe_class and run.size and rated_psi(run.pipe_class, run.size) is None
    ]
    lacking = tuple(
        Missing(f"the rating printed on {run_name(job, run)}", CellRef("pipe_run", run.id, _RATED))
        for run in runs
        if run.rating_psi is None
    )
    if runs:
        name = f"pressure rating of {stretch_name(job, zone_id)}"
        yield Looked(name, frozenset(run.id for run in runs), lacking)


def lacks(job: LoadedJob, zone_id: str | None, by: datetime | None = None) -> list[Missing]:
    """All that keeps a stretch's pressure test from having passed, by a time; empty when it has."""
    test = job.pressure_test_of(zone_id)
    found = _not_entered(job, test, zone_id)
    if found or test is None:
        return found
    ended = time_of(test.ended_at)
    if ended is not None and by is not None and ended > by.replace(tzinfo=None) + CLOCK_TOLERANCE:
        words = f"a pressure test of {stretch_name(job, zone_id)} that ended by {by:%Y-%m-%d %H:%M}"
        return [Missing(words, CellRef("pressure_test", test.id, "ended_at"))]
    passed = f"a pressure test of {stretch_name(job, zone_id)} that passes"
    return [
        Missing(f"{passed} ({failure.words})", CellRef("pressure_test", test.id, failure.column))
        for failure in _failures(job, test)
    ]


def _not_entered(job: LoadedJob, test: PressureTest | None, zone_id: str | None) -> list[Missing]:
    row_id = test.id if test is not None else pressure_test_id(job.job.id, zone_id)
    where = stretch_name(job, zone_id)
    if test is None:
        at = CellRef("pressure_test", row_id, "began_at")
        return [Missing(f"the pressure test of {where}", at)]
    asked: list[tuple[str, str, object]] = [
        ("began_at", "the beginning", time_of(test.began_at)),
        ("start_psi", "the first reading", amount(test, "start_psi")),
        ("ended_at", "the end", time_of(test.ended_at)),
        ("end_psi", "the last reading", amount(test, "end_psi")),
    ]
    if cemented_runs(job, zone_id) or not job.runs_of(zone_id):
        words = "the time of the last cemented joint"
        asked.append(("cemented_at", words, time_of(test.cemented_at)))
    found = [
        Missing(
            f"{words} of the pressure test of {where}", CellRef("pressure_test", row_id, column)
        )
        for column, words, value in asked
        if value is None
    ]
    if amount(job.supply, "static_psi") is None:
        found.append(Missing("the static pressure", supply_cell(job, "static_psi")))
    unknown = next((run for run in job.runs_of(zone_id) if not (run.pipe_class and run.size)), None)
    if unknown is not None:
        at = CellRef("pipe_run", unknown.id, "size" if unknown.pipe_class else "pipe_class")
        found.append(Missing(f"the class and size of {run_name(job, unknown)}", at))
    if test.water_only is not True:
        at = CellRef("pressure_test", row_id, "water_only")
        found.append(Missing(f"what filled the pipe at the test of {where}, water only", at))
    return found


def check_pressure(job: LoadedJob, now: datetime) -> Iterator[Finding | Looked]:
    """The mainline's pressure test, and every other that was begun."""
    stretches = dict.fromkeys(test.zone_id for test in job.pressure_tests)
    if job.runs_of(None):
        stretches = {None: None, **stretches}
    for zone_id in stretches:
        signed = job.backfill_of(zone_id)
        test = job.pressure_test_of(zone_id)
        yield Looked(
            f"pressure test of {stretch_name(job, zone_id)}",
            stretch_rows(job, zone_id),
            tuple(_not_entered(job, test, zone_id)),
            "survey" if signed is not None and signed.signed_by else None,
        )
        yield from _ratings_looked_at(job, zone_id)
        if test is not None:
            yield from _flags(job, test)
            yield from _in_the_future(job, test, now)


def _flags(job: LoadedJob, test: PressureTest) -> Iterator[Finding]:
    """A test with air, and each way in which it did not pass."""
    where = stretch_name(job, test.zone_id)
    if test.water_only is False:
        yield Finding(
            "tested with air",
            "stop",
            f"{sentence(where)} was tested with something else than water.",
            "Never test plastic pipe with air or gas: let the pressure off from a distance, "
            "fill it with water, and test again.",
            CellRef("pressure_test", test.id, "water_only"),
            source=_WATER,
        )
    for failure in _failures(job, test):
        severity: Severity = "stop" if failure.code != "test too short" else "fix"
        yield Finding(
            failure.code,
            severity,
            f"The pressure test of {where} did not pass: {failure.words}.",
            _MENDS[failure.code],
            CellRef("pressure_test", test.id, failure.column),
            source=failure.source,
            numbers=failure.numbers,
        )


def _in_the_future(job: LoadedJob, test: PressureTest, now: datetime) -> Iterator[Finding]:
    """A test that ends later than now: its time, or this laptop's clock, is wrong."""
    ends = time_of(test.ended_at) or time_of(test.began_at)
    if ends is not None and ends > now.replace(tzinfo=None) + CLOCK_TOLERANCE:
        column = "ended_at" if time_of(test.ended_at) else "began_at"
        yield Finding(
            "test in the future",
            "fix",
            f"The pressure test of {stretch_name(job, test.zone_id)} is of {ends:%Y-%m-%d %H:%M}, "
            "which is later than now.",
            "Correct its time; if it is right, this laptop's clock is wrong.",
            CellRef("pressure_test", test.id, column),
        )


def _failures(job: LoadedJob, test: PressureTest) -> Iterator[Failure]:
    """Each way in which what was entered does not pass."""
    yield from _time_failures(job, test)
    start_psi, end_psi = amount(test, "start_psi"), amount(test, "end_psi")
    if start_psi is not None:
        yield from _start_failures(job, test, start_psi)
    most = figure(job, "pressure_test_drop_psi")
    if start_psi is not None and end_psi is not None and start_psi - end_psi > most.value + 1e-9:
        drop = start_psi - end_psi
        words = f"it dropped {quantity(job, drop, PRESSURE)}, and "
        numbers = (Number("drop", drop, "psi"), Number("most", most.value, "psi"))
        words += f"{quantity(job, most.value, PRESSURE)} is the most"
        yield Failure("pressure dropped", words, "end_psi", most.source, numbers)


def _time_failures(job: LoadedJob, test: PressureTest) -> Iterator[Failure]:
    """Begun before the cement had cured, or held too briefly."""
    began, ended = time_of(test.began_at), time_of(test.ended_at)
    cured = cured_at(job, test)
    if began is not None and cured is not None and began < cured:
        words = f"it began at {began:%H:%M}, and the cement cures until {_until(began, cured)}"
        yield Failure("tested before cured", words, "began_at", CURE_SOURCE)
    least = figure(job, "pressure_test_min")
    if began is not None and ended is not None:
        minutes = (ended - began).total_seconds() / 60.0
        if minutes < least.value:
            words = f"it was held {minutes:.0f} of {least.value:.0f} minutes"
            if minutes < 0.0:
                words = "it ended before it began"
            numbers = (Number("held", minutes, "min"), Number("minimum", least.value, "min"))
            yield Failure("test too short", words, "ended_at", least.source, numbers)


def _start_failures(job: LoadedJob, test: PressureTest, start_psi: float) -> Iterator[Failure]:
    """Begun under what it must withstand, or over what its pipe is rated for."""
    asked, least = figure(job, "pressure_test_psi"), least_psi(job)
    if start_psi < least:
        start, limit = quantity(job, start_psi, PRESSURE), quantity(job, least, PRESSURE)
        words = f"it began at {start}, under {limit}"
        if least > asked.value:
            words += ", the static pressure"
        numbers = (Number("test", start_psi, "psi"), Number("minimum", least, "psi"))
        yield Failure("tested too low", words, "start_psi", asked.source, numbers)
    rated, end_psi = lowest_rating(job, test.zone_id, test.air_deg_f), amount(test, "end_psi")
    if rated is not None and start_psi <= rated[0] < (end_psi or 0.0):
        end, limit = quantity(job, end_psi or 0.0, PRESSURE), quantity(job, rated[0], PRESSURE)
        words = f"it ended at {end}, over {limit}, the lowest rating of its pipe"
        numbers = (Number("test", end_psi or 0.0, "psi"), Number("rating", rated[0], "psi"))
        yield Failure("tested over the rating", words, "end_psi", rated[1], numbers)
    if rated is not None and start_psi > rated[0]:
        rating, source = rated
        start, limit = quantity(job, start_psi, PRESSURE), quantity(job, rating, PRESSURE)
        words = f"it began at {start}, over {limit}, the lowest rating of its pipe"
        numbers = (Number("test", start_psi, "psi"), Number("rating", rating, "psi"))
        yield Failure("tested over the rating", words, "start_psi", source, numbers)


def _until(began: datetime, cured: datetime) -> str:
    return f"{cured:%H:%M}" if began.date() == cured.date() else f"{cured:%Y-%m-%d %H:%M}"
