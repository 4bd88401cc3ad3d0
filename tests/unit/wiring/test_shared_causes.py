"""Flags on what terminals share, and on readings that need more to be judged by."""

from __future__ import annotations

import pytest
from builders import JOB, checked, codes, energised, metered, number, only, put, t, wired_job

from fieldbook.checks.wire.wire_evidence import reconciled_wire
from fieldbook.checks.wire.wire_links import leads_to, link_of
from fieldbook.records.ids import once_id, valve_id
from fieldbook.records.loaded_job import LoadedJob

THREE = ("red", "blue", "green")
CONTROLLER = once_id(JOB, "controller")


def test_nothing_on_a_whole_cable_is_one_flag() -> None:
    job = wired_job(THREE, THREE)
    for number_ in (1, 2, 3):
        job = energised(job, number_)
    flag = only(job, "common broken")
    assert codes(job) == ["common broken"]
    assert "24 V at the controller and none at the box" in flag.mend
    # The coils read sound: not the wire, but controller or water.
    sound = put(job, "terminal", t(1), day_1_ohm=30.0)
    assert codes(sound) == ["nothing runs anywhere"]
    # One that runs has a common: the other two have faults of their own.
    assert codes(energised(put(job, "terminal", t(3), ran_nothing=None), 3, "zone-3")) == [
        "nothing ran",
        "nothing ran",
    ]


def test_every_reading_of_a_cable_over_range_is_one_flag() -> None:
    job = wired_job(THREE, THREE)
    for number_ in (1, 2, 3):
        job = put(job, "terminal", t(number_), day_1_ohm=9999.0)
    assert codes(job) == ["common broken"]
    assert "spare of that cable as the common" in only(job, "common broken").mend


def test_a_cable_cut_before_a_box_is_one_flag() -> None:
    job = wired_job(THREE, THREE)
    for name, numbers in (("A", (1,)), ("B", (2, 3))):
        job = put(job, "valve_box", f"box-{name}", name=name)
        for number_ in numbers:
            job = put(job, "valve", valve_id(f"zone-{number_}"), box_id=f"box-{name}")
    job = energised(job, 1, "zone-1")
    job = energised(energised(job, 2), 3)
    flag = only(job, "cable cut")
    assert codes(job) == ["cable cut"]
    assert "to valve box B are dead" in flag.sentence


def test_a_high_reading_is_only_judged_by_coil_and_wire() -> None:
    job = put(wired_job(THREE, THREE), "terminal", t(1), day_1_ohm=74.0)
    flag = only(job, "reads high")
    assert (flag.severity, number(flag, "reading")) == ("note", 74.0)
    assert "Enter the coil's ohms" in flag.mend
    known = only(metered(day_1_ohm=74.0), "reads high")
    assert known.severity == "fix"
    assert "remake the splice" in known.mend


def test_24_typed_as_ohms_is_asked_about() -> None:
    job = put(wired_job(THREE, THREE), "terminal", t(1), day_1_ohm=24.0)
    assert only(job, "volts typed as ohms").severity == "note"
    assert "volts typed as ohms" not in codes(metered(day_1_ohm=24.0))
    assert codes(put(job, "terminal", t(1), day_1_ohm=25.0)) == []


def test_a_margin_by_usual_figures_is_a_note_that_says_so() -> None:
    job = put(metered(), "valve", valve_id("zone-2"), wire_ft=900.0)
    flag = only(job, "wire too long")
    assert flag.severity == "note"
    assert "usual figures" in flag.mend
    own = put(job, "controller", CONTROLLER, inrush_a=0.4, pull_in_v=20.0, output_v=24.0)
    assert only(own, "wire too long").severity == "fix"


def test_a_zone_and_nothing_for_one_test_is_flagged_and_not_used() -> None:
    job = energised(wired_job(THREE, THREE), 1, "zone-1")
    job = put(job, "terminal", t(1), ran_nothing=True)
    assert codes(job) == ["test says both"]
    assert link_of(job, job.terminals[1]).why == "colours at both ends, not tested"


def test_every_flag_of_the_meter_is_short_with_its_mend() -> None:
    jobs = [
        energised(energised(wired_job(THREE, THREE), 1), 2),
        energised(wired_job(THREE, THREE), 1),
        energised(wired_job(THREE, THREE), 2, "zone-3"),
        put(metered(), "valve", valve_id("zone-2"), wire_ft=900.0),
        *(metered(day_1_ohm=34.0, now_ohm=ohm) for ohm in (3.2, 18.8, 26.0, 44.0, 9999.0)),
        put(wired_job(THREE, THREE), "terminal", t(1), day_1_ohm=74.0),
    ]
    for job in jobs:
        for flag in checked(job).flags:
            assert len(f"{flag.sentence} {flag.mend}") <= 200, flag.sentence


def doubled(**columns: object) -> LoadedJob:
    """Zones 1 to 3, with the valve of zone 2 on the wire of zone 1 and nothing under terminal 2."""
    job = wired_job(("red", "red", "green"), ("red", None, "green"))
    return put(job, "zone", "zone-2", **columns)


def test_two_valves_on_one_wire_are_a_stop_until_they_are_meant() -> None:
    flag = only(doubled(), "colour used twice")
    assert flag.severity == "stop"
    assert "enter Runs with" in flag.mend
    assert len(f"{flag.sentence} {flag.mend}") <= 200
    meant = doubled(runs_with="zone-1")
    assert codes(meant) == []
    assert leads_to(meant, meant.terminals[1]) == "zones 1 and 2"
    # Both run and read as two coils, as they should.
    tested = put(energised(meant, 1, "zone-1", "zone-2"), "terminal", t(1), day_1_ohm=16.0)
    assert codes(tested) == []
    assert reconciled_wire(tested).doubts == ()
    # Their current is checked together: 24 V times 0.25 and 0.40 A.
    weak = put(tested, "controller", CONTROLLER, transformer_va=15)
    assert number(only(weak, "transformer overloaded"), "load") == pytest.approx(15.6)
    # Another zone that runs too is not meant.
    assert "ran another zone" in codes(energised(meant, 1, "zone-1", "zone-3"))


def test_zones_that_run_together_on_wires_of_their_own_stay_two_wires() -> None:
    job = put(wired_job(THREE, THREE), "zone", "zone-2", runs_with="zone-1")
    assert codes(job) == []
    assert leads_to(job, job.terminals[2]) == "zone 2"
