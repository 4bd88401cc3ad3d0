"""How a zone stands, the remedies that the desk suggests, and the figures drawn for it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from builders import lateral, put, sound_job, without, zone

from fieldbook.checks.water.zone_remedies import advice, requirements_of
from fieldbook.checks.water.zone_solutions import zone_groups
from fieldbook.checks.water.zone_status import head_word, zone_statuses
from fieldbook.records.ids import head_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.screens.pages.zone_figures import advice_lines, status_lines, zone_figures

UNTESTED = "Nothing entered falls short, but it is not checked: a flow test."
"""What is said of a zone that meets all, where nobody tested the flow of the street."""


def on_plastic(zones: int) -> LoadedJob:
    """The sound job without a flow test, on 1 in PVC: 13.47 gpm at 5 ft/s is what it allows."""
    job = without(sound_job(zones), "flow_test_point")
    assert job.supply is not None
    return put(job, "supply", job.supply.id, service_class="pvc sch 40")


def job_with(heads: int, **supply: object) -> LoadedJob:
    """The sound job with so many heads of 2 gpm in zone 1, on a service line of plastic."""
    runs, tops = lateral(1, (2.0,) * heads)
    job = on_plastic(1)
    main = tuple(run for run in job.pipe_runs if run.zone_id is None)
    job = replace(job, pipe_runs=(*main, *runs), heads=tops)
    assert job.supply is not None
    return put(job, "supply", job.supply.id, **supply)


def sentences(job: LoadedJob) -> tuple[str, ...]:
    """The remedies suggested for the first zone."""
    found = advice(job, zone_groups(job)[0])
    assert found is not None
    return (found.now, *found.mends)


def test_a_zone_is_good_only_once_all_of_it_is_checked() -> None:
    job = job_with(3)
    (status,) = zone_statuses(job)
    assert status.word == "open"
    assert sentences(job) == (UNTESTED,)
    assert {status.word for status in zone_statuses(sound_job())} == {"good"}


def test_a_zone_over_its_supply_is_split_and_never_given_larger_pipe() -> None:
    job = job_with(9)
    (standing,) = zone_statuses(job)
    assert standing.word == "over supply"
    now, pipe, split, nozzles, most = sentences(job)
    assert "draws more than the supply allows" in now
    assert pipe.startswith("Larger pipe does not mend it")
    assert split.startswith(
        "Split it in 2: the heads at runs 1 to 5; then the heads at runs 6 to 9"
    )
    assert "70 % of the flow" in nozzles
    # 13.47 gpm at 5 ft/s in 1 in Schedule 40: six heads of 2 gpm.
    assert "the first 6 of its 9 heads" in most


def test_a_zone_short_by_its_pipe_is_given_the_least_larger_pipe() -> None:
    job = job_with(5, static_psi=48.0)
    job = put(job, "pipe_run", "main-1", size="3/4", length_ft=60.0)
    job = put(job, "zone", "zone-1", needed_psi=33.0)
    (standing,) = zone_statuses(job)
    assert standing.word == "short"
    pipe = sentences(job)[1]
    assert pipe.startswith("Lay mainline run 1 in ")
    assert "(the least pipe that is enough)" in pipe
    size = pipe.partition(" in ")[2].partition(" in ")[0]
    mended = put(job, "pipe_run", "main-1", size=size)
    assert sentences(mended) == (UNTESTED,)


def test_a_suggestion_followed_clears_the_flags() -> None:
    job = job_with(9)
    group = zone_groups(job)[0]
    assert group.job_network is not None
    fewer = requirements_of(job, group, group.job_network)
    assert fewer.most_gpm == pytest.approx(13.47, abs=0.01)
    runs, tops = lateral(1, (2.0 * 0.7,) * 9)
    main = tuple(run for run in job.pipe_runs if run.zone_id is None)
    smaller = replace(job, pipe_runs=(*main, *runs), heads=tops)
    assert zone_statuses(smaller)[0].word in ("good", "tight", "open")


def test_zones_that_run_together_are_suggested_to_run_one_after_the_other() -> None:
    job = on_plastic(2)
    runs, tops = lateral(2, (2.0,) * 5)
    first = tuple(run for run in job.pipe_runs if run.zone_id != "zone-2")
    heads = tuple(head for head in job.heads if head.run_id in {run.id for run in first})
    job = replace(job, pipe_runs=(*first, *runs), heads=(*heads, *tops))
    job = put(job, "zone", "zone-2", runs_with="zone-1")
    one, other = zone_statuses(job)
    assert (one.word, other.word) == ("over supply", "over supply")
    assert one.group is other.group
    mends = sentences(job)
    assert any(said.startswith("Run zone 1 and zone 2 one after the other: ") for said in mends)
    assert not any("Split" in said for said in mends)
    lines = [str(line) for line in status_lines(job, one, 73)]
    assert "Solved together with zone 2: they run at the same time." in lines


@pytest.mark.parametrize(
    ("table", "row_id", "column", "words"),
    [
        ("pipe_run", "run-1-2", "length_ft", "the length of run 2 of zone 1"),
        ("pipe_run", "main-1", "size", "the size and class of mainline run 1"),
        ("head", head_id("run-1-1"), "nozzle_gpm", "the nozzle flow of head 1 of zone 1"),
    ],
)
def test_a_missing_figure_is_named(table: str, row_id: str, column: str, words: str) -> None:
    job = put(sound_job(1), table, row_id, **{column: None})
    (standing,) = zone_statuses(job)
    assert standing.word == "open"
    assert words in standing.group.missing
    assert advice(job, standing.group) is None
    drawn = " ".join(str(line) for line in zone_figures(job, standing, 70))
    assert "Not solved" in drawn
    assert "works at" not in drawn
    assert "static pressure" not in drawn
    assert advice_lines(None) == []
    lines = " ".join(str(line) for line in status_lines(job, standing, 99))
    assert f"Not worked out yet: {words} must be entered." in lines


def test_without_a_supply_the_street_is_asked_for() -> None:
    (standing,) = zone_statuses(without(sound_job(1), "supply"))
    assert standing.group.missing == "the static pressure"


def test_a_head_s_pressure_has_a_word() -> None:
    job = sound_job(1)

    def word(**head: float | None) -> str | None:
        at = put(job, "head", head_id("run-1-3"), **head)
        return head_word(zone_groups(at)[0].heads_of(at.zones[0])[-1])

    psi = zone_groups(job)[0].heads_of(job.zones[0])[-1][1].psi
    assert word() == "good"
    assert word(rated_psi=psi - 1, regulated_psi=None) in ("tight", "low")
    assert word(min_psi=psi + 5) == "low"
    assert word(regulated_psi=None, max_psi=20.0) == "high"
    assert word(elevation_ft=300.0) == "dry"
    assert zone_statuses(put(job, "head", head_id("run-1-3"), elevation_ft=300.0))[0].word == "dry"


@pytest.mark.parametrize("units", ["us", "metric"])
def test_the_figures_fit_their_width(units: str) -> None:
    job = sound_job(1, units)
    (standing,) = zone_statuses(job)
    for width in (53, 73, 99):
        lines = [str(line) for line in zone_figures(job, standing, width)]
        assert all(len(line) <= width for line in lines)
        text = "\n".join(lines)
        assert "static pressure" in text
        assert "left at the head" in text
        assert "◆ zone 1 works at" in text
        assert "The tree of the zone" in text
        assert ("bar" in text) == (units == "metric")


def test_a_zone_without_a_number_or_flow_can_be_drawn() -> None:
    job = replace(sound_job(1), zones=(zone(1), zone(2)))
    assert [one.word for one in zone_statuses(job)] == ["good", "open"]
