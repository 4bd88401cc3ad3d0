"""A diagnosis in words: whole sentences, short enough, with numbers, looks and cautions."""

from __future__ import annotations

from random import Random

import pytest
from crew_rounds import Round, read, true_values
from field_faults import Fault, broken, dug_in
from laid_zones import laid

from fieldbook.diagnosis.fault_axes import Change, Kind
from fieldbook.diagnosis.fault_words import (
    NOTHING_SHOWN,
    UNEXPLAINED,
    Shown,
    fault_lines,
    group_words,
    headline,
    next_words,
    odds_words,
)
from fieldbook.diagnosis.ranking import diagnose
from fieldbook.diagnosis.zone_parts import Measured, ZoneReadings
from fieldbook.trade.cautions import CAUTIONS
from fieldbook.trade.water_faults import parse_water_faults, water_faults

SHOWN = Shown()
LONGEST = 200


@pytest.mark.parametrize(
    ("chance", "words"),
    [
        (0.999, "Very likely, 99 %"),
        (0.82, "Likely, 82 %"),
        (0.4, "Possible, 40 %"),
        (0.12, "Less likely, 12 %"),
        (0.0001, "Unlikely, 1 %"),
    ],
)
def test_a_chance_is_never_said_to_be_none_or_sure(chance: float, words: str) -> None:
    assert odds_words(chance) == words


@pytest.mark.parametrize("seed", range(12))
def test_every_diagnosis_is_in_whole_short_sentences(seed: int) -> None:
    pick = Random(f"words {seed}")
    parts = laid(pick, 6)
    readings = read(pick, parts, (dug_in(pick, parts),), Round.usual(pick, parts))
    found = diagnose(parts, readings)
    said = headline(found, SHOWN)
    assert said[0].isupper()
    assert said.endswith(".")
    lines = fault_lines(found, readings, SHOWN)
    assert 1 <= len(lines) <= 5
    dangers = {caution.danger for caution in CAUTIONS}
    for one in lines:
        assert len(one.title) <= LONGEST
        assert set(one.cautions) <= dangers
        assert "{" not in "".join((one.title, one.causes, one.look, one.also))
    for reading in found.nexts[:3]:
        words = next_words(reading, found, SHOWN)
        assert len(words) <= LONGEST
        assert f"({reading.minutes:.0f} minutes)" in words


def test_the_verdicts_have_their_sentences() -> None:
    parts = laid(Random(3), 6)
    values = true_values(parts, parts.network)
    flow = Measured.within(values["flow"], 0.2)
    sound = diagnose(parts, ZoneReadings(Measured.within(values["static"], 2.0), flow=flow))
    assert headline(sound, SHOWN) == NOTHING_SHOWN
    assert group_words(sound.ranked[0], SHOWN) == "nothing is wrong"
    odd = ZoneReadings(
        Measured.within(values["static"], 2.0),
        flow=Measured.within(2.5 * values["flow"], 0.2),
        heads={head: Measured.within(values["static"] + 30.0, 2.0) for head in parts.heads},
    )
    assert headline(diagnose(parts, odd), SHOWN) == UNEXPLAINED


def test_what_else_shows_is_what_was_not_read() -> None:
    parts = laid(Random(14), 6)
    values = true_values(parts, broken(parts, (Fault("isolation", "", 40.0),)))
    readings = ZoneReadings(
        Measured.within(values["static"], 2.0), flow=Measured.within(values["flow"], 0.2)
    )
    lines = fault_lines(diagnose(parts, readings), readings, SHOWN)
    shared = next(one for one in lines if "between the tap" in one.title)
    assert "other zones weak too" in shared.also
    assert "head " in shared.also
    assert "flow" not in shared.also
    assert "psi lost there" in shared.severity
    assert "isolation valve" in shared.causes
    assert {"lids", "hand-digging"} <= set(shared.cautions)


def test_places_and_figures_are_written_as_the_job_writes_them() -> None:
    parts = laid(Random(5), 5)
    values = true_values(parts, broken(parts, (Fault("missing", "head 2", 1.5),)))
    readings = ZoneReadings(
        Measured.within(values["static"], 2.0),
        flow=Measured.within(values["flow"], 0.3),
        signs={"head 2": "gush"},
    )
    shown = Shown(
        psi=lambda psi: f"{psi * 6.895:.0f} kPa",
        gpm=lambda gpm: f"{gpm * 3.785:.1f} L/min",
        place=lambda name: name.replace("head", "aspersor"),
    )
    (first, *_) = fault_lines(diagnose(parts, readings), readings, shown)
    assert "aspersor 2" in first.title
    assert "L/min" in first.severity
    assert "psi" not in first.also


def test_every_kind_of_fault_has_its_words_chance_and_caution() -> None:
    table = water_faults()
    kinds = set(Kind.__args__)  # type: ignore[attr-defined]
    assert set(table.words) == set(table.chance) == kinds
    dangers = {caution.danger for caution in CAUTIONS} | {""}
    assert {one.caution for one in table.words.values()} <= dangers
    digging = [kind for kind, one in table.words.items() if "dig" in one.look]
    assert all(table.words[kind].caution == "hand-digging" for kind in digging)
    assert len(Change.__args__) == 11  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("chance = 0.020", "chance = 1.5", "chance of blocked"),
        ("fine = 0.964", "fine = 0.5", "sign.normal"),
        ("walk = 4", "walk = -4", "figure of walk"),
        ("with = 0.60", "with = 1.0", "wet_spot"),
    ],
)
def test_a_table_that_can_not_be_is_refused(old: str, new: str, said: str) -> None:
    from importlib import resources

    text = resources.files("fieldbook.trade").joinpath("water_faults.toml").read_text("utf-8")
    assert old in text
    with pytest.raises(ValueError, match=said):
        parse_water_faults(text.replace(old, new, 1))
