"""The next reading: what tells the leading faults apart, per minute."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest
from crew_rounds import true_values
from field_faults import Fault, broken
from laid_zones import laid

from fieldbook.diagnosis.ranking import Diagnosis, diagnose
from fieldbook.diagnosis.zone_parts import Measured, ZoneParts, ZoneReadings
from fieldbook.trade.water_faults import water_faults


def flow_alone(parts: ZoneParts, fault: Fault) -> ZoneReadings:
    """Static and flow of a zone with a fault, read well."""
    values = true_values(parts, broken(parts, (fault,)))
    static, flow = values["static"], values["flow"]
    return ZoneReadings(
        static=Measured.within(static, 1.0), flow=Measured.within(flow, 0.02 * flow)
    )


def found_of(fault: Fault, seed: int = 14) -> tuple[ZoneParts, Diagnosis]:
    parts = laid(Random(seed), 8)
    return parts, diagnose(parts, flow_alone(parts, fault))


def test_more_flow_at_one_of_many_places_is_told_by_a_walk() -> None:
    _, found = found_of(Fault("missing", "head 5", 1.2))
    assert found.verdict == "can't tell"
    assert found.nexts[0].kind == "walk"


def test_what_was_read_is_not_asked_for_again() -> None:
    parts = laid(Random(14), 8)
    readings = flow_alone(parts, Fault("isolation", "", 30.0))
    readings = replace(
        readings,
        running=Measured(55.0, 1.0),
        heads={"head 1": Measured(20.0, 1.0)},
        signs=dict.fromkeys(parts.heads, "weak"),
        others="weak",
        ground=True,
        meter_off="still",
    )
    kinds = {(one.kind, one.place) for one in diagnose(parts, readings).nexts}
    assert not kinds & {("static", ""), ("running", ""), ("flow", ""), ("head", "head 1")}
    assert {kind for kind, _ in kinds} <= {"head"}


def all_weak(parts: ZoneParts, fault: Fault) -> ZoneReadings:
    """The same, with every head seen to be weak."""
    return replace(flow_alone(parts, fault), signs=dict.fromkeys(parts.heads, "weak"))


def test_a_loss_before_the_tap_is_told_by_the_gauge_there_while_it_runs() -> None:
    parts = laid(Random(14), 8)
    found = diagnose(parts, all_weak(parts, Fault("street_valve", "", 40.0)))
    running = next(one for one in found.nexts if one.kind == "running")
    by_change = {axes[0].change: value for axes, value in running.expects if axes}
    assert by_change["street loses"] < by_change["valve loses"] - 10.0
    assert by_change["shared part loses"] == pytest.approx(by_change["valve loses"], abs=1.0)


def test_minutes_weigh() -> None:
    parts = laid(Random(14), 8)
    readings = all_weak(parts, Fault("isolation", "", 30.0))
    table = water_faults()
    slow = replace(table, minutes={**table.minutes, "others": 500.0, "running": 500.0})
    assert diagnose(parts, readings).nexts[0].kind in ("others", "running")
    assert diagnose(parts, readings, slow).nexts[0].kind not in ("others", "running")


def test_no_reading_tells_more_than_there_is_to_know() -> None:
    _, found = found_of(Fault("valve_part_closed", "", 30.0))
    assert found.nexts
    for one in found.nexts:
        # Twelve groups at most are held against each other: 3.6 bits.
        assert 0.0 < one.bits <= 3.6
        assert one.worth == pytest.approx(one.bits / one.minutes)


def test_a_sound_zone_needs_no_reading() -> None:
    parts = laid(Random(9), 5)
    values = true_values(parts, parts.network)
    readings = ZoneReadings(
        Measured.within(values["static"], 1.0), None, Measured.within(values["flow"], 0.2)
    )
    assert diagnose(parts, readings).nexts == ()
