"""Flags on the controller."""

from __future__ import annotations

import pytest
from builders import JOB, bare_job, codes, common_terminal, mend, only, put, row, sound_job

from fieldbook.checks.looked import Looked
from fieldbook.checks.wire.controller_setup import check_controller
from fieldbook.records.ids import once_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.local_rules import LocalRules

ROW = once_id(JOB, "controller")


def controller_job(**values: object) -> LoadedJob:
    """The sound job with its controller changed."""
    return put(sound_job(), "controller", ROW, **values)


@pytest.mark.parametrize(
    ("values", "code", "severity"),
    [
        ({"outdoors": True, "outdoor_model": False}, "controller in the weather", "stop"),
        ({"outdoors": True, "outdoor_model": None}, "controller in the weather", "stop"),
        ({"supply_near": False}, "no supply near", "fix"),
        ({"wire_in_conduit": False}, "wire not in conduit", "fix"),
    ],
)
def test_a_wrong_controller_is_flagged(values: dict[str, object], code: str, severity: str) -> None:
    job = controller_job(**values)
    flag = only(job, code)
    assert codes(job) == [code]
    assert (flag.severity, flag.place) == (severity, "controller")
    assert codes(mend(job, flag, True)) == []


def test_a_controller_indoors_or_not_looked_at_has_no_flags() -> None:
    assert codes(controller_job(outdoors=False, outdoor_model=False)) == []
    blank = dict.fromkeys(("outdoors", "outdoor_model", "supply_near", "wire_in_conduit"))
    assert codes(controller_job(**blank)) == []


def test_a_missing_rain_sensor_is_flagged_where_the_local_rule_asks_for_one() -> None:
    job = controller_job(rain_sensor=False)
    assert codes(job) == []
    job = put(job, "local_rules", "rules", rain_sensor_required=True, rain_sensor_code="City 4-1")
    flag = only(job, "no rain sensor")
    assert (flag.severity, flag.source) == ("fix", "City 4-1")
    assert codes(mend(job, flag, True)) == []


def test_a_rain_sensor_that_is_not_entered_is_not_checked_and_not_wrong() -> None:
    rules = row(LocalRules, "rules", rain_sensor_required=True)
    assert codes(bare_job(local_rules=rules)) == []
    wired = bare_job(local_rules=rules, terminals=(common_terminal("white"),))
    assert codes(wired) == []
    looked = [one for one in check_controller(wired) if isinstance(one, Looked)]
    (sensor,) = [one for one in looked if one.name == "rain sensor"]
    assert sensor.missing[0].at.row_id == ROW
