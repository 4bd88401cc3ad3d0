"""The commissioning record, the audit report, and the cans as they are drawn."""

from __future__ import annotations

import re
from datetime import UTC, datetime
from xml.etree import ElementTree

import pytest
from builders import checked, sound_job
from measured_jobs import audited, expected, measured, open_nozzles, read_at

from fieldbook.checks.measured.audits import audit_results
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.contents.catalogue import PAPERS
from fieldbook.papers.measured.can_picture import can_picture, can_svg
from fieldbook.papers.printing.html_page import html_page
from fieldbook.records.loaded_job import LoadedJob

NOW = datetime(2026, 5, 20, 12, 0, tzinfo=UTC)
CANS = [float(one) for one in (3, 9, 12, 14, 15, 16, 17, 20, 22, 26) for _ in range(2)]
PLACES = [(10.0 * (no % 5), 8.0 * (no // 5)) for no in range(20)]


def printed(name: str, job: LoadedJob) -> str:
    return html_page(PAPERS[name](PaperSource(job, checked(job), NOW)))


def drawn(job: LoadedJob, width: int) -> str:
    return can_picture(job, audit_results(job)["audit-1"], width).text()


def test_the_record_has_both_figures_their_errors_and_the_answer() -> None:
    job = open_nozzles(sound_job())
    worked = expected(job).flow.value
    page = printed("commissioning-record", read_at(measured(job, worked / 2), "run-1-3", 20.0))
    assert f"{worked / 2:.2f}".rstrip("0") in page
    assert page.count("differs") >= 2
    assert "±" in page
    # The list quotes what it is asked by, though none of it is answered.
    assert "21 NCAC 23 .0510 (a)(5)" in page
    assert "not recorded" in page


def test_the_report_prints_the_count_of_the_quarter_and_what_homes_have() -> None:
    page = printed("audit-report", audited([*CANS, 5.0, 6.0]))
    assert "6 of 22 cans, round" in page
    assert "40 %" in page
    assert "ASAE paper 032024" in page
    assert "the driest" in page


def test_a_depth_by_a_ruler_says_how_far_its_mean_may_be_off() -> None:
    # University of Florida: a mean of 3/8 in read to 1/8 in is within 17 %.
    assert "±17 %" in printed("audit-report", audited([0.375] * 20, caught_as="depth"))
    assert "A ruler read" not in printed("audit-report", audited(CANS))


def test_the_report_says_why_an_audit_does_not_count() -> None:
    page = printed("audit-report", audited(CANS, wind_mph=9.0))
    assert "It does not count: the wind was 9 mph, at most 5 mph." in page


@pytest.mark.parametrize("width", [40, 56, 76, 116])
def test_cans_without_a_place_stand_from_the_driest_to_the_wettest(width: int) -> None:
    text = drawn(audited(CANS), width)
    rows = [line for line in text.split("\n\n")[0].splitlines() if line.startswith("can ")]
    read = [int(found[1]) for line in rows if (found := re.search(r"(\d+) mL", line))]
    assert read == sorted(map(int, CANS))
    assert ["▼" in line for line in rows] == [True] * 5 + [False] * 15
    assert ["▲" in line for line in rows] == [False] * 15 + [True] * 5
    assert max(map(len, text.splitlines())) <= width


@pytest.mark.parametrize("width", [40, 56, 76, 116])
def test_cans_with_a_place_stand_where_they_stood(width: int) -> None:
    text = drawn(audited(CANS, places=PLACES), width)
    sketch = text.split("▼ the driest")[0]
    rows = [line for line in sketch.splitlines() if re.search(r"\d", line) and "ft" not in line]
    # Five cans along in each of four rows; those farthest out are at the top.
    assert [len(re.findall(r"\d+", line)) for line in rows] == [5, 5, 5, 5]
    assert rows[-1].split()[0] == "▼3"
    assert "the figures are mL" in text
    assert max(map(len, text.splitlines())) <= width


def test_a_print_says_the_same_and_needs_no_colour() -> None:
    for job in (audited(CANS), audited(CANS, places=PLACES)):
        svg = can_svg(job, audit_results(job)["audit-1"])
        texts = "".join(ElementTree.fromstring(svg).itertext())
        assert "▼" in texts
        assert "the driest: can 1 (3 mL" in re.sub(r"\s+", " ", texts)


def test_cans_at_one_spot_and_dry_cans_are_drawn() -> None:
    assert "▼0" in drawn(audited([0.0, *CANS], places=[(1.0, 1.0)] * 21), 56)
    assert "No can is read yet." in drawn(audited([]), 56)
    assert "mean 0" not in drawn(audited([0.0] * 20), 56)
