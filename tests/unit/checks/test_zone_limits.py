"""The solved draw against what the street allows, and when a zone is called good."""

from __future__ import annotations

from dataclasses import replace

import pytest
from builders import codes, lateral, number, only, put, row, sound_job, without

from fieldbook.checks.water.zone_certainty import certainty_of
from fieldbook.checks.water.zone_limits import supplied
from fieldbook.checks.water.zone_solutions import solved, zone_groups
from fieldbook.checks.water.zone_status import ZoneStatus, zone_statuses
from fieldbook.papers.zone_water.zone_summary import held_to
from fieldbook.records.ids import head_id, valve_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.supply import FlowTestPoint
from fieldbook.screens.sheets import BUILDERS


def strong(heads: int = 7, **head: float | None) -> LoadedJob:
    """Heads of 2 gpm at 30 psi that do not regulate, on a strong street with a 5/8 in meter."""
    job = sound_job(1)
    runs, tops = lateral(1, (2.0,) * heads)
    main = tuple(run for run in job.pipe_runs if run.zone_id is None)
    job = replace(job, pipe_runs=(*main, *runs), heads=tops)
    for run in runs:
        job = put(job, "head", head_id(run.id), **{"regulated_psi": None, **head})
    assert job.supply is not None
    job = put(job, "supply", job.supply.id, static_psi=75.0, meter_size="5/8")
    point = row(FlowTestPoint, "flow-test-1", flow_gpm=40.0, residual_psi=60.0)
    return replace(job, flow_test_points=(point,))


def status(job: LoadedJob) -> ZoneStatus:
    return zone_statuses(job)[0]


def test_nozzles_that_get_more_than_their_pressure_draw_more_than_is_printed_on_them() -> None:
    # 75 % of the 20 gpm of a 5/8 in meter (COMAR 20.70.06.03 B) is 15 gpm, 10 % of 75 psi through
    # it 14.14 gpm; 7 x 2 = 14 gpm are within both, the solved draw is not.
    job = strong()
    over = only(job, "flow over supply")
    assert over.severity == "stop"
    assert number(over, "available flow") == pytest.approx(14.14, abs=0.01)
    assert number(over, "draw") > 1.15 * 14.0
    assert "its nozzles are rated 14 gpm" in over.sentence
    assert len(over.sentence) <= 200
    assert (over.at.table, over.at.column) == ("head", "nozzle_gpm")
    assert status(job).word == "over supply"
    held = strong(regulated_psi=30.0)
    assert "flow over supply" not in codes(held)
    assert status(held).flow_gpm == pytest.approx(14.0)


def test_sheet_page_and_flag_give_one_draw_and_one_limit() -> None:
    job = strong()
    over, standing = only(job, "flow over supply"), status(job)
    assert standing.flow_gpm == number(over, "draw")
    assert standing.available is not None
    assert standing.available.flow_gpm == number(over, "available flow")
    assert standing.held.margin_gpm == number(over, "margin")
    (draw, *_) = held_to(job, standing)
    assert (draw.now, draw.limit) == (f"{standing.flow_gpm:.2f}", "14.14")
    desk = " ".join(
        cell.text
        for section in BUILDERS["desk"](job, "us").sections
        for line in section.rows
        for cell in line.cells
        if cell.at.column in ("draws", "allowed")
    )
    for text in (desk, over.sentence):
        assert f"{standing.flow_gpm:.2f} gpm" in text
        assert "14.14 gpm" in text


def test_zones_that_run_together_are_held_together() -> None:
    job = put(sound_job(2), "zone", "zone-2", runs_with="zone-1")
    one, other = zone_statuses(job)
    assert one.held is other.held
    assert one.flow_gpm == pytest.approx(12.0)
    assert one.own_gpm == pytest.approx(6.0)


def test_a_solved_draw_is_not_held_against_the_test_twice() -> None:
    """A head that is short says that the flow test is exceeded; it is not flagged once more."""
    job = put(sound_job(1), "zone", "zone-1", needed_psi=60.0)
    assert supplied(job, zone_groups(job)[0]).available is not None
    assert "pressure too low" in codes(job)
    assert "flow over supply" not in codes(job)
    entered = put(job, "zone", "zone-1", design_flow_gpm=18.0)
    assert "flow test" in only(entered, "flow over supply").sentence


def test_the_allowed_flow_of_the_test_is_the_draw_where_a_head_just_has_enough() -> None:
    job = sound_job(1)
    psi = zone_groups(job)[0].heads_of(job.zones[0])[-1][1].psi
    exact = put(job, "zone", "zone-1", needed_psi=psi)
    held = supplied(exact, zone_groups(exact)[0])
    assert held.available is not None
    assert held.available.by_test
    assert held.available.flow_gpm == pytest.approx(held.draw_gpm, rel=1e-6)


