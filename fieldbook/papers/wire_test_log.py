"""Every test of a terminal in words: the day, who made it, what ran or what the meter read."""

from __future__ import annotations

from fieldbook.checks.common.naming import listed, sentence, short, terminal_name
from fieldbook.checks.wire.wire_evidence import station_words
from fieldbook.checks.wire.wire_tests import (
    counts,
    latest_readings,
    latest_tests,
    outcome_of,
    says_both,
)
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.controller import Terminal, WireTest
from fieldbook.wiring import OPEN_OHM


def test_log_lines(job: LoadedJob) -> list[str]:
    """One line a test, by terminal and the newest first; cleared results are left out."""
    return [
        f"{sentence(terminal_name(job, terminal))}: {line}"
        for terminal in job.terminals
        for line in _lines(job, terminal)
    ]


def _lines(job: LoadedJob, terminal: Terminal) -> list[str]:
    newest = {one.id for one in latest_tests(job, terminal.id)}
    newest |= {one.id for one in latest_readings(job, terminal.id)}
    tests = [one for one in job.wire_tests if one.terminal_id == terminal.id]
    # Ids are made by the time, so they sort tests of one laptop within a second too.
    tests.sort(key=lambda test: (test.entered_at, test.id), reverse=True)
    found = []
    for test in tests:
        words = _result(job, test)
        if not words:
            continue
        if test.id not in newest:
            words += ", an earlier test"
        elif not counts(job, terminal, test):
            words += ", before its wire was changed"
        by = f" by {short(test.entered_by)}" if test.entered_by else ""
        found.append(f"{words} ({test.entered_at[:10]}{by})")
    return found


def _result(job: LoadedJob, test: WireTest) -> str:
    """What a test showed; empty for one that only clears an earlier one."""
    if test.read_ohm is not None:
        return f"{test.read_ohm:.1f} ohm" if test.read_ohm < OPEN_OHM else "over range"
    if says_both(test):
        return "a zone and “nothing ran” at once, so it does not count"
    ran = outcome_of(job, test)
    if ran is None:
        return ""
    return (
        f"{listed([station_words(job, zone) for zone in sorted(ran)])} ran"
        if ran
        else ("nothing ran")
    )
