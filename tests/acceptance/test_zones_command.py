"""`fieldbook zones` prints what the desk, the flags and `check` say of each zone's water."""

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
    """A book with a property of which one zone draws too much."""
    path = str(tmp_path / "book.sqlite")
    assert run(path, "import", str(JOBS / "quarry_road.json"))
    return path


def run(book: str, *arguments: str, exit_code: int = 0) -> str:
    result = CliRunner().invoke(main, ["--book", book, *arguments])
    assert result.exit_code == exit_code, result.output
    return result.stdout


def zones(book: str) -> list[Mapping[str, Any]]:
    document = json.loads(run(book, "zones", "Quarry", "--json"))
    assert document["address"] == "208 Quarry Road"
    found: list[Mapping[str, Any]] = document["zones"]
    return found


def test_zones_and_check_give_one_draw_one_limit_and_one_margin(book: str) -> None:
    (checked,) = json.loads(run(book, "check", "--json", "Quarry", exit_code=1))
    (over,) = [flag for flag in checked["flags"] if flag["code"] == "flow over supply"]
    figures = {number["name"]: number["value"] for number in over["numbers"]}
    zone = zones(book)[1]
    assert zone["word"] == "over supply"
    assert zone["draw_gpm"] == figures["draw"]
    assert zone["allowed_gpm"] == figures["available flow"]
    assert zone["margin_gpm"] == figures["margin"]
    assert zone["governed_by"] in over["sentence"]


def test_every_zone_has_its_figures_its_band_and_its_ledger(book: str) -> None:
    found = zones(book)
    assert [zone["zone"] for zone in found] == [1, 2, 3]
    for zone in found:
        worst, (low, high) = zone["worst_head"], zone["band_psi"]
        assert low < worst["psi"] < high
        assert worst["psi"] - worst["held_to_psi"] == pytest.approx(worst["margin_psi"])
        assert zone["holds_down_to_psi"] < 74.0
        assert 0.9 < zone["uniformity"] <= 1.0
        assert zone["longer_run"] == pytest.approx(1 / zone["uniformity"] - 1)
        *parts, left = zone["ledger"]
        assert sum(part["psi"] for part in parts) == pytest.approx(left["psi"])
        assert left["psi"] == pytest.approx(worst["psi"])


def test_the_advice_is_ranked_and_each_has_its_result_beside_today(book: str) -> None:
    zone = zones(book)[1]
    kinds = [one["kind"] for one in zone["advice"]]
    assert kinds == ["nozzles", "split", "service line"]
    assert zone["today"]["draw_gpm"] == zone["draw_gpm"]
    for one in zone["advice"]:
        result = one["result"]
        assert result["wrong"] == []
        assert result["draw_gpm"] <= result["allowed_gpm"] * (1 + 1e-9)
        assert result["fastest_ft_s"] <= result["limit_ft_s"] * (1 + 1e-9)
    assert [one["dig_ft"] for one in zone["advice"]] == [0.0, 0.0, 70.0]
    assert "all is asked" not in zone["now"]


def test_as_text_it_says_what_the_page_says(book: str) -> None:
    text = " ".join(run(book, "zones", "Quarry").split())
    for words in (
        "Zone 2 (orchard)",
        "It works down to",
        "Low-quarter uniformity by pressure alone",
        "left at the head",
        "1. Fit nozzles of 55 % of the flow at the same pressure.",
        "2. Split it in 3",
        "3. Lay the service line in 1-1/2 in",
        "Dig up 70 ft that is buried already.",
    ):
        assert words in text
    assert all(len(line) <= 78 for line in run(book, "zones", "Quarry").splitlines())


def test_a_property_that_is_not_there_is_refused(book: str) -> None:
    run(book, "zones", "Nowhere", exit_code=2)
