"""Three worked zones through the whole job record: governing flow, budget, velocity.

The zones: static 60 psi, 3/4 in meter, 60 ft of copper L service, assembly 4 psi, valve 3 psi,
80 ft of 1 in Schedule 40, then 2 gpm heads at 12 ft on 1 in SDR 21, 10 % of pipe loss for
fittings, 6 ft uphill. Figures: Hazen-Williams 452 q^1.852/(C^1.852 d^4.8704) psi per 100 ft with
the inside diameters of ASTM D1785, D2241 (minimum walls) and B88, C 150 for PVC and 140 for
copper, the meter's square law on its loss at safe flow, 0.433 psi/ft (International Plumbing
Code, E103.2.2).
"""

from __future__ import annotations

import pytest
from builders import bare_job, codes, lateral, mend, only, put, row, valve, without, zone

from fieldbook.checks.finding import Finding
from fieldbook.checks.registry import check
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.backflow_assembly import BackflowAssembly
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.supply import Supply


def worked_zone(heads: int, service_size: str = "1", needed_psi: float = 30.0) -> LoadedJob:
    """The worked zone with so many heads."""
    runs, tops = lateral(1, (2.0,) * heads)
    main = row(
        PipeRun, "main-1", number=1, size="1", pipe_class="pvc sch 40", length_ft=80.0, rise_ft=6.0
    )
    return bare_job(
        supply=row(
            Supply,
            "supply",
            static_psi=60.0,
            meter_size="3/4",
            service_class="copper L",
            service_size=service_size,
            service_length_ft=60.0,
            pipe_bores="minimum wall",
        ),
        backflow_assemblies=(row(BackflowAssembly, "backflow-1", kind="PVB", loss_psi=4.0),),
        zones=(zone(1, needed_psi=needed_psi),),
        valves=(valve(1, None, loss_psi=3.0),),
        pipe_runs=(main, *runs),
        heads=tops,
    )


def number(finding: Finding, name: str) -> float:
    """One figure of a flag."""
    return next(one.value for one in finding.numbers if one.name == name)


def test_zone_a_has_no_flags_at_30_psi() -> None:
    """Worked: 41.65 psi at the last head, 11.65 over 30; 12 gpm under 18.97, 22.5 and 12.86."""
    assert codes(worked_zone(6)) == []


def test_zone_a_has_its_worked_pressure_at_the_last_head() -> None:
    """Worked: losses 2.40 + 2.54 + 2.66 + 0.57 + 0.58 + 2.60 + 7 leave 41.65 psi."""
    low = only(worked_zone(6, needed_psi=45.0), "pressure too low")
    assert number(low, "pressure at the head") == pytest.approx(41.65, abs=0.1)
    assert "run 6 of zone 1" in low.sentence


def test_zone_b_has_enough_pressure_but_runs_too_fast() -> None:
    """Worked: 18 gpm leaves 31.01 psi, margin 1.01; mainline 6.68 ft/s is over 5."""
    job = worked_zone(9)
    note = only(job, "little pressure to spare")
    assert number(note, "pressure at the head") == pytest.approx(31.01, abs=0.1)
    assert number(note, "margin") == pytest.approx(1.01, abs=0.1)
    fast = {one.at.row_id: one for one in check(job) if one.code == "water too fast"}
    assert number(fast["main-1"], "velocity") == pytest.approx(6.68, abs=0.02)
    # 0.4085 x 18 / 1.189^2
    assert number(fast["run-1-1"], "velocity") == pytest.approx(5.20, abs=0.02)


def test_zone_c_loses_more_on_a_smaller_service_line() -> None:
    """Worked: 3/4 in copper L loses 9.32 psi at 12 gpm and leaves 34.19 psi at the last head."""
    low = only(worked_zone(6, "3/4", needed_psi=36.0), "pressure too low")
    assert number(low, "pressure at the head") == pytest.approx(34.19, abs=0.1)


