"""The season guide: its limits, the air and the filling of the pipe, what was done the last time.

Figures: V = (pi/4)(d/12)^2 L at the minimum wall of ASTM D1785 and D2241, free air at 50 psi times
64.7/14.7; 1 in Schedule 40 takes 2.69 gpm at 1 ft/s, 200 ft of it 200 s.
"""

from __future__ import annotations

from datetime import UTC, datetime
from html import unescape

import pytest
from builders import checked, put, ruled, sound_job, without
from seasons.season_jobs import CLOSING, OPENING, closed, opened, piped, planned

from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.contents.catalogue import PAPERS
from fieldbook.papers.contents.season_guide import season_guide
from fieldbook.papers.paper import Paper, Table
from fieldbook.papers.printing.html_page import html_page
from fieldbook.records.ids import season_zone_id
from fieldbook.records.loaded_job import LoadedJob

NOW = datetime(2026, 11, 20, 12, tzinfo=UTC)


def source_of(job: LoadedJob) -> PaperSource:
    return PaperSource(job, checked(job), NOW)


def words_on(paper: Paper) -> str:
    return unescape(html_page(paper))


def guide(job: LoadedJob) -> str:
    return words_on(season_guide(source_of(job)))


def tables(job: LoadedJob) -> dict[str, list[tuple[str, ...]]]:
    """The rows of each table of the guide, by its second header."""
    found = [block for block in season_guide(source_of(job)).blocks if isinstance(block, Table)]
    return {one.headers[1]: [tuple(map(str, row)) for row in one.rows] for one in found}


@pytest.mark.parametrize(("rating_psi", "said"), [(None, "50 psi"), (40.0, "40 psi")])
def test_air_is_never_over_fifty_psi_nor_over_the_lowest_rating(
    rating_psi: float | None, said: str
) -> None:
    job = piped(("zone-1", "pe sidr", "1", 50.0))
    job = put(job, "pipe_run", "run-zone-1-1", rating_psi=rating_psi)
    assert f"never go over {said}." in guide(job)
    unknown = "The rating of lateral run 1 of zone 1 is not recorded: read it off the pipe first."
    assert (unknown in guide(job)) == (rating_psi is None)


@pytest.mark.parametrize(("kind", "is_removed"), [("PVB", True), ("AVB", True), ("RP", False)])
def test_a_vacuum_breaker_is_removed_first(kind: str, is_removed: bool) -> None:
    """Coeur d'Alene, Idaho (2014)."""
    job = put(sound_job(1), "backflow_assembly", "backflow-1", kind=kind)
    assert (f"Remove the {kind}" in guide(job)) == is_removed
    assert "Remove the" not in guide(ruled(job, "breaker_removed_for_air", False))


def test_the_air_and_the_time_of_each_zone_are_those_of_its_pipe() -> None:
    job = piped(
        (None, "pvc sch 40", "1", 200.0),
        ("zone-1", "pvc sch 40", "1", 200.0),
        ("zone-1", "pvc sdr 21", "1", 120.0),
        ("zone-1", "pvc sdr 21", "3/4", 100.0),
    )
    job = planned(job, compressor_cfm=10.0, blow_order="nearest first")
    rows = {row[0]: row[1:] for row in tables(job)["It holds"]}
    assert rows["Zone 1 (lawn 1)"][:3] == ("19.4 gal", "11.43 ft³", "69 s")
    said = guide(job)
    assert "Fill the mainline at 2.69 gpm or less" in said
    assert "it takes about 200 s." in said
    assert "In the order nearest first: A national golf body, 2 November 2015." in said


def test_pipe_that_is_not_recorded_has_no_time() -> None:
    job = put(sound_job(1), "pipe_run", "main-1", length_ft=None)
    assert tables(job)["It holds"][0][:2] == ("The mainline", "not recorded")
    assert "Fill the mainline at" not in guide(job)
    assert "It holds" not in tables(without(sound_job(1), "pipe_run", "zone"))


def test_the_last_closing_and_the_last_opening_say_who_did_what() -> None:
    job = put(closed(held_on="2025-11-02"), "visit", CLOSING, who="R. Moss")
    job = put(
        job, "season_zone", season_zone_id(CLOSING, "zone-1"), note="broken head", done_by="RM"
    )
    said = guide(job)
    assert "Last time: 2025-11-02, R. Moss" in said
    assert tables(job)["Emptied"][1] == (
        "Zone 1 (lawn 1)",
        "yes",
        "2025-11-02",
        "RM",
        "broken head",
    )
    assert "Regulator set to" in said
    assert said.index("Emptied: the mainline") < said.index("Emptied: zone 1 (lawn 1)")
    spring = put(opened(job, held_on="2026-04-20"), "visit", OPENING, who="T. Vale")
    assert "Last time: 2026-04-20, T. Vale" in guide(spring)
    assert tables(spring)["Ran well"][0][:3] == ("Zone 1 (lawn 1)", "yes", "2026-04-20")


def test_drain_points_are_listed_with_what_they_drain() -> None:
    job = put(sound_job(1), "drain_point", "d1", where="low corner by the gate", how="by hand")
    job = put(job, "drain_point", "d2", where="last head", zone_id="zone-1", how="by itself")
    rows = tables(job)["Where"]
    assert rows[0][:3] == ("The mainline", "low corner by the gate", "by hand")
    assert rows[1][:3] == ("Zone 1 (lawn 1)", "last head", "by itself")


def test_where_no_frost_comes_only_the_opening_is_said() -> None:
    said = guide(planned(sound_job(1), way="no frost here"))
    assert "No frost comes here: the system is not emptied." in said
    assert "Compressed air can blind" not in said
    assert "In spring" in said


def test_the_handover_packet_has_the_guide() -> None:
    assert "Compressed air can blind" in words_on(PAPERS["handover-packet"](source_of(sound_job())))
