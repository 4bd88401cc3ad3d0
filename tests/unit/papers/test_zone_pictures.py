"""A zone's pictures: its tree, its waterfall, its two curves, and all of them as one sheet."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from xml.etree import ElementTree

import pytest
from builders import put, row, sound_job, without
from examples import examples
from hypothesis import given
from hypothesis import strategies as st

from fieldbook.checks.common.naming import quantity
from fieldbook.checks.water.zone_status import ZoneStatus, zone_statuses
from fieldbook.papers.zone_water.branches import lay_out
from fieldbook.papers.zone_water.supply_picture import supply_picture
from fieldbook.papers.zone_water.waterfall import waterfall_picture, waterfall_steps
from fieldbook.papers.zone_water.zone_sheet import zone_pictures, zone_sheet, zone_svg
from fieldbook.papers.zone_water.zone_summary import held_to, verdict_of
from fieldbook.papers.zone_water.zone_tree import tree_picture
from fieldbook.records.ids import head_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.zones import Head
from fieldbook.units import PRESSURE

WIDTHS = (53, 73, 99)
"""The columns of a page on a terminal 60, 80 and 120 wide."""
Feeders = list[int | None]


def branched(feeders: Feeders, gpm: float = 0.5, size: str = "1", units: str = "us") -> LoadedJob:
    """The sound job with a lateral whose run n is fed by `feeders[n - 1]`, a head on every run."""
    job = sound_job(1, units)
    main = tuple(run for run in job.pipe_runs if run.zone_id is None)
    runs = tuple(
        row(
            PipeRun,
            f"run-{number}",
            zone_id="zone-1",
            number=number,
            after=after,
            size=size,
            pipe_class="pvc sch 40",
            length_ft=12.0,
            rise_ft=0.0,
        )
        for number, after in enumerate(feeders, start=1)
    )
    heads = tuple(
        row(Head, head_id(run.id), run_id=run.id, nozzle_gpm=gpm, rated_psi=30.0) for run in runs
    )
    return replace(job, pipe_runs=(*main, *runs), heads=heads)


def status_of(job: LoadedJob) -> ZoneStatus:
    return zone_statuses(job)[0]


def tree_text(job: LoadedJob, width: int = 99) -> str:
    drawn = tree_picture(job, status_of(job), width)
    assert drawn is not None
    return drawn.text()


@st.composite
def random_trees(draw: st.DrawFn) -> Feeders:
    """Each run is fed by the valve (None) or by a run before it."""
    count = draw(st.integers(1, 60))
    return [draw(st.none() | st.integers(1, no)) if no else None for no in range(count)]


@given(random_trees())
def test_a_tree_is_laid_out_with_every_run_once_and_narrow(feeders: Feeders) -> None:
    fed_by = {str(no): str(after) if after else None for no, after in enumerate(feeders, start=1)}
    branches = lay_out(fed_by)
    assert sorted(one.key for one in branches) == sorted(fed_by)
    assert [one.row for one in branches] == list(range(1, len(branches) + 1))
    places = {None: (0, 0)} | {one.key: (one.row, one.column) for one in branches}
    for one in branches:
        assert places[fed_by[one.key]] == (one.from_row, one.from_column)
        assert one.from_row < one.row
        assert one.column - one.from_column in (0, 1)
    assert max(one.column for one in branches) <= math.log2(len(branches) + 1)
    # A pipe goes down the column of what feeds it: nothing else may stand there on the way.
    cells = {(one.row, one.column) for one in branches}
    for one in branches:
        passed = {(row, one.from_column) for row in range(one.from_row + 1, one.row)}
        assert not passed & cells


@examples(25)
@given(random_trees())
def test_the_tree_has_every_head_exactly_once(feeders: Feeders) -> None:
    job = branched(feeders, gpm=0.1)
    text = tree_text(job, 53)
    assert all(len(line) <= 53 for line in text.splitlines())
    rows = [line for line in text.splitlines() if "●" in line]
    numbers = [int(re.findall(r"(?:^|[^\d.])(\d+) +1 ", line)[0]) for line in rows]
    assert sorted(numbers) == list(range(1, len(feeders) + 1))
    results = {
        head.run.number: result for head, result in status_of(job).group.heads_of(job.zones[0])
    }
    for number, line in zip(numbers, rows, strict=True):
        assert line.split("●")[1].split()[0] == f"{results[number].psi:.1f}"
    assert text.count("◂") == 2  # at the head, and what it means


def test_a_long_chain_is_one_line_and_a_manifold_a_comb() -> None:
    chain = tree_text(branched([None, *range(1, 60)], gpm=0.05)).splitlines()
    assert [line[0] for line in chain[3:63]] == ["│"] * 59 + ["╵"]
    comb = tree_text(branched([None] * 60, gpm=0.05)).splitlines()
    assert [line[:3] for line in comb[3:63]] == ["├─╴"] * 59 + ["╵  "]


def test_a_run_too_fast_and_the_worst_head_are_marked() -> None:
    job = branched([None, 1, 1], gpm=3.0, size="1/2")
    text = tree_text(job)
    lines = {line.split()[1]: line for line in text.splitlines() if "●" in line}
    assert re.search(r"\d!", lines["1"])
    assert "◂ worst" in text
    assert "! the water runs faster than 5.0 ft/s." in text
    worst = status_of(job).worst
    assert worst is not None
    assert (
        f"◂ worst head: run {worst.rows.run.number}, {quantity(job, worst.result.psi, PRESSURE)};"
        in text
    )


def test_runs_without_a_way_to_the_valve_are_named_and_not_drawn() -> None:
    job = branched([None, 1, 4, 3, 9])
    text = tree_text(job)
    assert len([line for line in text.splitlines() if "●" in line]) == 2
    assert "Not drawn, fed in a ring: run 3 and run 4." in text
    assert "Not drawn, not fed from the valve: run 5." in text
    twice = put(job, "pipe_run", "run-2", number=1)
    assert "their number is used twice: run 1 and run 1." in tree_text(twice)


def test_what_is_not_entered_is_a_question_mark() -> None:
    job = put(branched([None, 1]), "pipe_run", "run-2", size=None, length_ft=None)
    line = next(line for line in tree_text(job).splitlines() if line.startswith("╵"))
    assert line.split() == ["╵", "2", "?", "?", "?", "?", "●", "?"]
    assert "Not solved: the flows are those of the nozzles." in tree_text(job)
    assert tree_picture(replace(job, pipe_runs=()), status_of(job), 53) is None


def test_a_zone_without_heads_draws_its_pipes_and_says_so() -> None:
    job = replace(branched([None, 1, 1]), heads=())
    text = tree_text(job)
    assert text.count("no head") == 2
    assert "●" not in text


@examples(40)
@given(random_trees(), st.floats(0.05, 2.0))
def test_the_waterfall_leads_from_the_street_to_what_the_solver_leaves(
    feeders: Feeders, gpm: float
) -> None:
    status = status_of(branched(feeders, gpm=gpm))
    if status.group.failed:
        return
    first, *losses, left, needs, spare = waterfall_steps(status)
    assert (first.from_psi, first.to_psi) == (0.0, 62.0)
    at = first.to_psi
    for step in losses:
        assert step.from_psi == at
        assert (step.sign == "-") == (step.to_psi < step.from_psi)
        at = step.to_psi
    assert status.worst is not None
    assert at == pytest.approx(status.worst.result.psi, abs=1e-6)
    assert left.to_psi == status.worst.result.psi
    assert spare.from_psi == needs.to_psi
    assert spare.psi == pytest.approx(abs(status.worst.margin_psi))


def test_the_runs_of_a_long_way_share_bars_that_keep_the_sum() -> None:
    status = status_of(branched([None, *range(1, 20)], gpm=0.5))
    labels = [step.label for step in waterfall_steps(status)]
    assert "20 runs to 20, 1 in" in labels
    assert not any(label.startswith("run ") for label in labels)


def test_bars_stand_where_their_pressures_are() -> None:
    job = branched([None, 1], gpm=4.0)
    drawn = waterfall_picture(job, status_of(job), 73)
    assert drawn is not None
    lines = drawn.text().splitlines()
    begin = lines[1].index("█")
    static = next(line for line in lines if line.startswith("static pressure"))
    backflow = next(line for line in lines if line.startswith("backflow"))
    left = next(line for line in lines if line.startswith("left at the head"))
    assert len(static) == 73
    # 6 psi of 62 in this many columns, to half a column at either end.
    bar = backflow.count("█") + 0.5 * (backflow.count("▌") + backflow.count("▐"))
    assert bar == pytest.approx(6 / 62 * (73 - begin), abs=0.6)
    worst = status_of(job).worst
    assert worst is not None
    assert left.count("█") == pytest.approx(worst.result.psi / 62 * (73 - begin), abs=1.0)


def test_a_dry_head_on_a_hill_has_its_waterfall_below_zero() -> None:
    job = put(branched([None, 1]), "head", head_id("run-2"), elevation_ft=300.0)
    status = status_of(job)
    assert verdict_of(status).word == "wrong: dry"
    drawn = waterfall_picture(job, status, 53)
    assert drawn is not None
    assert all(len(line) <= 53 for line in drawn.text().splitlines())
    assert "short" in drawn.text()


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("units", ["us", "metric"])
def test_the_two_lines_have_their_words_and_meet_where_the_zone_works(
    width: int, units: str
) -> None:
    job = branched([None, 1, 2], gpm=2.0, units=units)
    drawn = supply_picture(job, status_of(job), width)
    assert drawn is not None
    lines = drawn.text().splitlines()
    text = "\n".join(lines)
    assert all(len(line) <= width for line in lines)
    assert lines[0] == ("bar" if units == "metric" else "psi")
    assert "supply" in text
    assert "zone 1" in text
    solution = status_of(job).group.solution
    assert solution is not None
    if units == "us":
        assert f"zone 1 works at {solution.supply_gpm:.2f}".rstrip("0") in text
    # Where the mark is, braille of either line must be beside it.
    line = next(line for line in lines if "◆" in line)
    at = line.index("◆")
    assert any("\u2800" < char <= "\u28ff" for char in line[at - 1 : at + 2])


@examples(30)
@given(
    st.floats(0.2, 6.0), st.floats(25, 140), st.sampled_from(["1/2", "3/4", "1"]), st.integers(1, 9)
)
def test_both_lines_keep_their_words_whatever_their_shape(
    gpm: float, static_psi: float, size: str, heads: int
) -> None:
    job = branched([None, *range(1, heads)], gpm=gpm, size=size)
    assert job.supply is not None
    job = put(job, "supply", job.supply.id, static_psi=static_psi)
    status = status_of(job)
    drawn = supply_picture(job, status, 53)
    if drawn is None:
        assert not status.group.solved
        return
    lines = drawn.text().splitlines()
    foot = next(no for no, line in enumerate(lines) if "╴┴" in line or "╶┴" in line)
    plot = "\n".join(lines[:foot])
    assert plot.count("supply") == 1
    assert plot.count("zone 1") == 1
    assert plot.count("◆") == 1 or "◆" in lines[foot]
    assert all(len(line) <= 53 for line in lines)


def test_the_sheet_is_the_verdict_then_what_governs_then_the_pictures() -> None:
    job = branched([None, 1, 2], gpm=2.0)
    lines = zone_sheet(job, status_of(job), 73).text().splitlines()
    assert lines[0] == "Zone 1 (lawn 1)   ✓ sound"
    governs = next(no for no, line in enumerate(lines) if line.startswith("Governs: "))
    titles = [
        lines.index(title)
        for title in (
            "Supply and zone at the point of connection",
            "Pressure from the street to the worst head",
            "The tree of the zone, from its valve",
        )
    ]
    assert [governs, *titles] == sorted([governs, *titles])


def test_what_governs_has_the_least_to_spare() -> None:
    job = branched([None, 1], gpm=4.0, size="1/2")
    held = {one.label: one for one in held_to(job, status_of(job))}
    assert set(held) == {"draw", "worst head, run 2", "run 1"}
    fastest = held["run 1"]
    assert float(fastest.now) - float(fastest.limit) == pytest.approx(-float(fastest.spare))
    assert fastest.part < 0
    assert "Governs: run 1" in zone_sheet(job, status_of(job), 73).text()


def test_a_zone_of_nothing_says_what_is_missing_and_draws_nothing() -> None:
    job = replace(without(sound_job(1), "supply"), pipe_runs=(), heads=())
    assert zone_pictures(job, status_of(job), 53).rows == 0
    text = zone_sheet(job, status_of(job), 53).text()
    assert "? not checked" in text
    assert "Not worked out yet: the static pressure must be entered." in text.replace("\n", " ")


@pytest.mark.parametrize("feeders", [[None], [None] * 60, [None, *range(1, 60)]])
@pytest.mark.parametrize("width", WIDTHS)
def test_every_size_of_zone_fits_the_page(feeders: Feeders, width: int) -> None:
    job = branched(feeders, gpm=0.1)
    assert zone_sheet(job, status_of(job), width).columns <= width


@pytest.mark.parametrize("units", ["us", "metric"])
def test_the_svg_stands_alone_and_its_text_is_text(units: str) -> None:
    job = put(branched([None, 1, 1], gpm=2.0, units=units), "zone", "zone-1", name='<b>"&')
    document = zone_svg(job, status_of(job))
    root = ElementTree.fromstring(document)
    words = " ".join(text.text or "" for text in root.iter("{http://www.w3.org/2000/svg}text"))
    assert 'Zone 1 (<b>"&)' in words
    assert "static pressure" in words
    assert len(re.findall("●", words)) == 3
    addresses = re.findall(r"https?://[^\"]*", document)
    assert addresses == ["http://www.w3.org/2000/svg"]
    for outside in ("href", "<style", "<script", "<image", "@import", "url("):
        assert outside not in document
    # No braille, blocks or box lines: what is drawn is drawn as shapes.
    assert not re.search("[\u2800-\u28ff█▌▐├─╴│╵]", words)
