"""The pressure test of a stretch: cement cured, water only, long enough, and what it dropped."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from fieldbook.checks.common.job_rules import figure
from fieldbook.checks.common.naming import quantity, sentence, zone_name
from fieldbook.checks.finding import CellRef, Finding, Number, Severity
from fieldbook.records.column_values import amount
from fieldbook.records.days import time_of
from fieldbook.records.ids import pressure_test_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.tests import PressureTest
from fieldbook.trade.pipes import PIPE_SIZES
from fieldbook.trade.solvent_cement import CURE_SOURCE, cure_min
from fieldbook.units import PRESSURE

_WATER = "PPFA User Bulletin 4-80; ASTM D2241, note 1."


@dataclass(frozen=True)
class Lack:
    """What a test lacks or fails in, and the cell that mends it."""

    words: str
    at: CellRef


def stretch_name(job: LoadedJob, zone_id: str | None) -> str:
    """Such as "the mainline" or "zone 3 (front lawn)"."""
    return "the mainline" if zone_id is None else zone_name(job.zone(zone_id))


def cured_at(job: LoadedJob, test: PressureTest) -> datetime | None:
    """When the last joint has cured: by its label, else by the longest table for its pipe."""
    cemented = time_of(test.cemented_at)
    if cemented is None:
        return None
    minutes = amount(test, "label_min")
    if minutes is None:
        sizes = [run.size for run in job.runs_of(test.zone_id) if run.size in PIPE_SIZES]
        largest = max(sizes, key=PIPE_SIZES.index, default=None)
        air, damp = test.air_deg_f, test.humidity_pct
        minutes = cure_min(largest, air, damp)
    return cemented + timedelta(minutes=minutes)


def lacks(job: LoadedJob, zone_id: str | None) -> list[Lack]:
    """All that keeps a stretch's pressure test from having passed; empty when it has."""
    test = job.pressure_test_of(zone_id)
    row_id = test.id if test is not None else pressure_test_id(job.job.id, zone_id)

    def lack(words: str, column: str) -> Lack:
        return Lack(words, CellRef("pressure_test", row_id, column))

    if test is None:
        return [lack(f"the pressure test of {stretch_name(job, zone_id)}", "began_at")]
    found = [
        lack(f"{words} of the pressure test", column)
        for column, words in (
            ("began_at", "the beginning"),
            ("start_psi", "the first reading"),
            ("ended_at", "the end"),
            ("end_psi", "the last reading"),
        )
        if getattr(test, column) is None
    ]
    if test.water_only is not True:
        found.append(lack("that the test was with water only", "water_only"))
    if found:
        return found
    return [lack(words, at.column) for _, words, at, _, _ in _failures(job, test)]


def check_pressure(job: LoadedJob) -> Iterator[Finding]:
    """Flags on every pressure test that was begun."""
    for test in job.pressure_tests:
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
        for code, words, at, source, numbers in _failures(job, test):
            severity: Severity = "stop" if code != "test too short" else "fix"
            yield Finding(
                code,
                severity,
                f"The pressure test of {where} did not pass: {words}.",
                "Mend what leaks or wait until the cement has cured, then test again and enter the "
                "new readings at the ground.",
                at,
                source=source,
                numbers=numbers,
            )


_Failure = tuple[str, str, CellRef, str, tuple[Number, ...]]


def _failures(job: LoadedJob, test: PressureTest) -> Iterator[_Failure]:
    """Each way in which what was entered does not pass: code, words, cell, source, numbers."""
    began, ended = time_of(test.began_at), time_of(test.ended_at)
    cured = cured_at(job, test)
    if began is not None and cured is not None and began < cured:
        words = f"it began at {began:%H:%M}, and the cement cures until {_until(began, cured)}"
        yield (
            "tested before cured",
            words,
            CellRef("pressure_test", test.id, "began_at"),
            CURE_SOURCE,
            (),
        )
    least = figure(job, "pressure_test_min")
    if began is not None and ended is not None:
        minutes = (ended - began).total_seconds() / 60.0
        if minutes < least.value:
            yield (
                "test too short",
                f"it was held {minutes:.0f} of {least.value:.0f} minutes",
                CellRef("pressure_test", test.id, "ended_at"),
                least.source,
                (Number("held", minutes, "min"), Number("minimum", least.value, "min")),
            )
    start_psi, end_psi = amount(test, "start_psi"), amount(test, "end_psi")
    asked, most = figure(job, "pressure_test_psi"), figure(job, "pressure_test_drop_psi")
    if start_psi is not None and start_psi < asked.value:
        yield (
            "tested too low",
            f"{quantity(job, start_psi, PRESSURE)} is under {quantity(job, asked.value, PRESSURE)}",
            CellRef("pressure_test", test.id, "start_psi"),
            asked.source,
            (Number("test", start_psi, "psi"), Number("minimum", asked.value, "psi")),
        )
    if start_psi is not None and end_psi is not None and start_psi - end_psi > most.value + 1e-9:
        drop = start_psi - end_psi
        yield (
            "pressure dropped",
            f"it dropped {quantity(job, drop, PRESSURE)}, and "
            f"{quantity(job, most.value, PRESSURE)} is the most",
            CellRef("pressure_test", test.id, "end_psi"),
            most.source,
            (Number("drop", drop, "psi"), Number("most", most.value, "psi")),
        )


def _until(began: datetime, cured: datetime) -> str:
    return f"{cured:%H:%M}" if began.date() == cured.date() else f"{cured:%Y-%m-%d %H:%M}"
