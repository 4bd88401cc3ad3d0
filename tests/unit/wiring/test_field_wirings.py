"""Random wirings made from the trade's side: nothing is cleared, alarmed or settled wrongly.

`tests/study_wires.py` prints the same figures over many more wirings.
"""

from __future__ import annotations

from random import Random
from typing import get_args

import pytest
from examples import LOOKS_FOR_NEW
from field_wires import Amount, Crew, Lawn, dug, entered
from study_wires import is_offered, lawn_of, matches, seen_as_meant, wrong_links

from fieldbook.wiring import End, Evidence, Meaning, Reconciled, reconcile

WIRINGS = 400 if LOOKS_FOR_NEW else 60


def made(faults: int) -> list[tuple[Lawn, Evidence, Reconciled]]:
    """Wirings with so many faults, their records, and the maps made of them."""
    found = []
    for no in range(WIRINGS):
        lawn, pick = lawn_of(3, no, faults)
        evidence = entered(lawn, Amount.usual(pick), pick)
        found.append((lawn, evidence, reconcile(evidence)))
    return found


def test_a_wiring_without_faults_raises_no_doubt_however_much_is_entered() -> None:
    for _, _, found in made(0):
        assert (found.doubts, found.causes) == ((), ())


@pytest.mark.parametrize(("faults", "most_missing"), [(1, 0.01), (2, 0.02), (3, 0.06)])
def test_the_truth_is_offered_and_nothing_is_settled_wrongly(
    faults: int, most_missing: float
) -> None:
    missing = 0
    for lawn, evidence, found in made(faults):
        if seen_as_meant(evidence):
            continue
        for doubt in found.doubts:
            assert not doubt.settled or matches(lawn, evidence, doubt.explanations[0]), lawn.faults
        wrong = wrong_links(lawn, evidence, found)
        assert found.doubts or found.causes or not wrong, lawn.faults
        missing += bool(wrong) or not is_offered(lawn, evidence, found)
    assert missing <= most_missing * WIRINGS


def test_following_the_tests_ends_at_the_truth_where_tests_can_tell() -> None:
    for no in range(12):
        pick = Random(f"walk {no}")
        lawn = dug(pick, 8, 1)
        Crew(lawn, pick).work_on(["landed swapped", "misread"])
        evidence = entered(lawn, Amount(), pick)
        for _ in range(9):
            found = reconcile(evidence)
            tests = [doubt.test for doubt in found.doubts if doubt.test is not None]
            names = [test.terminal for test in tests if test.kind == "energise"]
            if not names:
                break
            ran = {**evidence.ran, names[0]: lawn.runs(names[0])}
            evidence = Evidence(
                evidence.box, evidence.controller, ran, {}, evidence.never_live, evidence.commons
            )
        best = [doubt.explanations[0] for doubt in found.doubts]
        assert all(matches(lawn, evidence, one) for one in best), lawn.faults
        assert wrong_links(lawn, evidence, found) == []


def scribbled(pick: Random) -> Evidence:
    """A record that contradicts itself at every end."""
    stations = [str(no) for no in range(1, pick.randint(2, 7))] + ["common"]
    colours = ["red", "blue", "green", "white"][: pick.randint(1, 4)]

    def ends(mark: str) -> tuple[End, ...]:
        return tuple(
            End(f"{mark}{one}", pick.choice([one, one, *stations]), "cable", pick.choice(colours))
            for one in stations
            if pick.random() < 0.8
        )

    under = ends("t")
    names = [end.name for end in under]
    ran = {
        name: frozenset(pick.sample(stations, pick.randint(0, 2)))
        for name in names
        if pick.random() < 0.5
    }
    meanings = get_args(Meaning)
    readings = {name: pick.choice(meanings) for name in names if pick.random() < 0.4}
    live = frozenset(name for name in names if "common" in name)
    return Evidence(ends("v"), under, ran, readings, live, frozenset({"common"}))


@pytest.mark.parametrize("seed", range(WIRINGS // 3))
def test_a_record_that_contradicts_itself_raises_nothing(seed: int) -> None:
    found = reconcile(scribbled(Random(seed)))
    for doubt in found.doubts:
        assert sum(one.chance for one in doubt.explanations) == pytest.approx(1.0)
