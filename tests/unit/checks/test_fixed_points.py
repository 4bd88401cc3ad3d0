"""Corners as a crew tapes them: along a wall and out from it; older records by east and north."""

from __future__ import annotations

import math
from collections.abc import Mapping

import pytest
from builders import bare_job, codes, put, row, sound_job
from hypothesis import given
from hypothesis import strategies as st

from fieldbook.checks.ground.fixed_points import by_compass, spot_of, spot_words
from fieldbook.checks.ground.positions import check_positions, position_of, position_words
from fieldbook.checks.looked import Looked
from fieldbook.papers.site_plan.plan_picture import plan_lines
from fieldbook.papers.site_plan.plan_sheet import plan_svg
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.ties import FixedPoint, Tie


def corners(*points: Mapping[str, float]) -> LoadedJob:
    """A property with these corners, A first."""
    rows = [
        row(FixedPoint, name.lower(), name=name, **point)
        for name, point in zip("ABCD", points, strict=False)
    ]
    return bare_job(fixed_points=tuple(rows))


LEFT = {"along_ft": 0.0, "out_ft": 0.0}


def test_a_corner_is_along_the_wall_and_out_from_it() -> None:
    job = corners(LEFT, {"along_ft": 24.0}, {"along_ft": 40.0, "out_ft": 6.0}, {"out_ft": 6.0})
    spots = [spot_of(job, point) for point in job.fixed_points]
    assert spots == [(0, 0), (24, 0), (40, -6), None]
    assert not by_compass(job)
    assert spot_words(job, 40.0, -6.0) == "40 ft along, 6 ft out"
    assert spot_words(job, 12.0, 30.0) == "12 ft along, 30 ft behind it"
    assert spot_words(job, -0.01, 0.01) == spot_words(job, 0.0, 0.0)


def test_an_older_record_keeps_its_points_and_takes_new_ones_along_its_wall() -> None:
    # The wall runs north: out from it, on the right hand of whoever goes along it, is east.
    old = corners(
        {"east_ft": 10.0, "north_ft": 5.0},
        {"east_ft": 10.0, "north_ft": 45.0},
        {"along_ft": 20.0, "out_ft": 7.0},
    )
    assert by_compass(old)
    assert [spot_of(old, point) for point in old.fixed_points] == [(10, 5), (10, 45), (17, 25)]
    assert spot_words(old, 17.0, 25.0) == "17 ft E, 25 ft N"


def test_the_wall_begins_at_the_origin_in_whatever_order_the_points_came() -> None:
    # From the origin 40 ft north: 20 ft along it, 7 ft out is to the east.
    old = corners(
        {"east_ft": 0.0, "north_ft": 40.0},
        {"east_ft": 0.0, "north_ft": 0.0},
        {"along_ft": 20.0, "out_ft": 7.0},
    )
    assert spot_of(old, old.fixed_points[2]) == (7, 20)


@given(st.floats(1, 90), st.floats(0, 2 * math.pi), st.floats(-50, 50), st.floats(-50, 50))
def test_taped_distances_are_kept_whichever_way_the_wall_runs(
    length: float, turn: float, along: float, out: float
) -> None:
    """Plane geometry: the new corner is as far from the first as its two tapes say."""
    end = {"east_ft": length * math.cos(turn), "north_ft": length * math.sin(turn)}
    first = {"east_ft": 0.0, "north_ft": 0.0}
    job = corners(first, end, {"along_ft": along, "out_ft": out})
    spot = spot_of(job, job.fixed_points[2])
    assert spot is not None
    assert math.hypot(*spot) == pytest.approx(math.hypot(along, out), abs=1e-6)


def test_a_box_in_the_yard_is_out_from_the_wall() -> None:
    job = corners(LEFT, {"along_ft": 40.0})
    tie = row(
        Tie,
        "t",
        thing="valve box",
        name="A",
        point_1_id="a",
        tape_1_ft=30.0,
        point_2_id="b",
        tape_2_ft=50.0,
        side="right",
    )
    # A right triangle: 30 ft out from the left corner, 50 ft from a corner 40 ft along.
    found = position_of(job, tie)
    assert found is not None
    assert (found.east_ft, found.north_ft) == pytest.approx((0.0, -30.0))
    assert position_words(job, tie) == "0 ft along, 30 ft out"


def test_the_plan_says_which_way_is_up() -> None:
    taped, old = corners(LEFT, {"along_ft": 24.0}), sound_job()
    lines = "\n".join(plan_lines(taped, 78))
    assert "out from the wall is down" in lines
    assert "2 B: 24 ft along, 0 ft out" in lines
    assert "north is not recorded" in lines
    assert ">Out from the wall</text>" in plan_svg(taped)
    south = put(taped, "fixed_point", "a", faces="south")
    assert "north is up" in "\n".join(plan_lines(south, 78))
    east = put(taped, "fixed_point", "a", faces="east")
    assert "north is right" in "\n".join(plan_lines(east, 78))
    lines = "\n".join(plan_lines(old, 78))
    assert "north is up" in lines
    assert ">North</text>" in plan_svg(old)


def test_a_corner_without_its_distance_along_the_wall_is_asked_for() -> None:
    job = put(sound_job(), "fixed_point", "corner-2", east_ft=None, north_ft=None)
    seen = [one for one in check_positions(job) if isinstance(one, Looked)]
    asked = {missing.at.column for one in seen for missing in one.missing}
    assert "along_ft" in asked
    assert codes(put(job, "fixed_point", "corner-2", along_ft=40.0)) == codes(sound_job())
