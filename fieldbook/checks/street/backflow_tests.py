"""The backflow assembly: whether its kind is allowed, how it is used, its test and the next."""

from __future__ import annotations

from calendar import monthrange
from collections.abc import Iterator
from datetime import date, timedelta

from fieldbook.checks.common.job_rules import figure, rule_source, rule_value
from fieldbook.checks.common.naming import assembly_name, quantity, sentence, zone_name
from fieldbook.checks.finding import CellRef, Finding, Number, Severity
from fieldbook.records.column_values import amount
from fieldbook.records.days import day_of
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.backflow_assembly import BackflowAssembly
from fieldbook.records.tables.tests import BackflowTest
from fieldbook.trade.backflow import PASS_SOURCE, PASS_VALUES, RP_BUFFER_PSI
from fieldbook.trade.rules.keys import HAZARDS
from fieldbook.units import PRESSURE

_AVB = ("AVB", "anti-siphon valves")
_VACUUM = (*_AVB, "PVB", "SVB")
_NO_VALVE = "IRC P2902.5.3: no valve downstream of an atmospheric vacuum breaker."
_NO_BACK = "ASSE 1001, 1020 and 1056: back-siphonage only, never back-pressure."
_SOON_DAYS = 30
"""A test that is due within so many days is noted."""


def newest_test(job: LoadedJob, assembly: BackflowAssembly) -> BackflowTest | None:
    """The newest test of an assembly; a test that names none is the job's only assembly's."""
    only = len(job.backflow_assemblies) == 1
    found = [
        test
        for test in job.backflow_tests
        if test.assembly_id == assembly.id or (only and not test.assembly_id)
    ]
    return max(found, key=lambda test: (test.tested_on or "", test.id), default=None)


def test_passes(assembly: BackflowAssembly, test: BackflowTest) -> bool:
    """Whether a test is certified and holds every reading of the assembly's kind, all passing."""
    wanted = PASS_VALUES.get(assembly.kind or "", ())
    read = [amount(test, value.column) for value in wanted]
    passes = all(
        psi is not None and psi >= value.least_psi for psi, value in zip(read, wanted, strict=True)
    )
    return passes and test.certified is True and bool(test.tester) and test.tested_on is not None


def retest_on(job: LoadedJob, assembly: BackflowAssembly) -> date | None:
    """The day by which an assembly must be tested again; None before its first test."""
    test = newest_test(job, assembly)
    tested = day_of(test.tested_on) if test is not None else None
    if tested is None:
        return None
    months = int(figure(job, "backflow_retest_months").value) + tested.month - 1
    year, month = tested.year + months // 12, months % 12 + 1
    return date(year, month, min(tested.day, monthrange(year, month)[1]))


def retest_turns(job: LoadedJob) -> Iterator[date]:
    """The days on which an assembly's next test comes near, and the day after it is due."""
    for assembly in job.backflow_assemblies:
        due = retest_on(job, assembly)
        if due is not None:
            yield due - timedelta(days=_SOON_DAYS)
            yield due + timedelta(days=1)


def check_backflow_tests(job: LoadedJob, today: date) -> Iterator[Finding]:
    """Flags on hazards, use and tests of each assembly."""
    for assembly in job.backflow_assemblies:
        yield from _allowed(job, assembly)
        yield from _misused(job, assembly)
        yield from _held_too_long(job, assembly)
        test = newest_test(job, assembly)
        if test is not None:
            yield from _readings(job, assembly, test)
            yield from _due(job, assembly, today)


def _allowed(job: LoadedJob, assembly: BackflowAssembly) -> Iterator[Finding]:
    """A kind that the rules don't allow with the hazards that were entered."""
    if assembly.kind is None:
        return
    there = [name for name in HAZARDS if name != "no_hazard" and getattr(job.supply, name, None)]
    for name in there or ["no_hazard"]:
        kinds = rule_value(job, f"allowed.{name}")
        if isinstance(kinds, tuple) and assembly.kind not in kinds:
            yield Finding(
                "backflow not allowed",
                "stop",
                f"The {assembly_name(assembly)} is not allowed with {HAZARDS[name]}; the rule "
                f"allows {' or '.join((*kinds, 'an air gap'))}.",
                "Fit a kind that is allowed, or look up the local rule and choose its set at the "
                "desk.",
                CellRef("backflow_assembly", assembly.id, "kind"),
                source=rule_source(job, f"allowed.{name}"),
            )


