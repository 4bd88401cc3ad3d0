"""The plan: what is drawn and what is only listed, each mark in its place, no label over another.

The figures are of plane geometry; how a plan is drawn is common practice, no source.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from dataclasses import replace
from datetime import date
from itertools import pairwise
from xml.etree import ElementTree

import pytest
from builders import bare_job, put, row
from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from job_parts import valve, zone
from rich.cells import cell_len

from fieldbook.checks.ground.fixed_points import Spot
from fieldbook.papers.site_plan.label_places import Box, LabelPlaces, along, around
from fieldbook.papers.site_plan.plan import Plan, plan_of
from fieldbook.papers.site_plan.plan_picture import GLYPHS, plan_lines
from fieldbook.papers.site_plan.plan_sheet import PRINTED, plan_svg
from fieldbook.papers.text_widths import text_width, wrapped
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.ties import FixedPoint, Tie
from fieldbook.records.tables.wires import ValveBox
from fieldbook.records.tables.zones import Head

DAY = date(2026, 5, 10)
SVG = "{http://www.w3.org/2000/svg}"
CORNERS = ((0.0, 0.0), (24.0, 0.0), (40.0, 6.0))
NAMES = st.text("abä日 AB", min_size=1, max_size=22)


def tie_to(name: str, spot: tuple[float, float], **values: object) -> Tie:
    """A tie of something at this spot, taped from all three corners: exact, so that it fits."""
    tapes = {f"tape_{n}_ft": math.dist(spot, corner) for n, corner in enumerate(CORNERS, start=1)}
    points = {f"point_{n}_id": f"corner-{n}" for n in (1, 2, 3)}
    return row(Tie, f"tie-{name}", name=name, **{"thing": "valve box"} | tapes | points | values)


def yard(*ties: Tie, **tables: object) -> LoadedJob:
    """A property with three corners along its house wall, and these ties."""
    corners = [
        row(FixedPoint, f"corner-{n}", name=f"corner {n}", along_ft=x, out_ft=-y)
        for n, (x, y) in enumerate(CORNERS, start=1)
    ]
    return bare_job("us", fixed_points=tuple(corners), ties=ties, **tables)


@st.composite
def yards(draw: st.DrawFn) -> LoadedJob:
    """A property with up to nine boxes and other parts anywhere around the house."""
    places = st.tuples(st.floats(-90, 130), st.floats(-120, 90))
    spots = draw(st.lists(places, min_size=1, max_size=9))
    things = ("valve box", "splice", "drain", "line end")
    return yard(
        *(
            tie_to(f"{draw(NAMES)}{n}", spot, thing=draw(st.sampled_from(things)))
            for n, spot in enumerate(spots)
        )
    )


def test_a_part_is_where_its_tapes_meet_and_each_box_is_there_once() -> None:
    plan = plan_of(yard(tie_to("A", (10.0, -13.0)), tie_to("B", (28.0, 21.0))))
    assert [(mark.name, mark.kind) for mark in plan.parts] == [
        ("valve box A", "box"),
        ("valve box B", "box"),
    ]
    assert plan.parts[0].at == pytest.approx((10.0, -13.0), abs=1e-6)
    assert plan.wall == ((0.0, 0.0), (24.0, 0.0))
    assert [tape.words for tape in plan.tapes[:2]] == ["16.4 ft", "19.1 ft"]
    assert [tape.corner for tape in plan.tapes] == [1, 2, 3, 1, 2, 3]


def test_what_is_not_located_is_listed_and_drawn_nowhere() -> None:
    boxes = (
        row(ValveBox, "box-a", name="A", location="by the step"),
        row(ValveBox, "box-b", name="B", location="at the gate"),
    )
    one_tape = row(
        Tie, "t", thing="valve box", name="A", box_id="box-a", point_1_id="corner-1", tape_1_ft=9.0
    )
    short = tie_to("C", (10.0, -10.0), tape_1_ft=1.0, tape_2_ft=1.0, point_3_id=None)
    job = yard(one_tape, short, valve_boxes=boxes)
    plan = plan_of(job)
    assert plan.parts == ()
    assert plan.lacks == ("valve box A (by the step)", "valve box B (at the gate)", "valve box C")
    text = "\n".join(plan_lines(job, 76))
    assert GLYPHS["box"] not in text
    for name in plan.lacks:
        assert f"Not located: {name}." in text
        assert name in "".join(ElementTree.fromstring(plan_svg(job, DAY)).itertext())


def with_pipes(*ends: tuple[int, tuple[float, float]]) -> LoadedJob:
    """Zone 1 from box A with three runs, the ends of some of them tied."""
    ties = [tie_to("A", (10.0, -13.0), box_id="box-a")]
    for number, spot in ends:
        end = tie_to(f"end {number}", spot, thing="line end", run_id=f"run-{number}")
        ties.append(end.with_values(**{"name": ""}))
    runs = tuple(
        row(PipeRun, f"run-{n}", zone_id="zone-1", number=n, after=n - 1 or None, size="1")
        for n in (1, 2, 3)
    )
    return yard(
        *ties,
        valve_boxes=(row(ValveBox, "box-a", name="A"),),
        zones=(zone(1),),
        valves=(valve(1, "red", box_id="box-a"),),
        pipe_runs=runs,
    )


def test_a_pipe_is_drawn_only_between_two_located_ends() -> None:
    first, second = (10.0, -25.0), (-2.0, -25.0)
    plan = plan_of(with_pipes((1, first), (3, second)))
    assert [(pipe.zone, pipe.words) for pipe in plan.pipes] == [("zone 1", "1 in")]
    assert plan.pipes[0].end == pytest.approx(first, abs=1e-6)
    assert "2 of 3 pipe runs of zone 1" in plan.lacks
    plan = plan_of(with_pipes((1, first), (2, second)))
    assert len(plan.pipes) == 2
    assert plan.pipes[1].start == pytest.approx(first, abs=1e-6)
    assert "1 of 3 pipe runs of zone 1" in plan.lacks
    assert [mark.kind for mark in plan.parts] == ["box", "end", "end"]


def test_a_run_with_a_head_ends_at_its_head_and_its_tapes_are_listed_alone() -> None:
    job = with_pipes((1, (10.0, -25.0)))
    job = replace(job, heads=(row(Head, "head-1", run_id="run-1"),))
    plan = plan_of(job)
    assert [mark.kind for mark in plan.parts] == ["box", "head"]
    assert len(plan.tapes) == 6
    assert {tape.to for tape in plan.drawn_tapes} == {"valve box A"}
    assert "○ zone 1 run 1: " in "\n".join(plan_lines(job, 76))


@given(yards(), st.integers(40, 110), st.integers(8, 34))
@examples(20)
def test_the_map_of_a_terminal_has_every_part_once_and_within_a_cell(
    job: LoadedJob, width: int, height: int
) -> None:
    plan = plan_of(job)
    lines = plan_lines(job, width, height)
    assert all(cell_len(line) <= width for line in lines)
    grid = lines[:height]
    drawn = Counter(char for line in grid for char in line if char in GLYPHS.values())
    assert drawn == Counter(GLYPHS[mark.kind] for mark in plan.marks)
    below = " ".join(" ".join(lines[height:]).split())
    for mark in plan.parts:
        assert " ".join(mark.name.split()) in below


@pytest.mark.parametrize(("width", "height"), [(53, 9), (73, 14), (99, 30)])
def test_boxes_stand_to_scale(width: int, height: int) -> None:
    spots = {"A": (10.0, -13.0), "B": (28.0, 41.0), "C": (-40.0, -30.0)}
    lines = plan_lines(yard(*(tie_to(*one) for one in spots.items())), width, height)[:height]
    marks = [
        (column, number)
        for number, line in enumerate(lines)
        for column, char in enumerate(line)
        if char == GLYPHS["box"]
    ]
    # From left to right on the plan, and so on the screen.
    (cx, cy), (ax, ay), (bx, by) = sorted(marks)
    ft_in_cell = 50.0 / (ax - cx)
    # A cell is twice as high as wide; each end may be off by half a cell.
    assert (bx - ax) * ft_in_cell == pytest.approx(18.0, abs=1.5 * ft_in_cell)
    assert (ay - by) * 2 * ft_in_cell == pytest.approx(54.0, abs=3 * ft_in_cell)
    assert (cy - ay) * 2 * ft_in_cell == pytest.approx(17.0, abs=3 * ft_in_cell)


def texts_of(svg: str) -> list[tuple[str, Box]]:
    """Every text of a sheet with the room it takes."""
    found = []
    for one in ElementTree.fromstring(svg).iter(f"{SVG}text"):
        x, y, size = (float(one.attrib[name]) for name in ("x", "y", "font-size"))
        wide = float(one.attrib["textLength"])
        # Letters reach 0.72 above the line and 0.21 below it in Helvetica.
        found.append((one.text or "", Box(x, y - 0.72 * size, x + wide, y + 0.21 * size)))
    return found


@given(yards())
@examples(15)
def test_no_label_of_the_sheet_covers_another_or_leaves_it(job: LoadedJob) -> None:
    svg = plan_svg(job, DAY)
    texts = texts_of(svg)
    sheet = Box(0, 0, 1036, 760)
    for number, (text, box) in enumerate(texts):
        assert sheet.holds(box), text
        for other, there in texts[:number]:
            assert not box.overlaps(there), (text, other)


@given(yards())
@examples(10)
def test_the_sheet_draws_every_mark_to_the_scale_it_names(job: LoadedJob) -> None:
    plan = plan_of(job)
    root = ElementTree.fromstring(plan_svg(job, DAY))
    words = " ".join(root.itertext())
    scale = re.search(r"Scale 1 in = (\d+) ft", words)
    assert scale is not None
    units_in_ft = 25.4 * 4 / int(scale[1])
    corners = [
        one.attrib["d"]
        for one in root.iter(f"{SVG}path")
        if one.attrib["d"].endswith("Z")
        and "transform" not in one.attrib
        and "fill" not in one.attrib
    ]
    xs = sorted(float(way[1:].split()[0]) for way in corners[: len(plan.corners)])
    wanted = sorted(mark.at.x_ft for mark in plan.corners)
    for (x, to_x), (at, to_at) in zip(pairs(xs), pairs(wanted), strict=True):
        assert to_x - x == pytest.approx((to_at - at) * units_in_ft, abs=0.2)


def pairs(values: list[float]) -> list[tuple[float, float]]:
    """Each value with the next."""
    return list(pairwise(values))


def test_the_sheet_stands_alone_and_fits_letter_and_a4() -> None:
    job = yard(tie_to('<A> & "B"', (10.0, -13.0)))
    svg = plan_svg(put_address(job, "1 <b>Elm</b> & Oak"), DAY)
    root = ElementTree.fromstring(svg)
    wide, high = (float(root.attrib[name].removesuffix("mm")) for name in ("width", "height"))
    # ISO 216 and ANSI/ASME Y14.1: A4 is 297 by 210 mm, Letter 279.4 by 215.9; a margin of 8 mm.
    assert wide <= min(297.0, 279.4) - 16.0
    assert high <= min(210.0, 215.9) - 16.0
    assert svg.count(PRINTED) == svg.count("<style") == 1
    assert not re.search(r"(href|url\(|<script|@import|<image)", svg)
    # Black, grays and white alone.
    colours = set(re.findall(r"#[0-9a-f]{6}", svg))
    assert all(colour[1:3] == colour[3:5] == colour[5:7] for colour in colours)
    words = " ".join(root.itertext())
    for wanted in (
        "RECORD DRAWING",
        "1 <b>Elm</b> & Oak",
        "2026-05-10",
        "not surveyed",
        "Scale 1 in",
    ):
        assert wanted in words


def put_address(job: LoadedJob, address: str) -> LoadedJob:
    """The job at another address."""
    return replace(job, job=job.job.with_values(**{"address": address}))


def test_many_heads_are_counted_when_the_sheet_has_no_room_to_list_them() -> None:
    ties = [
        tie_to(f"end {n}", (n * 3.0 - 40.0, -20.0 - n % 5 * 9.0), thing="line end")
        for n in range(40)
    ]
    svg = plan_svg(yard(tie_to("A", (10.0, -13.0)), *ties), DAY)
    words = " ".join(ElementTree.fromstring(svg).itertext())
    assert "valve box A: " in words
    assert re.search(r"\d+ more are in the job's record\.", words)


def test_a_metric_job_has_a_metric_scale() -> None:
    job = yard(tie_to("A", (10.0, -13.0)))
    job = replace(job, job=job.job.with_values(**{"units": "metric"}))
    words = " ".join(ElementTree.fromstring(plan_svg(job, DAY)).itertext())
    assert re.search(r"Scale 1 : \d+, printed", words)
    assert re.search(r"┤ \d+ m, ", "\n".join(plan_lines(job, 76)))


@given(
    st.lists(
        st.tuples(st.floats(0, 80), st.floats(0, 30), st.floats(1, 20), st.booleans()), max_size=30
    )
)
def test_placed_labels_never_overlap(wanted: list[tuple[float, float, float, bool]]) -> None:
    places = LabelPlaces(Box(0, 0, 80, 30), [((0, 0), (80, 30))])
    found: list[Box] = []
    for x, y, wide, on_line in wanted:
        rings = (
            [list(along(((0, y), (80, y)), (wide, 1)))]
            if on_line
            else around((x, y), (1.5, 0.5), (wide, 1))
        )
        box = next(filter(None, (places.place(ring) for ring in rings)), None)
        if box is not None:
            found.append(box)
    for number, box in enumerate(found):
        assert Box(0, 0, 80, 30).holds(box)
        assert not any(box.overlaps(other) for other in found[:number])


def test_a_label_takes_the_place_that_crosses_no_line() -> None:
    places = LabelPlaces(Box(0, 0, 40, 20), [((10, 10), (40, 10))])
    (first, *_) = around((10, 10), (1, 1), (6, 2))
    assert places.place(first) == Box(3, 9, 9, 11)


@pytest.mark.parametrize(
    ("segment", "crosses"),
    [
        (((0, 0), (10, 10)), True),
        (((0, 5), (10, 5)), True),
        (((0, 0), (10, 1)), False),
        (((5, 5), (5.5, 5.5)), True),
        (((0, 7), (2, 9)), False),
        (((7, 0), (7, 20)), False),
    ],
)
def test_a_line_crosses_a_box(
    segment: tuple[tuple[float, float], tuple[float, float]], crosses: bool
) -> None:
    assert Box(4, 4, 6, 6).crossed_by(segment) is crosses


@given(st.text(max_size=60), st.floats(20, 200))
def test_wrapped_lines_keep_every_word_and_fit(text: str, width: float) -> None:
    def measure(text: str) -> float:
        return text_width(text, 9.5)

    lines = list(wrapped(text, width, measure))
    assert "".join("".join(lines).split()) == "".join(text.split())
    assert all(measure(line) <= width or len(line) == 1 for line in lines)


def test_a_plan_without_parts_still_shows_its_corners() -> None:
    plan = plan_of(yard())
    assert isinstance(plan, Plan)
    assert plan.frame == (Spot(0.0, 0.0), Spot(40.0, 6.0))
    assert "▲ 1 corner 1: 0 ft along, 0 ft out" in "\n".join(plan_lines(yard(), 60))
    assert put(yard(), "fixed_point", "corner-1", faces="west").fixed_points[0].faces == "west"
