"""The registry: named checks, the day and files as inputs, and when flags change by themselves."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path

import time_machine
from builders import bare_job, put, row, sound_job
from hypothesis import given
from hypothesis import strategies as st

from fieldbook.checks.desk.file_states import FileState
from fieldbook.checks.finding import CellRef, Finding
from fieldbook.checks.registry import CHECKS, NEVER, Subject, check, flags_hold_until, instant
from fieldbook.records.base import PLACES, WORK_PLACES
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.attachments import Attachment
from fieldbook.records.tables.backflow_assembly import BackflowAssembly
from fieldbook.records.tables.permits import CrewMember, Permit
from fieldbook.records.tables.tests import BackflowTest

TODAY = date(2026, 5, 1)
SOON = st.dates(TODAY - timedelta(days=20), TODAY + timedelta(days=50)).map(str)


def test_every_check_has_a_name_of_its_own_and_a_place() -> None:
    names = [one.name for one in CHECKS]
    assert len(set(names)) == len(names)
    assert set(WORK_PLACES) <= {one.place for one in CHECKS} <= set(PLACES)


def test_all_flags_are_those_of_the_checks() -> None:
    job = put(sound_job(), "supply", "supply-1", static_psi=95.0)
    job = replace(job, permits=(row(Permit, "p", number="7", expires_on="2026-04-30"),))
    subject = Subject(job, instant(TODAY), {})
    seen = [thing for one in CHECKS for thing in one.look(subject)]
    one_by_one = [thing for thing in seen if isinstance(thing, Finding)]
    assert sorted(map(str, check(job, TODAY))) == sorted(map(str, one_by_one))
    assert {"static too high", "ran out"} <= {flag.code for flag in one_by_one}


def test_an_attached_file_is_flagged_by_what_the_caller_saw_of_it() -> None:
    file = row(Attachment, "a", sha256="ab", name="trench.jpg")
    job = replace(bare_job(), attachments=(file,))
    path = Path("somewhere")
    for wrong, codes in (("", []), ("missing", ["file missing"]), ("altered", ["file altered"])):
        flags = check(job, TODAY, {"ab": FileState(path, wrong)})
        assert [flag.code for flag in flags] == codes
    assert check(job, TODAY) == ()
    assert check(job, TODAY, {"cd": FileState(path, "missing")}) == ()


def test_a_flag_is_at_the_place_of_the_cell_that_mends_it() -> None:
    for table, place in (("supply", "street"), ("tie", "boxes"), ("note", "desk"), ("?", "desk")):
        assert Finding("code", "fix", "Wrong.", "Mend it.", CellRef(table, "", "")).place == place


def test_today_is_asked_as_of_this_minute_and_another_day_as_of_its_noon() -> None:
    with time_machine.travel(datetime(2026, 5, 10, 15, 20), tick=False):
        assert instant(date(2026, 5, 10)).replace(tzinfo=None) == datetime(2026, 5, 10, 15, 20)
        assert instant(date(2026, 5, 11)).replace(tzinfo=None) == datetime(2026, 5, 11, 12)


def dated_job(permit: str, licence: str, tested: str) -> LoadedJob:
    """A job whose flags depend on the day."""
    return bare_job(
        permits=(row(Permit, "p", number="7", expires_on=permit),),
        crew=(row(CrewMember, "c", name="A. Tester", expires_on=licence),),
        backflow_assemblies=(row(BackflowAssembly, "b", kind="PVB"),),
        backflow_tests=(row(BackflowTest, "t", tested_on=tested),),
    )


@given(SOON, SOON, SOON.map(lambda day: f"2025{day[4:]}"))
def test_flags_change_by_themselves_on_the_day_after_they_hold_and_no_earlier(
    permit: str, licence: str, tested: str
) -> None:
    job = dated_job(permit, licence, tested)
    until = flags_hold_until(job, TODAY)
    now = check(job, TODAY)
    assert until >= TODAY
    for days in range(min((until - TODAY).days, 60) + 1):
        assert check(job, TODAY + timedelta(days=days)) == now
    if until < NEVER - timedelta(days=1):
        assert check(job, until + timedelta(days=1)) != now


def test_flags_of_a_job_without_dates_hold_for_ever() -> None:
    assert flags_hold_until(bare_job(), TODAY) == NEVER - timedelta(days=1)
