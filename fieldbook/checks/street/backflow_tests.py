"""The backflow assembly in use: what stands after it, its test or inspection, the next test."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta

from fieldbook.checks.common.job_rules import figure, rule_source
from fieldbook.checks.common.naming import assembly_name, quantity, sentence, zone_name
from fieldbook.checks.finding import CellRef, Finding, Missing, Number
from fieldbook.checks.looked import Looked
from fieldbook.checks.severity import Severity
from fieldbook.records.column_values import amount
from fieldbook.records.days import day_of, months_after, order_of
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.backflow_assembly import BackflowAssembly
from fieldbook.records.tables.tests import BackflowTest
from fieldbook.trade.backflow import AVB_KINDS, PASS_SOURCE, PASS_VALUES, RP_SOURCE, TEST_TICKS
from fieldbook.units import PRESSURE

_VACUUM = (*AVB_KINDS, "PVB", "SVB")
_NO_VALVE = "IRC P2902.5.3: no valve downstream of an atmospheric vacuum breaker."
_NO_BACK = "ASSE 1001, 1020 and 1056: back-siphonage only, never back-pressure."
SOON_DAYS = 30


def newest_test(
    job: LoadedJob, assembly: BackflowAssembly, on: date | None = None
) -> BackflowTest | None:
    """The newest test of an assembly that has a day; with `on`, of those not after that day."""
    only = len(job.backflow_assemblies) == 1
    found = [
        # Two tests of one day, failed and tested again: the one that was entered last counts.
        (day, order_of(test.entered_at), test.id, test)
        for test in job.backflow_tests
        if (test.assembly_id == assembly.id or (only and not test.assembly_id))
        and (day := day_of(test.tested_on)) is not None
        and (on is None or day <= on)
    ]
    return max(found, key=lambda one: one[:3])[3] if found else None


def test_lacks(job: LoadedJob, assembly: BackflowAssembly, on: date) -> list[Missing]:
    """All that keeps an assembly from counting as tested on a day; empty when it does."""
    name = assembly_name(assembly)
    found = []
    if assembly.kind is None:
        at = CellRef("backflow_assembly", assembly.id, "kind")
        found.append(Missing("the kind of the backflow assembly", at))
    if assembly.installed_on is None:
        at = CellRef("backflow_assembly", assembly.id, "installed_on")
        found.append(Missing(f"the day the {name} was installed", at))
    if assembly.kind in AVB_KINDS:
        return [*found, *_inspection_lacks(assembly, on)]
    test = newest_test(job, assembly, on)
    if test is None:
        dayless = (one for one in job.backflow_tests if _is_of(job, one, assembly))
        undated = next((one for one in dayless if day_of(one.tested_on) is None), None)
        at = CellRef("backflow_test", "", "add backflow test")
        if undated is not None:
            at = CellRef("backflow_test", undated.id, "tested_on")
        return [*found, Missing(f"the certified test of the {name}", at)]
    return [*found, *_report_lacks(assembly, test), *_older_than_the_work(assembly, test)]


def test_passes(job: LoadedJob, assembly: BackflowAssembly, on: date) -> bool:
    """Whether a full, certified report is on record that passes, and is not older than the work."""
    test = newest_test(job, assembly, on)
    failed = test is not None and any(_failures(job, assembly, test))
    return not failed and not test_lacks(job, assembly, on)


def _inspection_lacks(assembly: BackflowAssembly, on: date) -> Iterator[Missing]:
    """An AVB has no field test: somebody looks at it."""
    name = assembly_name(assembly)
    at = CellRef("backflow_assembly", assembly.id, "inspected_on")
    seen = day_of(assembly.inspected_on)
    if seen is None or seen > on:
        yield Missing(f"the inspection of the {name}", at)
    elif any(done is not None and seen < done for done in _work_on(assembly)):
        yield Missing(f"an inspection of the {name} after it was last worked on", at)
    if not assembly.inspected_by.strip():
        yield Missing(f"who inspected the {name}", replace(at, column="inspected_by"))


def _report_lacks(assembly: BackflowAssembly, test: BackflowTest) -> Iterator[Missing]:
    """The entries that a full report of its kind has."""
    name = assembly_name(assembly)
    for value in PASS_VALUES.get(assembly.kind or "", ()):
        ticked = bool(value.or_tick) and getattr(test, value.or_tick) is True
        if amount(test, value.column) is None and not ticked:
            at = CellRef("backflow_test", test.id, value.column)
            yield Missing(f"the reading of {value.words} of the {name}", at)
    for column, words in TEST_TICKS.get(assembly.kind or "", ()):
        # Check 2 of an RP is read or held against back-pressure: one of the two was asked above.
        if assembly.kind != "RP" and getattr(test, column) is None:
            yield Missing(f"whether {words} ({name})", CellRef("backflow_test", test.id, column))
    for column, words in (("tester", "the tester"), ("certified", "the signed report")):
        if getattr(test, column) in (None, "", False):
            at = CellRef("backflow_test", test.id, column)
            yield Missing(f"{words} of the test of the {name}", at)


def _work_on(assembly: BackflowAssembly) -> tuple[date | None, date | None, date | None]:
    """The days after which it is tested anew: installed, moved, repaired."""
    dates = (assembly.installed_on, assembly.moved_on, assembly.repaired_on)
    return day_of(dates[0]), day_of(dates[1]), day_of(dates[2])


def _older_than_the_work(assembly: BackflowAssembly, test: BackflowTest) -> Iterator[Missing]:
    """A test that was made before the assembly was installed, moved or repaired."""
    tested, name = day_of(test.tested_on), assembly_name(assembly)
    done = ("installed", "moved", "repaired")
    for day, word in zip(_work_on(assembly), done, strict=True):
        if day is not None and tested is not None and tested < day:
            at = CellRef("backflow_test", test.id, "tested_on")
            yield Missing(f"a test of the {name} after it was {word} on {day.isoformat()}", at)


def test_lost_since(job: LoadedJob, assembly: BackflowAssembly, today: date) -> date | None:
    """The day of the newest test, or of the later work, since which an assembly has to be tested.

    None where no test is on record, and where the newest one counts.
    """
    test = newest_test(job, assembly, today)
    if test is None:
        return None
    tested = day_of(test.tested_on)
    if any(_failures(job, assembly, test)):
        return tested
    later = [day for day in _work_on(assembly) if day is not None and tested and day > tested]
    return max(later, default=None)


def retest_on(job: LoadedJob, assembly: BackflowAssembly) -> date | None:
    """The day by which an assembly is to be tested again; None without a test."""
    test = newest_test(job, assembly)
    tested = day_of(test.tested_on) if test is not None else None
    if tested is None:
        return None
    return months_after(tested, int(figure(job, "backflow_retest_months").value))


def retest_turns(job: LoadedJob) -> Iterator[date]:
    """The days on which an assembly's next test comes near, and the day after it is due."""
    for assembly in job.backflow_assemblies:
        due = retest_on(job, assembly)
        if due is not None:
            yield due - timedelta(days=SOON_DAYS)
            yield due + timedelta(days=1)


