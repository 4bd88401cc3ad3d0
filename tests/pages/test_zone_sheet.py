"""A zone's sheet against the checks: one figure for desk, flags, sheet and print."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache, partial
from pathlib import Path
from typing import get_args
from xml.etree import ElementTree

import pytest
from builders import JOB, put, sound_job, without

from fieldbook.actions.files.svg_files import save_svg, usual_file
from fieldbook.actions.properties import demo_book, zone_numbered
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.common.naming import system_of
from fieldbook.checks.registry import check
from fieldbook.checks.water.zone_status import ZoneStatus, ZoneWord, zone_statuses
from fieldbook.papers.zone_water.waterfall import waterfall_steps
from fieldbook.papers.zone_water.zone_sheet import zone_pictures, zone_sheet, zone_svg
from fieldbook.papers.zone_water.zone_summary import held_to, summary_picture, verdict_of
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.job import Job
from fieldbook.units import FLOW, LENGTH, PRESSURE, VELOCITY, Measure, fixed

SVG = "{http://www.w3.org/2000/svg}"
COLUMNS = 84


@cache
def demo_jobs() -> tuple[LoadedJob, ...]:
    with demo_book() as book:
        return tuple(book.load(row.job_id) for row in book.board.page(0, 99))


def demo_zones() -> list[tuple[LoadedJob, ZoneStatus]]:
    return [(job, status) for job in demo_jobs() for status in zone_statuses(job)]


def flat(text: str) -> str:
    return " ".join(text.split())


@pytest.mark.parametrize("word", get_args(ZoneWord))
def test_only_good_and_tight_are_sound_and_every_verdict_has_a_sign(word: ZoneWord) -> None:
    status = replace(zone_statuses(sound_job(1))[0], word=word)
    mark = verdict_of(status)
    assert (mark.sign == "✓") == (word in ("good", "tight")) == mark.word.startswith("sound")
    assert (mark.sign == "?") == (word in ("open", "doubtful"))
    assert mark.role != ""
    wrong = mark.sign == "✗"
    assert wrong == mark.word.startswith("wrong: ")
    assert not wrong or word in mark.word


def test_every_flag_on_a_zone_stands_on_its_sheet_as_the_check_says_it() -> None:
    seen = 0
    for job, status in demo_zones():
        text = flat(summary_picture(job, status, 60).text())
        flags = [flag.sentence for flag in check(job)]
        for flag in status.flags:
            assert flag.sentence in flags
            assert flat(f"{flag.severity.upper()} {flag.sentence}") in text
            seen += 1
    assert seen


def test_the_sheet_has_the_draw_the_limit_and_the_worst_head_of_the_status() -> None:
    for job, status in demo_zones():
        system = system_of(job)
        held = {one.label.partition(",")[0]: one for one in held_to(job, status)}
        assert status.flow_gpm is not None
        assert status.available is not None
        assert status.worst is not None
        assert held["draw"].now == fixed(status.flow_gpm, FLOW, system)
        assert held["draw"].limit == fixed(status.available.flow_gpm, FLOW, system)
        assert held["worst head"].now == fixed(status.worst.result.psi, PRESSURE, system)
        assert held["worst head"].spare == fixed(status.worst.margin_psi, PRESSURE, system)
        # A solved zone that keeps all its limits has none that is called wrong.
        if verdict_of(status).sign == "✓":
            assert all(one.part >= 0 for one in held.values())


def test_a_print_has_a_bar_for_each_step_and_stays_inside_its_edges() -> None:
    for job, status in demo_zones():
        root = ElementTree.fromstring(zone_svg(job, status, width=COLUMNS))
        wide, high = float(root.get("width") or 0), float(root.get("height") or 0)
        bars = list(root.iter(f"{SVG}rect"))[1:]
        system = system_of(job)
        shown = [
            step
            for step in waterfall_steps(status)
            if step.sign in ("", "=") or float(fixed(step.psi, PRESSURE, system))
        ]
        assert len(bars) == len(shown)
        # As each begins where the last ended, so do the rectangles, to a hundredth of a pixel.
        scale = float(bars[0].get("width") or 0) / shown[0].psi
        for bar, step in zip(bars, shown, strict=True):
            length = max(step.psi * scale, 1.0)
            assert float(bar.get("width") or 0) == pytest.approx(length, abs=0.02)
        for text in root.iter(f"{SVG}text"):
            assert float(text.get("x") or 0) + float(text.get("textLength") or 0) <= wide
            assert float(text.get("y") or 0) <= high
        numbers = [
            float(number)
            for path in root.iter(f"{SVG}path")
            for number in re.findall(r"(?<=[ML ])[\d.]+(?= )", path.get("d") or "")
        ]
        assert numbers
        assert max(numbers) <= max(wide, high)


def test_the_words_of_a_print_are_those_of_the_terminal() -> None:
    job, status = demo_zones()[0]
    root = ElementTree.fromstring(zone_svg(job, status, width=COLUMNS))
    printed = " ".join(text.text or "" for text in root.iter(f"{SVG}text"))
    for line in zone_sheet(job, status, COLUMNS).text().splitlines():
        for word in re.findall(r"[A-Za-z]{3,}", line):
            assert word in printed, word


def test_one_picture_alone_can_be_asked_for() -> None:
    job, status = demo_zones()[0]
    tree = zone_pictures(job, status, 60, ("tree",)).text()
    assert "The tree of the zone" in tree
    assert "static pressure" not in tree
    both = zone_pictures(job, status, 60, ("pressure", "supply")).text()
    assert both.index("static pressure") < both.index("works at")


def test_zones_that_run_together_share_their_curves_and_have_a_tree_each() -> None:
    job = put(sound_job(2), "zone", "zone-2", runs_with="zone-1")
    one, other = zone_statuses(job)
    text = zone_sheet(job, one, 73).text()
    assert "Solved together with zone 2: they run at the same time." in text
    assert "draw together" in text
    assert "◆ zone 1 and zone 2 work at" in text
    # The draw of both is 12 gpm, that of the first run of either tree the half.
    assert re.search(r"draw together +12\.\d\d ", text)
    for status in (one, other):
        tree = zone_pictures(job, status, 73, ("tree",)).text()
        assert re.search(r" 1 +1 +12 +6\.\d\d ", tree)


def test_an_unsolved_zone_is_held_to_what_is_known_of_it() -> None:
    job = put(sound_job(1), "pipe_run", "run-1-2", length_ft=None)
    status = zone_statuses(job)[0]
    labels = [one.label for one in held_to(job, status)]
    assert "draw, by nozzles" in labels
    assert not any(label.startswith("worst head") for label in labels)
    text = flat(zone_sheet(job, status, 53).text())
    assert "? not checked" in text
    assert "the length of run 2 of zone 1 must be entered." in text


def test_a_long_name_in_wide_letters_keeps_to_its_width() -> None:
    job = put(sound_job(1), "zone", "zone-1", name="日本の庭と長い名前のある場所 " * 3)
    status = zone_statuses(job)[0]
    for width in (53, 73, 99):
        assert zone_sheet(job, status, width).columns <= width


def test_a_zone_is_found_by_its_number() -> None:
    job = sound_job(2)
    assert zone_numbered(job, 2) is job.zones[1]
    with pytest.raises(RefusedError, match="has no zone 7: its zones are 1 and 2"):
        zone_numbered(job, 7)
    with pytest.raises(RefusedError, match="2 zones have the number 1"):
        zone_numbered(put(job, "zone", "zone-2", number=1), 1)
    with pytest.raises(RefusedError, match="it has no zone yet"):
        zone_numbered(without(job, "zone"), 1)


def test_a_sheet_is_saved_to_a_file_a_folder_or_the_usual_place(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    job = sound_job(1)
    job = replace(job, job=Job(id=JOB, address="1/2 Elm: <Court>"))
    svg = partial(zone_svg, job, zone_statuses(job)[0])
    usual = tmp_path / "1-2-elm-court-zone-1.svg"
    assert usual_file(job, "zone 1") == usual
    (tmp_path / "Documents").mkdir()
    assert usual_file(job, "zone 1").parent == tmp_path / "Documents"
    assert save_svg(job, "zone 1", str(tmp_path), svg) == usual
    assert save_svg(job, "zone 1", "~/lawn", svg) == tmp_path / "lawn.svg"
    assert save_svg(job, "zone 1", " ", svg) == tmp_path / "Documents" / usual.name
    assert (tmp_path / "lawn.svg").read_text("utf-8") == usual.read_text("utf-8")
    with pytest.raises(RefusedError, match=r"lawn\.svg is there already"):
        save_svg(job, "zone 1", "~/lawn.svg", svg)
    with pytest.raises(RefusedError, match="can't be written"):
        save_svg(job, "zone 1", str(tmp_path / "nowhere" / "lawn.svg"), svg)


@pytest.mark.parametrize(
    ("value", "measure", "us", "metric"),
    # NIST Special Publication 811: 1 psi is 6.894757 kPa, 1 ft is 0.3048 m, 1 gal is 3.785412 L.
    [
        (47.0, PRESSURE, "47.0", "3.24"),
        (17.0, FLOW, "17.00", "64.35"),
        (5.0, VELOCITY, "5.0", "1.52"),
        (12.0, LENGTH, "12.00", "3.658"),
        (-0.04, PRESSURE, "-0.0", "-0.00"),
    ],
)
def test_figures_of_a_column_have_the_same_decimals(
    value: float, measure: Measure, us: str, metric: str
) -> None:
    assert fixed(value, measure) == us
    assert fixed(value, measure, "metric") == metric
