"""`fieldbook diagnose` takes readings as options, ranks causes, and says what to read next."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from fieldbook.cli.main import main

JOBS = Path(__file__).resolve().parents[2] / "demo_jobs"


@pytest.fixture
def book(tmp_path: Path) -> str:
    """A book with a finished property of sound zones."""
    path = str(tmp_path / "book.sqlite")
    assert run(path, "import", str(JOBS / "alder_lane.json"))
    return path


def run(book: str, *arguments: str, exit_code: int = 0) -> str:
    result = CliRunner().invoke(main, ["--book", book, *arguments])
    assert result.exit_code == exit_code, result.output
    return result.output


def diagnosed(book: str, *options: str) -> Mapping[str, Any]:
    found: Mapping[str, Any] = json.loads(run(book, "diagnose", "Alder", "1", *options, "--json"))
    return found


def test_without_readings_it_asks_for_some(book: str) -> None:
    assert run(book, "import", str(JOBS / "quarry_road.json"))
    assert "Nothing is read yet of this zone." in run(book, "diagnose", "Quarry", "1")


def test_the_measurement_of_the_record_is_taken_where_none_is_given(book: str) -> None:
    assert "Nothing wrong is shown" in run(book, "diagnose", "Alder", "1")
    assert diagnosed(book)["solves"] > 50
    # A reading of today puts the whole measurement aside: its flow belongs to another day.
    assert diagnosed(book, "--static", "40")["ranked"][0]["words"].startswith("the street gives")


def test_a_sound_zone_shows_nothing_wrong(book: str) -> None:
    as_recorded = diagnosed(book, "--static", "64")["as_recorded"]
    flow, psi = as_recorded["flow"], as_recorded["head 5 of zone 1"]
    options = ("--static", "64", "--flow", f"{flow:.1f}", "--head", f"5={psi:.0f}", "--looked")
    assert "Nothing wrong is shown" in run(book, "diagnose", "Alder", "1", *options)
    assert diagnosed(book, *options)["verdict"] == "sound"


def test_a_gushing_head_is_named_with_what_tells_its_causes_apart(book: str) -> None:
    options = ("--static", "64", "--flow", "16", "--head", "5=40", "--saw", "3=gush")
    printed = run(book, "diagnose", "Alder", "1", *options)
    assert "Very likely: too much water leaves at head 3." in printed
    assert "the nozzle of head 3 is missing" in printed
    assert "see whether a solid column of water stands there" in printed
    assert "common practice, no source" in printed
    (first, *_) = diagnosed(book, *options)["ranked"]
    assert first["changes"] == [{"what": "more at a node", "at": "head 3 of zone 1"}]


def test_what_the_readings_do_not_tell_apart_is_said_and_the_next_reading_named(book: str) -> None:
    options = ("--static", "64", "--flow", "5", "--head", "5=12")
    printed = " ".join(run(book, "diagnose", "Alder", "1", *options).split())
    assert "Can't tell yet:" in printed
    assert "Next: Read the pressure at the same tap while the zone runs (3 minutes)." in printed
    assert "Caution: Marks: find buried lines before opening" in printed
    following = diagnosed(book, *options)["next"]
    worth = [one["bits"] / one["minutes"] for one in following]
    assert worth == sorted(worth, reverse=True)


def test_a_zone_that_does_not_run_is_ranked_by_its_wire_and_asks_for_a_test(book: str) -> None:
    printed = " ".join(
        run(book, "diagnose", "Alder", "1", "--dead", "--other-zones", "run").split()
    )
    assert "It does not run." in printed
    assert "Next: " in printed
    assert "Caution: Mains is a licensed electrician's work" in printed
    cut = diagnosed(book, "--ohms", "2000", "--coil", "28.6", "--volts", "25")
    assert [one["cause"] for one in cut["causes"][:2]] == ["splice", "station_wire"]
    assert cut["runs"] is False


def test_a_metric_reading_counts_with_its_unit(book: str) -> None:
    ours = diagnosed(book, "--static", "64", "--flow", "5")
    theirs = diagnosed(book, "--static", "4.4127 bar", "--flow", "18.927 L/min")
    assert theirs["ranked"][0]["chance"] == pytest.approx(ours["ranked"][0]["chance"], rel=0.02)


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (("--head", "99=30"), "has no head at a run 99"),
        (("--saw", "3=purple"), "saw: type fine, misting"),
        (("--flow", "0"), "does not run: type dead"),
        (("--static", "fish"), "pressure: "),
        (("--static", "900"), "at most 300 psi"),
        (("--others", "bad"), "others: type fine"),
    ],
)
def test_a_reading_that_can_not_be_is_refused_in_a_sentence(
    book: str, options: tuple[str, str], said: str
) -> None:
    assert said in run(book, "diagnose", "Alder", "1", *options, exit_code=2)


def test_a_zone_that_is_not_there_is_refused(book: str) -> None:
    assert "has no zone 77" in run(book, "diagnose", "Alder", "77", exit_code=2)
