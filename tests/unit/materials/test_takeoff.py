"""The takeoff against zones counted by hand on paper.

How fittings follow from a tree is common practice, no source: a node with one pipe going on takes
a coupling only where a stick ends, a node of three a tee, of four two tees, a change of size a
reducer, an end a cap or a head. Sticks of rigid pipe are 20 ft: common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace

from any_jobs import any_job
from builders import bare_job, sound_job
from examples import examples
from hypothesis import given
from job_parts import row, valve, zone

from fieldbook.materials.item import Allowances
from fieldbook.materials.takeoff import takeoff
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.wires import Cable, Splice
from fieldbook.records.tables.zones import Head

ZONE = "zone-1"


def run(number: int, after: int | None, size: str, length_ft: float, **more: object) -> PipeRun:
    values: dict[str, object] = {"zone_id": ZONE, "pipe_class": "pvc sdr 21", **more}
    return row(
        PipeRun,
        f"run-{number}",
        number=number,
        after=after,
        size=size,
        length_ft=length_ft,
        **values,
    )


def head(number: int, **values: object) -> Head:
    return row(
        Head, f"head-{number}", run_id=f"run-{number}", kind="spray", nozzle_gpm=1.5, **values
    )


def counted(job: LoadedJob, allowances: Allowances | None = None) -> dict[str, float]:
    return {item.what: item.count for item in takeoff(job, allowances).items}


def worked_zone() -> LoadedJob:
    """A 1 in trunk of 45 ft, which parts into two 3/4 in arms; heads at the ends and on one arm.

    valve --run 1, 1 in, 45 ft--+--run 2, 3/4, 20 ft--head--run 3, 3/4, 15 ft--head
                                +--run 4, 3/4, 25 ft--head
    """
    return bare_job(
        zones=(zone(1),),
        pipe_runs=(
            run(1, None, "1", 45.0),
            run(2, 1, "3/4", 20.0),
            run(3, 2, "3/4", 15.0),
            run(4, 1, "3/4", 25.0),
        ),
        heads=(head(2), head(3), head(4)),
        valves=(valve(1, "red"),),
    )


def test_a_zone_counted_by_hand() -> None:
    found = counted(worked_zone())
    # By hand: 45 ft of 1 in; 20 + 15 + 25 = 60 ft of 3/4 in.
    assert found["pipe 1 pvc sdr 21"] == 45.0
    assert found["pipe 3/4 pvc sdr 21"] == 60.0
    # The trunk ends in a tee with an arm each way; the head on run 2 stands on a second tee.
    assert found["tee 1 x 3/4 x 3/4 pvc sdr 21"] == 1
    assert found["tee 3/4 x 3/4 x 1/2 thread pvc sdr 21"] == 1
    # 45 ft are three sticks and two couplings, 25 ft two sticks and one; 20 and 15 ft are one.
    assert found["coupling 1 pvc sdr 21"] == 2
    assert found["coupling 3/4 pvc sdr 21"] == 1
    assert found["adapter 1 pvc sdr 21"] == 1
    # Joints: two tees of 3, three couplings of 2, one adapter of 1.
    assert found["cemented joint"] == 2 * 3 + 3 * 2 + 1
    assert found["head spray"] == 3
    assert found["nozzle 1.5 gpm"] == 3
    assert found["zone valve 1"] == 1
    assert found["waterproof splice"] == 2
    assert found["trench"] == 105.0
    assert not [what for what in found if what.startswith(("cap", "reducer"))]


def test_a_run_of_95_ft_takes_four_couplings() -> None:
    # Five sticks of 20 ft have four joints between them.
    job = replace(worked_zone(), pipe_runs=(run(1, None, "1", 95.0),), heads=(head(1),))
    assert counted(job)["coupling 1 pvc sdr 21"] == 4


def test_pipe_that_comes_in_coils_takes_no_coupling() -> None:
    job = replace(worked_zone(), pipe_runs=(run(1, None, "1", 95.0, pipe_class="pe sidr"),))
    found = counted(job)
    assert not [what for what in found if what.startswith("coupling")]
    assert "cemented joint" not in found


def test_a_change_of_size_takes_a_reducer_and_an_open_end_a_cap() -> None:
    job = replace(
        worked_zone(), pipe_runs=(run(1, None, "1", 10.0), run(2, 1, "3/4", 10.0)), heads=()
    )
    found = counted(job)
    assert found["reducer 1 x 3/4 pvc sdr 21"] == 1
    assert found["cap 3/4 pvc sdr 21"] == 1
    assert found["cemented joint"] == 2 + 1 + 1


def test_four_pipes_at_a_node_take_two_tees() -> None:
    arms = tuple(run(number, 1, "3/4", 10.0) for number in (2, 3, 4))
    job = replace(
        worked_zone(), pipe_runs=(run(1, None, "1", 10.0), *arms), heads=(head(2), head(3), head(4))
    )
    assert counted(job)["tee 1 x 3/4 x 3/4 pvc sdr 21"] == 2


def test_waste_is_added_only_where_it_is_typed_and_is_named() -> None:
    job = worked_zone()
    assert counted(job, Allowances(waste_pct=10))["pipe 1 pvc sdr 21"] == 49.5
    item = next(one for one in takeoff(job, Allowances(waste_pct=10)).items if one.group == "pipe")
    assert "10 % of waste" in item.how


def test_cable_is_as_long_as_the_longest_way_on_it() -> None:
    job = bare_job(
        zones=(zone(1), zone(2)),
        valves=(valve(1, "red", wire_ft=120.0), valve(2, "blue", wire_ft=180.0)),
        cables=(row(Cable, "cable-1", name="1", gauge_awg="18"),),
        splices=(row(Splice, "splice-1"),),
    )
    found = counted(job)
    assert found["cable AWG 18"] == 180.0
    assert found["waterproof splice"] == 5
    assert takeoff(replace(job, valves=(valve(1, "red"),))).not_counted == (
        "the length of cable 1",
    )


def test_what_the_record_does_not_say_is_named() -> None:
    job = replace(
        worked_zone(),
        pipe_runs=(run(1, None, "1", 10.0), row(PipeRun, "x", zone_id=ZONE, number=2)),
    )
    assert takeoff(job).not_counted[:2] == ("1 runs without a length", "elbows at bends")


def test_mainline_valves_stand_where_the_record_says() -> None:
    job = sound_job(2)
    found = counted(job)
    # Both zone valves are at the end of the one mainline run: two outlets, so one tee.
    assert found["tee 1 x 1 x 1 pvc sch 40"] == 1
    assert found["adapter 1 pvc sch 40"] == 2


@examples(10)
@given(any_job())
def test_no_record_is_too_odd_to_be_counted(job: LoadedJob) -> None:
    for item in takeoff(job).items:
        assert item.count > 0
        assert item.what == " ".join(item.what.split())