def check_backflow_tests(job: LoadedJob, today: date) -> Iterator[Finding | Looked]:
    """Each assembly: its use, its test, and the day of the next one."""
    for assembly in job.backflow_assemblies:
        tests = {test.id for test in job.backflow_tests if _is_of(job, test, assembly)}
        zones = {zone.id for zone in job.zones if job.backflow_of(zone) is assembly}
        name, lacks = assembly_name(assembly), test_lacks(job, assembly, today)
        rows = frozenset({assembly.id, *tests})
        yield Looked(f"test of the {name}", rows, tuple(lacks))
        use = frozenset({assembly.id, *zones})
        yield Looked(f"use of the {name}", use, tuple(_use_lacks(assembly)))
        yield from _misused(job, assembly)
        yield from _held_too_long(job, assembly)
        yield from _untestable(job, assembly)
        test = newest_test(job, assembly, today)
        if test is not None:
            yield from _failures(job, assembly, test)
            yield from _due(job, assembly, today)
        newest = newest_test(job, assembly)
        if newest is not None:
            yield from _in_the_future(assembly, newest, today)


def _is_of(job: LoadedJob, test: BackflowTest, assembly: BackflowAssembly) -> bool:
    only = len(job.backflow_assemblies) == 1
    return test.assembly_id == assembly.id or (only and not test.assembly_id)


def _use_lacks(assembly: BackflowAssembly) -> Iterator[Missing]:
    """The questions on an assembly's use that bear on its kind."""
    name = assembly_name(assembly)
    for kinds, column, words in (
        (AVB_KINDS, "valve_after", f"whether a valve stands after the {name}"),
        (_VACUUM, "back_pressure", f"whether anything can push back through the {name}"),
        (("RP",), "drain", f"whether the relief of the {name} drains"),
    ):
        if assembly.kind in kinds and getattr(assembly, column) is None:
            yield Missing(words, CellRef("backflow_assembly", assembly.id, column))


