"""From the record to a diagnosis: parts, readings typed and recorded, the wire of a dead zone."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from builders import energised, metered, put, sound_job, t, without
from hostile import HOSTILE
from job_parts import row
from random_jobs import random_job

from fieldbook.checks.diagnosing.diagnosis_lines import (
    diagnosis_lines,
    diagnosis_of,
    zone_parts,
)
from fieldbook.checks.diagnosing.recorded_readings import recorded, with_record
from fieldbook.checks.diagnosing.running_zone import parts_of
from fieldbook.checks.diagnosing.still_zone import dead_readings, terminal_of
from fieldbook.checks.diagnosing.typed_readings import (
    _TESTS,
    ReadingError,
    ReadingParser,
    TypedReadings,
)
from fieldbook.diagnosis.fault_axes import axes_of
from fieldbook.diagnosis.zone_parts import ZoneParts
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.measured.commissioning import (
    Commissioning,
    HeadReading,
    ZoneMeasurement,
)
from fieldbook.records.tables.zones import Zone
from fieldbook.trade.dead_zone_faults import dead_zone_faults
from fieldbook.water import solve


def typed(job: LoadedJob, line: str) -> TypedReadings:
    zone = job.zones[0]
    return ReadingParser(job, zone, parts(job)).line(line)


def parts(job: LoadedJob) -> ZoneParts:
    found = zone_parts(job, job.zones[0])
    assert isinstance(found, ZoneParts), found
    return found


@pytest.mark.parametrize("seed", range(12))
def test_the_parts_of_any_job_are_links_of_its_network(seed: int) -> None:
    job = random_job(seed)
    found = parts_of(job, job.zones[0])
    links = {link.name: link for link in found.network.links}
    assert {found.valve, *found.before, *found.laterals} <= set(links)
    assert len(found.laterals) == len(job.runs_of(job.zones[0].id))
    assert len(found.heads) == len(job.heads)
    assert set(found.rated_psi) == set(found.heads)
    # From the tap to the valve the links follow each other.
    way = [*found.before, found.valve]
    assert links[way[0]].start == found.gauge
    for one, following in pairwise(way):
        assert links[one].end == links[following].start
    assert axes_of(found)
    assert solve(found.network).converged


def test_a_tap_is_behind_the_service_line_where_that_is_laid() -> None:
    jobs = [random_job(seed) for seed in range(12)]
    tested = next(job for job in jobs if job.flow_test_points)
    untested = next(job for job in jobs if not job.flow_test_points)
    assert parts_of(tested, tested.zones[0]).gauge == "street"
    assert parts_of(untested, untested.zones[0]).gauge == "after service line"


def test_a_zone_that_is_not_entered_says_what_is_missing() -> None:
    job = random_job(1)
    assert job.supply is not None
    job = replace(job, supply=replace(job.supply, static_psi=None))
    found = diagnosis_of(job, job.zones[0], TypedReadings())
    assert found.refused == "It can't be simulated: enter the static pressure first."
    assert [words for _, words in diagnosis_lines(found)][1] == found.refused


def test_readings_are_typed_in_a_row_and_in_any_unit() -> None:
    job = random_job(3)
    found = typed(job, "static 4 bar, flow 10 gpm, head 1 = 30, saw 2 short, wet 1, looked")
    readings = found.running
    assert readings.static is not None
    assert readings.static.value == pytest.approx(58.0, abs=0.1)
    assert readings.flow is not None
    # A turn of 7.48 gal in 44.9 s, read within 0.2 gal and 1 s, by a meter within 1.5 %.
    assert readings.flow.sigma * 1.96 == pytest.approx(0.379, abs=0.002)
    assert readings.heads["head 1 of zone 1"].value == 30.0
    assert readings.signs["head 2 of zone 1"] == "short"
    assert readings.signs["head 1 of zone 1"] == "fine"
    assert readings.wet == {"head 1 of zone 1"}
    assert readings.ground
    assert not found.dead


def test_a_test_of_the_wire_says_that_the_zone_does_not_run() -> None:
    job = sound_job()
    found = ReadingParser(job, job.zones[0], None).line("ohms 2000, volts 25, by-hand runs")
    assert found.dead
    assert found.shown == {"ohms": "open", "volts": "there", "by_hand": "runs"}


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("statik 55", "“statik” is no reading: type static, running"),
        ("static", "pressure: Type a pressure such as"),
        ("static 55 gpm", "pressure: "),
        ("static -4", "below zero"),
        ("head 1", "type the number of the head's run and its pressure"),
        ("saw 1", "what was seen, such as saw 3 dry"),
        ("wet everywhere", "wet: type the number of a run"),
        ("wet 999", "wet: zone 1 has no run 999"),
        ("weeps always", "weeps: type stops and never stops"),
    ],
)
def test_a_line_that_can_not_be_says_why_in_a_sentence(line: str, said: str) -> None:
    with pytest.raises(ReadingError) as refused:
        typed(random_job(3), line)
    assert said in str(refused.value)
    assert len(str(refused.value)) <= 200


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_lines_are_refused_and_nothing_else(text: str) -> None:
    for line in (text, f"static {text}", f"head {text}", f"saw 1 {text}"):
        with pytest.raises(ReadingError) as refused:
            typed(random_job(3), line)
        assert len(str(refused.value)) <= 250


def test_the_newest_measurement_of_the_record_is_read_with_its_errors() -> None:
    job = random_job(3)
    zone, (run, other, *_) = job.zones[0], job.runs_of("zone-1")
    measured = {"zone_id": zone.id, "static_psi": 60.0, "flow_gpm": 10.0, "flow_off_pct": 4.0}
    rows = (
        row(ZoneMeasurement, "m-1", measured_on="2026-05-01", **{**measured, "flow_gpm": 3.0}),
        row(ZoneMeasurement, "m-2", measured_on="2026-06-01", **measured),
    )
    heads = (
        row(HeadReading, "r-1", measurement_id="m-2", run_id=run.id, psi=31.0, above_ft=2.0),
        row(HeadReading, "r-2", measurement_id="m-1", run_id=other.id, psi=99.0),
    )
    job = replace(job, zone_measurements=rows, head_readings=heads)
    job = replace(
        job,
        heads=tuple(replace(head, regulated_psi=None) for head in job.heads),
        commissioning=row(Commissioning, "c-1", held_on="2026-06-01", meter_still=False),
    )
    found, day = recorded(job, zone, parts(job))
    readings = found.running
    assert day == "2026-06-01"
    assert readings.flow is not None
    assert readings.flow.value == 10.0
    assert readings.flow.sigma == pytest.approx(0.4 / 1.96)
    # 0.433 psi for each foot that the gauge stands over the head.
    assert {name: one.value for name, one in readings.heads.items()} == {
        "head 1 of zone 1": pytest.approx(31.866)
    }
    assert readings.meter_off == "moves"


def test_a_gauge_at_a_nozzle_that_is_regulated_tells_nothing_of_the_pipe() -> None:
    job = random_job(3)
    zone, run = job.zones[0], job.runs_of("zone-1")[0]
    job = replace(
        job,
        zone_measurements=(row(ZoneMeasurement, "m-1", zone_id=zone.id, static_psi=60.0),),
        head_readings=(row(HeadReading, "r-1", measurement_id="m-1", run_id=run.id, psi=31.0),),
        heads=tuple(replace(head, regulated_psi=30.0) for head in job.heads),
    )
    assert recorded(job, zone, parts(job))[0].running.heads == {}
    below = tuple(replace(one, gauge_at="below the body") for one in job.head_readings)
    job = replace(job, head_readings=below)
    assert len(recorded(job, zone, parts(job))[0].running.heads) == 1


def test_readings_of_another_day_are_not_mixed_with_those_of_today() -> None:
    job = random_job(3)
    then = typed(job, "static 60, flow 9, head 1 30")
    now = typed(job, "flow 12, saw 1 gush")
    assert with_record(TypedReadings(), then, same_day=False) == then
    assert with_record(now, then, same_day=False) == now
    both = with_record(now, then, same_day=True).running
    assert both.static == then.running.static
    assert both.flow == now.running.flow
    assert both.heads == then.running.heads
    dead = typed(job, "dead")
    assert with_record(dead, then, same_day=True) == dead


def zone_of(job: LoadedJob, number: int) -> Zone:
    return next(zone for zone in job.zones if zone.number == number)


def test_the_record_s_own_tests_join_in_where_none_is_typed() -> None:
    job = metered(now_ohm=2000.0)
    zone = zone_of(job, 1)
    assert terminal_of(job, zone) is not None
    assert dead_readings(job, zone, {}).shown["ohms"] == "open"
    assert dead_readings(job, zone, {"ohms": "sound"}).shown["ohms"] == "sound"
    day_1 = metered(day_1_ohm=33.0)
    assert "ohms" not in dead_readings(day_1, zone_of(day_1, 1), {}).shown
    bare = without(sound_job(), "terminal")
    assert dead_readings(bare, zone_of(bare, 1), {"volts": "there"}).shown == {"volts": "there"}


def test_a_zone_seen_to_run_says_nothing_of_the_day_it_stopped() -> None:
    job = sound_job()
    assert "what_ran" not in dead_readings(job, zone_of(job, 1), {}).shown
    other = energised(job, 1, "zone-2")
    assert dead_readings(other, zone_of(other, 1), {}).shown["what_ran"] == "another"
    nothing = put(energised(job, 1), "terminal", t(1), ran_zone_id=None)
    assert dead_readings(nothing, zone_of(nothing, 1), {}).shown["what_ran"] == "nothing"


def test_a_dead_zone_in_lines_has_its_test_and_its_caution() -> None:
    job = sound_job()
    found = diagnosis_of(job, zone_of(job, 1), TypedReadings(dead=True))
    lines = [words for _, words in diagnosis_lines(found)]
    assert lines[1].startswith("It does not run.")
    assert lines[2].startswith("Next: ")
    assert any(line.startswith("Caution: Mains") for line in lines)


def test_every_test_that_can_be_typed_is_in_the_table_with_its_outcomes() -> None:
    table = dead_zone_faults().tests
    assert {name for name, _ in _TESTS.values()} == set(table)
    for name, outcomes in _TESTS.values():
        if outcomes:
            assert set(outcomes) == set(table[name].shows["other"])