def _misused(job: LoadedJob, assembly: BackflowAssembly) -> Iterator[Finding]:
    """Use that an assembly of this kind does not stand."""
    name = assembly_name(assembly)
    misuses = (
        (
            assembly.kind in _AVB and assembly.valve_after is True,
            "valve after the breaker",
            f"A valve stands after the {name} and keeps it under pressure.",
            "Move the valve before it, or fit a PVB, and correct its entry at the street.",
            _NO_VALVE,
            "valve_after",
        ),
        (
            assembly.kind in _VACUUM and assembly.back_pressure is True,
            "back-pressure",
            f"The {name} is under back-pressure, against which it does not protect.",
            "Fit an RP or take the back-pressure away, and correct its entry at the street.",
            _NO_BACK,
            "back_pressure",
        ),
        (
            assembly.kind == "RP" and assembly.drain is False,
            "relief does not drain",
            f"The relief port of the {name} can't drain in full.",
            "Give it a drain by an air gap for its full discharge, then tick Relief drains at the "
            "street.",
            rule_source(job, "backflow_above_grade_in.RP"),
            "drain",
        ),
    )
    for misused, code, said, mend, source, column in misuses:
        if misused:
            at = CellRef("backflow_assembly", assembly.id, column)
            yield Finding(code, "stop", said, mend, at, source=source)


def _held_too_long(job: LoadedJob, assembly: BackflowAssembly) -> Iterator[Finding]:
    """Zones that keep an atmospheric breaker under pressure for longer than the rule allows."""
    most = figure(job, "avb_pressure_h")
    if assembly.kind not in _AVB:
        return
    name = assembly_name(assembly)
    for zone in job.zones:
        hours = amount(zone, "pressure_h")
        if job.backflow_of(zone) is assembly and hours is not None and hours > most.value:
            yield Finding(
                "too long under pressure",
                "stop",
                f"{sentence(zone_name(zone))} keeps the {name} under pressure {hours:g} h "
                f"in 24; {most.value:g} h is the most.",
                "Shorten its programme and enter its hours at the ground, or fit a PVB.",
                CellRef("zone", zone.id, "pressure_h"),
                source=most.source,
                numbers=(Number("hours", hours, "h"), Number("most", most.value, "h")),
            )


def _readings(job: LoadedJob, assembly: BackflowAssembly, test: BackflowTest) -> Iterator[Finding]:
    """Readings that are under the published pass values."""
    name = assembly_name(assembly)
    for value in PASS_VALUES.get(assembly.kind or "", ()):
        psi = amount(test, value.column)
        if psi is not None and psi < value.least_psi - 1e-9:
            yield Finding(
                "backflow test failed",
                "stop",
                f"The test of the {name} failed: {value.words} reads "
                f"{quantity(job, psi, PRESSURE)}, and {quantity(job, value.least_psi, PRESSURE)} "
                "is the least.",
                "Have it repaired and tested again by a licensed tester; enter that test at the "
                "street.",
                CellRef("backflow_test", test.id, value.column),
                source=PASS_SOURCE,
                numbers=(Number("reading", psi, "psi"), Number("least", value.least_psi, "psi")),
            )
    check, relief = amount(test, "check_1_psi"), amount(test, "relief_psi")
    if assembly.kind == "RP" and check is not None and relief is not None:
        buffer = check - relief
        if buffer < RP_BUFFER_PSI - 1e-9:
            yield Finding(
                "small rp buffer",
                "fix",
                f"The buffer of the {name} is {quantity(job, buffer, PRESSURE)}; "
                f"{quantity(job, RP_BUFFER_PSI, PRESSURE)} is advised.",
                "Ask the tester whether it needs repair, and enter the next test at the street.",
                CellRef("backflow_test", test.id, "check_1_psi"),
                source=PASS_SOURCE,
                numbers=(Number("buffer", buffer, "psi"), Number("advised", RP_BUFFER_PSI, "psi")),
            )


def _due(job: LoadedJob, assembly: BackflowAssembly, today: date) -> Iterator[Finding]:
    """The next test, if it is overdue or near."""
    due = retest_on(job, assembly)
    test = newest_test(job, assembly)
    if due is None or test is None or (due - today).days > _SOON_DAYS:
        return
    late = due < today
    name = assembly_name(assembly)
    severity: Severity = "fix" if late else "note"
    yield Finding(
        "backflow test due",
        severity,
        f"The {name} {'was' if late else 'is'} to be tested again by {due.isoformat()}.",
        "Have a licensed tester test it, and enter the test at the street.",
        CellRef("backflow_test", test.id, "tested_on"),
        source=rule_source(job, "backflow_retest_months"),
    )