def test_the_service_line_governs_60_psi_a_3_4_meter_and_3_4_copper() -> None:
    """Worked: 10 % meter loss 18.97, 75 % of safe flow 22.5, service 12.07 gpm at 8 ft/s."""
    assert "flow over supply" not in codes(worked_zone(6, "3/4"))
    job = worked_zone(7, "3/4")
    over = only(job, "flow over supply")
    assert over.severity == "stop"
    assert "service line" in over.sentence
    assert number(over, "available flow") == pytest.approx(12.07, abs=0.02)
    # Seven nozzles are rated 14 gpm at 30 psi; the last of them get a little less than that.
    assert number(over, "draw") == pytest.approx(13.84, abs=0.02)
    assert number(over, "margin") == pytest.approx(12.07 - 13.84, abs=0.03)
    assert over.at.column == "nozzle_gpm"
    assert "flow over supply" not in codes(mend(job, over, 0.05))


def test_the_meter_loss_governs_where_the_service_line_is_large() -> None:
    """Worked: 10 % of 60 psi through a 3/4 in meter is 18.97 gpm."""
    job = put(worked_zone(6, "2"), "zone", "zone-1", design_flow_gpm=20.0)
    over = only(job, "flow over supply")
    assert "meter" in over.sentence
    assert number(over, "available flow") == pytest.approx(18.97, rel=0.01)


LEFT_GPM = 8.35
"""Worked: behind the test 4 + 3 psi, 6 ft (2.60 psi) and, at 12 gpm, 1.1 (2.66 + 0.57) = 3.55 psi.

For 40 psi at the head: 60 - 40 - 9.60 = 10.40 = 12 (Q / 10)^1.852 + 3.55 (Q / 12)^1.852.
"""


def test_the_flow_test_leaves_room_for_the_losses_on_the_way() -> None:
    """NFPA 291 form: static 60, 48 psi at 10 gpm leaves 40 psi at 13.18 gpm at the gauge."""
    job = put(worked_zone(6, "2", needed_psi=40.0), "zone", "zone-1", design_flow_gpm=15.0)
    job = _tested(job, 48.0, 10.0)
    over = only(job, "flow over supply")
    assert "flow test" in over.sentence
    assert number(over, "draw") == 15.0
    assert number(over, "available flow") == pytest.approx(LEFT_GPM, abs=0.02)


def test_a_flow_test_leaves_less_even_before_the_lateral_is_entered() -> None:
    """At 15 gpm the parts before the lateral take 4 + 3 psi and 1.1 x 2.66 (15/12)^1.852."""
    job = put(worked_zone(6, "2", needed_psi=40.0), "zone", "zone-1", design_flow_gpm=15.0)
    job = _tested(without(job, "head"), 48.0, 10.0)
    over = only(job, "flow over supply")
    # 60 - 40 - 7 = 13 = 12 (Q / 10)^1.852 + 2.93 (Q / 12)^1.852; no head says how high it stands.
    assert number(over, "available flow") == pytest.approx(9.56, abs=0.02)


def test_a_bucket_gives_the_flow_of_a_test() -> None:
    """A bucket of 5 gal in 30 s is 10 gpm: the same reading as above."""
    job = put(worked_zone(6, "2", needed_psi=40.0), "zone", "zone-1", design_flow_gpm=15.0)
    job = _tested(job, 48.0, None, bucket_gal=5.0, bucket_s=30.0)
    assert number(only(job, "flow over supply"), "available flow") == pytest.approx(
        LEFT_GPM, abs=0.02
    )


def test_the_budget_from_a_flow_test_takes_no_meter_or_service_loss() -> None:
    """NFPA 291 form: 60 - 12 (12/10)^1.852 = 43.18 psi at 12 gpm, then the losses behind it."""
    job = _tested(worked_zone(6, needed_psi=45.0), 48.0, 10.0)
    # 60.0 - 18.35 leaves 41.65; without meter 2.40, service 2.54 and its fittings 0.254 but with
    # the tested drop of 16.82 it is 41.65 + 5.19 - 16.82.
    drop = 12.0 * 1.2**1.852
    low = only(job, "pressure too low")
    assert number(low, "pressure at the head") == pytest.approx(
        41.65 + 2.40 + 2.54 * 1.1 - drop, abs=0.1
    )


def _tested(job: LoadedJob, psi: float, gpm: float | None, **more: object) -> LoadedJob:
    """The job with one reading of a flow test."""
    return put(job, "flow_test_point", "point-1", residual_psi=psi, flow_gpm=gpm, **more)