def _untestable(job: LoadedJob, assembly: BackflowAssembly) -> Iterator[Finding]:
    """A field test entered for a kind that has none."""
    test = next((one for one in job.backflow_tests if _is_of(job, one, assembly)), None)
    if assembly.kind in AVB_KINDS and test is not None:
        yield Finding(
            "avb has no test",
            "fix",
            f"A field test is entered for the {assembly_name(assembly)}: an AVB can't take one.",
            "Remove the test, and enter the inspection of the AVB at the street.",
            CellRef("backflow_test", test.id, "tested_on"),
            source=PASS_SOURCE,
        )


def _in_the_future(
    assembly: BackflowAssembly, test: BackflowTest, today: date
) -> Iterator[Finding]:
    tested = day_of(test.tested_on)
    if tested is not None and tested > today:
        yield Finding(
            "test in the future",
            "fix",
            f"The test of the {assembly_name(assembly)} is of {tested.isoformat()}, after today.",
            "Correct its day; if it is right, this laptop's clock is wrong.",
            CellRef("backflow_test", test.id, "tested_on"),
        )


def _misused(job: LoadedJob, assembly: BackflowAssembly) -> Iterator[Finding]:
    """What must not be after or on an assembly of its kind."""
    name = assembly_name(assembly)
    misuses = (
        (
            assembly.kind in AVB_KINDS and assembly.valve_after is True,
            "valve after the breaker",
            f"A valve stands after the {name}: it would hold it under pressure.",
            "Move the valve before it, or fit a PVB.",
            _NO_VALVE,
            "valve_after",
        ),
        (
            assembly.kind in _VACUUM and assembly.back_pressure is True,
            "back-pressure",
            f"The {name} is under back-pressure, against which it does not protect.",
            "Fit an RP, or take the back-pressure away.",
            _NO_BACK,
            "back_pressure",
        ),
        (
            assembly.kind == "RP" and assembly.drain is False,
            "relief does not drain",
            f"The relief port of the {name} can't drain in full.",
            "Give it a drain by an air gap for its full discharge.",
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
    if assembly.kind not in AVB_KINDS:
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
                "Shorten its programme, or fit a PVB.",
                CellRef("zone", zone.id, "pressure_h"),
                source=most.source,
                numbers=(Number("hours", hours, "h"), Number("most", most.value, "h")),
            )


def _failures(job: LoadedJob, assembly: BackflowAssembly, test: BackflowTest) -> Iterator[Finding]:
    """Readings under the published pass values, and what the report says did not hold."""
    for value in PASS_VALUES.get(assembly.kind or "", ()):
        psi = amount(test, value.column)
        if psi is not None and psi < value.least_psi - 1e-9:
            reads, least = quantity(job, psi, PRESSURE), quantity(job, value.least_psi, PRESSURE)
            said = f"{value.words} reads {reads}, and {least} is the least"
            numbers = (Number("reading", psi, "psi"), Number("least", value.least_psi, "psi"))
            yield _failed(assembly, test, said, value.column, numbers)
    for column, words in TEST_TICKS.get(assembly.kind or "", ()):
        if getattr(test, column) is False:
            yield _failed(assembly, test, f"the report does not say that {words}", column, ())
    check, relief = amount(test, "check_1_psi"), amount(test, "relief_psi")
    if assembly.kind == "RP" and check is not None and relief is not None and check <= relief:
        said = "check 1 does not hold more than the pressure at which the relief valve opens"
        numbers = (Number("check 1", check, "psi"), Number("relief", relief, "psi"))
        yield _failed(assembly, test, said, "check_1_psi", numbers, RP_SOURCE)


def _failed(
    assembly: BackflowAssembly,
    test: BackflowTest,
    said: str,
    column: str,
    numbers: tuple[Number, ...],
    source: str = PASS_SOURCE,
) -> Finding:
    return Finding(
        "backflow test failed",
        "stop",
        f"The test of the {assembly_name(assembly)} failed: {said}.",
        "Have it repaired and tested again by a licensed tester, and enter that test.",
        CellRef("backflow_test", test.id, column),
        source=source,
        numbers=numbers,
    )


def _due(job: LoadedJob, assembly: BackflowAssembly, today: date) -> Iterator[Finding]:
    """The next test: overdue, or near."""
    due = retest_on(job, assembly)
    test = newest_test(job, assembly)
    if due is None or test is None or (due - today).days > SOON_DAYS:
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