@pytest.mark.parametrize(("over_psi", "flagged"), [(0.1, True), (4.9, True), (5.1, False)])
def test_a_regulated_head_needs_some_pressure_over_its_setting(
    over_psi: float, flagged: bool
) -> None:
    """5 psi: common practice, no source."""
    job, setting = sound_job(1), 20.0
    for _ in range(12):
        for no in (1, 2, 3):
            job = put(job, "head", head_id(f"run-1-{no}"), rated_psi=20.0, regulated_psi=setting)
        setting = zone_groups(job)[0].heads_of(job.zones[0])[-1][1].psi - over_psi
    assert ("regulated head starved" in codes(job)) == flagged
    assert status(job).word == ("tight" if flagged else "good")


@pytest.mark.parametrize(("over_psi", "flagged"), [(0.1, True), (5.1, False)])
def test_a_regulator_needs_some_pressure_over_its_setting(over_psi: float, flagged: bool) -> None:
    job = sound_job(1)
    for no in (1, 2, 3):
        job = put(job, "head", head_id(f"run-1-{no}"), rated_psi=20.0, regulated_psi=None)
    setting = 40.0
    for _ in range(30):
        job = put(job, "valve", valve_id("zone-1"), regulator_psi=setting)
        group = zone_groups(job)[0]
        assert group.solution is not None
        setting = group.solution.node_psi["after valve of zone 1"] - over_psi
    found = [flag for flag in status(job).flags if flag.code == "regulator short of pressure"]
    assert bool(found) == flagged
    if flagged:
        assert found[0].severity == "note"
        assert number(found[0], "margin") == pytest.approx(over_psi - 5.0, abs=0.01)


def test_a_zone_with_any_flag_is_not_good() -> None:
    job = sound_job(1)
    assert status(job).word == "good"
    beyond = put(job, "flow_test_point", "flow-test-1", flow_gpm=5.0, residual_psi=55.0)
    assert status(beyond).word == "doubtful"
    assert status(put(job, "pipe_run", "main-1", after=7)).word == "open"
    assert job.supply is not None
    behind = put(job, "supply", job.supply.id, behind_regulator=True)
    assert status(behind).word == "doubtful"
    raised = put(job, "head", head_id("run-1-3"), elevation_ft=20.0, regulated_psi=None)
    assert "pressure spread" in codes(raised)
    assert status(raised).word == "uneven"
    assert status(without(job, "flow_test_point")).word == "open"


def test_a_network_that_did_not_change_is_not_solved_again() -> None:
    job = sound_job(2)
    before = zone_groups(job)[0].solution
    hits = solved.cache_info().hits
    again = zone_groups(put(job, "zone", "zone-1", name="another name"))[0].solution
    assert again is before
    assert solved.cache_info().hits > hits


def test_a_zone_is_tight_where_its_band_reaches_below_what_its_head_needs() -> None:
    """A small flow test far under the draw: 3 psi and a tenth to spare are less than the doubt."""
    job = put(sound_job(1), "flow_test_point", "flow-test-1", flow_gpm=4.0, residual_psi=57.0)
    psi = zone_groups(job)[0].heads_of(job.zones[0])[-1][1].psi
    near = put(job, "zone", "zone-1", needed_psi=psi - 5.2)
    tight = only(near, "little pressure to spare")
    assert tight.severity == "note"
    assert "may be off is more than the difference" in tight.sentence
    assert len(tight.sentence) <= 200
    assert number(tight, "margin") == pytest.approx(5.2)
    assert status(near).word == "tight"
    found = certainty_of(near, zone_groups(near)[0], near.zones[0])
    assert found is not None
    assert found.crosses
    far = put(job, "zone", "zone-1", needed_psi=psi - 15.0)
    assert "little pressure to spare" not in codes(far)


def test_the_band_counts_the_other_bores_and_the_other_law() -> None:
    job = sound_job(1)
    found = certainty_of(job, zone_groups(job)[0], job.zones[0])
    assert found is not None
    down = {doubt.name: doubt.down_psi for doubt in found.band.doubts}
    assert down["bore"] > 0.0
    assert down["law"] > 0.0
    assert job.supply is not None
    other = put(job, "supply", job.supply.id, pipe_bores=None)
    average = zone_groups(other)[0].heads_of(other.zones[0])[-1][1].psi
    assert found.psi - average == pytest.approx(down["bore"])
    assert found.holds_to_psi is not None
    lowered = put(job, "supply", job.supply.id, static_psi=found.holds_to_psi + 0.1)
    assert "pressure too low" not in codes(_moved(lowered, found.holds_to_psi + 0.1 - 62.0))
    lower = put(job, "supply", job.supply.id, static_psi=found.holds_to_psi - 0.1)
    assert "pressure too low" in codes(_moved(lower, found.holds_to_psi - 0.1 - 62.0))


def _moved(job: LoadedJob, by_psi: float) -> LoadedJob:
    """The job with the residual of its flow test (45 psi) moved as static was."""
    return put(job, "flow_test_point", "flow-test-1", residual_psi=45.0 + by_psi)
