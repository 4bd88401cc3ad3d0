"""The pressure test of a stretch: cement cured, water only, long enough, and what it dropped."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from typing import NamedTuple

from fieldbook.checks.common.cell_refs import pressure_test_cell
from fieldbook.checks.common.job_rules import figure
from fieldbook.checks.common.naming import quantity, sentence, stretch_name
from fieldbook.checks.finding import CellRef, Finding, Missing, Number
from fieldbook.records.column_values import amount
from fieldbook.records.days import time_of
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.tests import PressureTest
from fieldbook.trade.pipes import PIPE_SIZES
from fieldbook.trade.solvent_cement import CURE_SOURCE, cure_min
from fieldbook.units import PRESSURE

_NEEDED = {
    "began_at": "the beginning",
    "start_psi": "the first reading",
    "ended_at": "the end",
    "end_psi": "the last reading",
}


class _Failure(NamedTuple):
    """One reason why a test did not pass, and the cell with the entry that shows it."""

    code: str
    words: str
    at: CellRef
    source: str
    numbers: tuple[Number, ...] = ()


def cured_at(job: LoadedJob, test: PressureTest) -> datetime | None:
    """When the last joint has cured: by its label, else by the longest table for its pipe."""
    cemented = time_of(test.cemented_at)
    if cemented is None:
        return None
    minutes = amount(test, "label_min")
    if minutes is None:
        sizes = [run.size for run in job.runs_of(test.zone_id) if run.size in PIPE_SIZES]
        largest = max(sizes, key=PIPE_SIZES.index, default=None)
        minutes = cure_min(largest, test.air_deg_f, test.humidity_pct)
    return cemented + timedelta(minutes=minutes)


def missing_from_test(job: LoadedJob, zone_id: str | None) -> list[Missing]:
    """Everything that keeps the test of a stretch from having passed; empty when it passed."""
    test = job.pressure_test_of(zone_id)
    if test is None:
        words = f"the pressure test of {stretch_name(job, zone_id)}"
        return [Missing(words, pressure_test_cell(job, zone_id, "began_at"))]
    found = [
        Missing(f"{words} of the pressure test", CellRef("pressure_test", test.id, column))
        for column, words in _NEEDED.items()
        if getattr(test, column) is None
    ]
    if test.water_only is not True:
        at = CellRef("pressure_test", test.id, "water_only")
        found.append(Missing("that the test was with water only", at))
    return found or [Missing(failure.words, failure.at) for failure in _failures(job, test)]


def check_pressure(job: LoadedJob) -> Iterator[Finding]:
    """Flags on every pressure test that was begun."""
    for test in job.pressure_tests:
        where = stretch_name(job, test.zone_id)
        if test.water_only is False:
            at = CellRef("pressure_test", test.id, "water_only")
            yield Finding(
                "tested with air",
                "stop",
                f"{sentence(where)} was tested with something other than water.",
                "Never test plastic pipe with air or gas: let the pressure off from a distance, "
                "fill it with water, and test again.",
                at,
                source=at.source,
            )
        for failure in _failures(job, test):
            yield Finding(
                failure.code,
                "fix" if failure.code == "test too short" else "stop",
                f"The pressure test of {where} did not pass: {failure.words}.",
                "Mend leaks, wait until the cement has cured, test again, and enter the readings "
                "at the ground.",
                failure.at,
                source=failure.source,
                numbers=failure.numbers,
            )


def _failures(job: LoadedJob, test: PressureTest) -> Iterator[_Failure]:
    yield from _too_early_or_short(job, test)
    start_psi, end_psi = amount(test, "start_psi"), amount(test, "end_psi")
    least, most = figure(job, "pressure_test_psi"), figure(job, "pressure_test_drop_psi")
    if start_psi is not None and start_psi < least.value:
        yield _Failure(
            "tested too low",
            f"{quantity(job, start_psi, PRESSURE)} is under {quantity(job, least.value, PRESSURE)}",
            CellRef("pressure_test", test.id, "start_psi"),
            least.source,
            (Number("test", start_psi, "psi"), Number("minimum", least.value, "psi")),
        )
    if start_psi is not None and end_psi is not None and start_psi - end_psi > most.value + 1e-9:
        drop_psi = start_psi - end_psi
        yield _Failure(
            "pressure dropped",
            f"it dropped {quantity(job, drop_psi, PRESSURE)}, and "
            f"{quantity(job, most.value, PRESSURE)} is the most",
            CellRef("pressure_test", test.id, "end_psi"),
            most.source,
            (Number("drop", drop_psi, "psi"), Number("most", most.value, "psi")),
        )


def _too_early_or_short(job: LoadedJob, test: PressureTest) -> Iterator[_Failure]:
    began, ended, cured = time_of(test.began_at), time_of(test.ended_at), cured_at(job, test)
    if began is not None and cured is not None and began < cured:
        until = f"{cured:%H:%M}" if began.date() == cured.date() else f"{cured:%Y-%m-%d %H:%M}"
        yield _Failure(
            "tested before cured",
            f"it began at {began:%H:%M}, and the cement cures until {until}",
            CellRef("pressure_test", test.id, "began_at"),
            CURE_SOURCE,
        )
    least = figure(job, "pressure_test_min")
    if began is not None and ended is not None:
        minutes = (ended - began).total_seconds() / 60.0
        if minutes < least.value:
            yield _Failure(
                "test too short",
                f"it was held {minutes:.0f} of {least.value:.0f} minutes",
                CellRef("pressure_test", test.id, "ended_at"),
                least.source,
                (Number("held", minutes, "min"), Number("minimum", least.value, "min")),
            )
