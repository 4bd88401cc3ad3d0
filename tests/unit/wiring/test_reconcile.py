"""Reconciling both ends of the wire: the truth is always among the explanations."""

from __future__ import annotations

from dataclasses import replace
from importlib import resources
from random import Random

import pytest
from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from random_wires import FAULTS, Seen, sound

from fieldbook.trade.wire_mistakes import parse_wire_mistakes
from fieldbook.wiring import (
    LIKELY,
    Cause,
    Doubt,
    End,
    Evidence,
    Explanation,
    Meaning,
    Reconciled,
    reconcile,
)
from fieldbook.wiring.costs import Costs, costs_of
from fieldbook.wiring.tangle import Tangle, Ways
from fieldbook.wiring.wire_slips import Weighed, weigh_wires

NOTHING: frozenset[str] = frozenset()
parts = st.floats(0, 1)


def seen(seed: int, kinds: list[str]) -> Seen:
    """A true wiring of 2 to 9 zones on up to 3 cables, with these faults made in it."""
    pick = Random(seed)
    made = Seen(sound(pick.randint(2, 9), pick.randint(1, 3), pick), pick)
    for kind in kinds:
        made.fault(kind)
    return made


def missing(made: Seen, evidence: Evidence, found: Reconciled) -> list[object]:
    """Every link that is not true, and every doubt that does not offer the truth."""
    doubted = {name for doubt in found.doubts for name in doubt.ends}
    wrong: list[object] = []
    for end in evidence.controller:
        link = found.link_of(end.name)
        led = link.stations if link is not None else NOTHING
        if end.name not in doubted and led != made.truth(evidence, end.name):
            wrong.append((end.name, led))
    terminals = [end.name for end in evidence.controller]
    for doubt in found.doubts:
        here = [name for name in terminals if name in doubt.ends]
        if not any(is_true(made, evidence, one, here) for one in doubt.explanations):
            wrong.append(doubt)
    return wrong


def is_true(made: Seen, evidence: Evidence, one: Explanation, names: list[str]) -> bool:
    """Whether an explanation's map is the true one."""
    return all(one.map.get(name, NOTHING) == made.truth(evidence, name) for name in names)


@given(
    st.integers(0, 10**9),
    st.lists(st.sampled_from(FAULTS), max_size=3),
    st.sampled_from((0.0, 0.2)),
    parts,
    parts,
)
@examples(600)
def test_the_truth_is_always_offered(
    seed: int, kinds: list[str], blank: float, tested: float, read: float
) -> None:
    made = seen(seed, kinds if not blank else kinds[:1])
    evidence = made.evidence(blank, tested, read)
    assert missing(made, evidence, reconcile(evidence)) == [], made.faults


@given(st.integers(0, 10**9), st.lists(st.sampled_from(FAULTS), max_size=3))
@examples(300)
def test_with_every_terminal_tested_only_the_truth_is_offered(seed: int, kinds: list[str]) -> None:
    # Touching wires run together whichever of the two is which: a test can't part them.
    made = seen(seed, [kind for kind in kinds if kind not in ("touch", "break")])
    evidence = made.evidence(0.0, 1.0, 0.0)
    found = reconcile(evidence)
    assert missing(made, evidence, found) == []
    for doubt in found.doubts:
        assert len(doubt.explanations) == 1, (made.faults, doubt)


@given(st.integers(0, 10**9), st.lists(st.sampled_from(FAULTS), max_size=2))
@examples(100)
def test_the_order_of_entry_does_not_matter(seed: int, kinds: list[str]) -> None:
    evidence = seen(seed, kinds).evidence(0.1, 0.3, 0.3)
    pick = Random(seed)
    box, controller = list(evidence.box), list(evidence.controller)
    pick.shuffle(box)
    pick.shuffle(controller)
    other = Evidence(tuple(box), tuple(controller), evidence.ran, evidence.readings)
    assert maps(reconcile(evidence)) == maps(reconcile(other))


def maps(found: Reconciled) -> object:
    """Links and doubts, whatever their order."""
    doubts = {
        (
            frozenset(doubt.ends),
            frozenset(frozenset(one.map.items()) for one in doubt.explanations),
        )
        for doubt in found.doubts
    }
    return frozenset(found.links), frozenset(doubts)


@given(st.integers(0, 10**9), st.sampled_from(FAULTS))
@examples(150)
def test_the_test_that_is_offered_settles_it(seed: int, kind: str) -> None:
    made = seen(seed, [kind])
    evidence = made.evidence(0.0, 0.0, 0.0)
    for doubt in reconcile(evidence).doubts:
        if doubt.test is None or not doubt.test.settles:
            continue
        name = doubt.test.terminal
        runs = {name: made.wiring.runs(name)}
        again = reconcile(Evidence(evidence.box, evidence.controller, runs))
        about = [one for one in again.doubts if set(one.ends) & set(doubt.ends)]
        # What was offered before is settled; what else could be is far behind.
        for one in about:
            best = one.explanations[0]
            here = [name for name in best.map if name in one.ends]
            assert best.chance > 0.95, (made.faults, one)
            assert is_true(made, evidence, best, here), (made.faults, one)


def test_48_zones_on_4_cables_need_few_steps(monkeypatch: pytest.MonkeyPatch) -> None:
    weighed: list[Ways] = []

    def counted(tangle: Tangle, ways: Ways, costs: Costs, into: Weighed) -> None:
        weighed.append(ways)
        weigh_wires(tangle, ways, costs, into)

    monkeypatch.setattr("fieldbook.wiring.wire_search.weigh_wires", counted)
    for seed in range(5):
        pick = Random(seed)
        made = Seen(sound(48, 4, pick), pick)
        for _ in range(4):
            made.fault(pick.choice(FAULTS))
        evidence = made.evidence(0.0, 0.2, 0.2)
        weighed.clear()
        assert missing(made, evidence, reconcile(evidence)) == []
        # Weighing a way takes some 100 us, so this many take 150 ms: nobody waits for the wire map.
        assert len(weighed) < 1500


# hand-worked cases, a fault each


def ends(side: str, *colours: str | None) -> tuple[End, ...]:
    """The ends of zones 1, 2, ... in one cable."""
    mark = "t" if side == "controller" else ""
    return tuple(
        End(f"{mark}{no}", str(no), "cable", colour)
        for no, colour in enumerate(colours, start=1)
        if colour is not None
    )


def reconciled(
    box: tuple[str | None, ...],
    controller: tuple[str | None, ...],
    ran: dict[str, set[str]] | None = None,
    readings: dict[str, Meaning] | None = None,
) -> Reconciled:
    return reconcile(
        Evidence(
            ends("box", *box),
            ends("controller", *controller),
            {name: frozenset(zones) for name, zones in (ran or {}).items()},
            readings or {},
        )
    )


def only_doubt(found: Reconciled) -> Doubt:
    (doubt,) = found.doubts
    return doubt


def kinds(doubt: Doubt) -> set[tuple[str, ...]]:
    """The mistakes of every explanation that is likely, by kind."""
    return {tuple(sorted(m.kind for m in one.mistakes)) for one in doubt.likely()}


THREE = ("red", "blue", "green")


def test_ends_that_fit_are_linked_with_their_evidence() -> None:
    found = reconciled(THREE, THREE, {"t1": {"1"}}, {"t1": "sound"})
    assert found.doubts == ()
    first = found.link_of("t1")
    assert first is not None
    assert (first.stations, first.basis) == (frozenset("1"), ("colours", "ran", "ohms"))
    assert [link.terminal for link in found.links] == ["t1", "t2", "t3"]


def test_a_swap_is_wires_or_entries_and_one_test_settles_it() -> None:
    doubt = only_doubt(reconciled(THREE, ("red", "green", "blue")))
    assert kinds(doubt) == {("wires exchanged",), ("entries exchanged",)}
    assert doubt.could_be("t2", LIKELY) == {frozenset("2"), frozenset("3")}
    assert not doubt.settled
    assert doubt.test is not None
    assert doubt.test.terminal in ("t2", "t3")
    wires = only_doubt(reconciled(THREE, ("red", "green", "blue"), {"t2": {"3"}}))
    assert kinds(wires) == {("wires exchanged",)}
    entries = only_doubt(reconciled(THREE, ("red", "green", "blue"), {"t2": {"2"}}))
    assert kinds(entries) == {("entries exchanged",)}


def test_a_colour_under_two_terminals_is_a_doubt() -> None:
    doubt = only_doubt(reconciled(THREE, ("red", "blue", "blue")))
    assert ("misread",) in kinds(doubt)
    settled = only_doubt(reconciled(THREE, ("red", "blue", "blue"), {"t3": {"3"}}))
    assert settled.could_be("t3", LIKELY) == {frozenset("3")}


def test_two_valves_on_one_wire_are_found_by_their_ohms() -> None:
    colours = ("red", "red", "green"), ("red", "blue", "green")
    assert {("misread",), ("shared wire",)} <= kinds(only_doubt(reconciled(*colours)))
    both = only_doubt(reconciled(*colours, {}, {"t1": "two coils"}))
    assert kinds(both) == {("shared wire",)}
    assert both.explanations[0].map["t1"] == frozenset(("1", "2"))
    one = only_doubt(reconciled(*colours, {}, {"t1": "sound", "t2": "sound"}))
    assert ("shared wire",) not in kinds(one)


def test_a_colour_misread_as_a_spare_is_a_doubt() -> None:
    doubt = only_doubt(reconciled(("red", "blue", "brown"), THREE))
    assert {("misread",), ("leads nowhere",)} <= kinds(doubt)
    # A coil was metered, so the wire leads somewhere; no test shows yet where.
    sure = only_doubt(reconciled(("red", "blue", "brown"), THREE, {}, {"t3": "sound"}))
    assert sure.could_be("t3", LIKELY) == {frozenset("3")}
    assert not sure.settled
    shown = reconciled(("red", "blue", "brown"), THREE, {"t3": {"3"}}, {"t3": "sound"})
    assert only_doubt(shown).settled


def test_a_broken_wire_explains_that_nothing_ran() -> None:
    doubt = only_doubt(reconciled(THREE, THREE, {"t2": set()}))
    assert kinds(doubt) == {("broken",)}
    assert not doubt.settled
    open_too = only_doubt(reconciled(THREE, THREE, {"t2": set()}, {"t2": "open"}))
    assert ("broken",) in kinds(open_too)


def test_an_open_reading_is_a_broken_wire() -> None:
    doubt = only_doubt(reconciled(THREE, THREE, {}, {"t2": "open"}))
    assert ("broken",) in kinds(doubt)
    assert doubt.explanations[0].map["t2"] == frozenset("2")


def test_wires_that_touch_run_together() -> None:
    doubt = only_doubt(reconciled(THREE, THREE, {"t1": {"1", "2"}, "t2": {"1", "2"}}))
    assert ("touching",) in kinds(doubt)


def test_a_test_alone_links_what_was_never_entered_at_the_box() -> None:
    found = reconciled((None, "blue", "green"), THREE, {"t1": {"1"}})
    first = found.link_of("t1")
    assert first is not None
    assert first.basis == ("ran",)


def test_half_entered_wires_are_neither_linked_nor_doubted() -> None:
    assert reconciled(THREE, (None, None, None)) == Reconciled((), ())
    assert reconciled((None, None, None), THREE) == Reconciled((), ())


def test_too_tangled_is_said_and_not_guessed() -> None:
    box = tuple(f"c{no}" for no in range(14))
    found = reconciled(box, (*box[7:], *box[:7]))
    assert any(not doubt.explanations for doubt in found.doubts) or found.doubts


@pytest.mark.parametrize("count", [3, 4])
def test_a_ring_offers_every_mix_of_wires_and_entries(count: int) -> None:
    box = tuple(f"c{no}" for no in range(count))
    doubt = only_doubt(reconciled(box, (*box[1:], box[0])))
    straight = {f"t{no}": frozenset((str(no),)) for no in range(1, count + 1)}
    as_seen = {f"t{no}": frozenset((str(no % count + 1),)) for no in range(1, count + 1)}
    offered = [dict(one.map) for one in doubt.explanations]
    assert straight in offered
    assert as_seen in offered


def test_a_common_is_rung_out_and_never_energised() -> None:
    box = (End("valve 1", "c", "red", "1"), End("common at box", "c", "white", "common"))
    under = End("common terminal", "c", "red", "common")
    (doubt,) = reconcile(Evidence(box, (under,), never_live=frozenset({under.name}))).doubts
    assert doubt.test == (under.name, True, "ring out")
    first = End("terminal 1", "c", "white", "1")
    both = Evidence(box, (under, first), never_live=frozenset({under.name}))
    (doubt,) = reconcile(both).doubts
    # Energised, the valve runs whichever way the current goes through its coil.
    assert doubt.test is not None
    assert (doubt.test.terminal, doubt.test.kind) == (first.name, "ring out")


def test_exchanged_with_the_common_another_terminal_tells() -> None:
    box = (*ends("box", *THREE), End("common at box", "common", "cable", "white"))
    swapped = ends("controller", "white", "blue", "green")
    common = End("common terminal", "common", "cable", "red")
    seen = Evidence(box, (*swapped, common), never_live=frozenset({common.name}))
    doubt = only_doubt(reconcile(seen))
    assert ("common exchanged",) in kinds(doubt)
    assert doubt.test is not None
    assert (doubt.test.terminal, doubt.test.kind) == ("t2", "energise")
    # None of the others runs: current would have to go through two coils in a row.
    none = replace(seen, ran={"t2": NOTHING})
    assert kinds(only_doubt(reconcile(none))) == {("common exchanged",)}
    runs = only_doubt(reconcile(replace(seen, ran={"t2": frozenset("2")})))
    assert ("common exchanged",) not in kinds(runs)


def test_nothing_on_a_whole_cable_is_one_cause() -> None:
    nothing: dict[str, set[str]] = {"t1": set(), "t2": set()}
    found = reconciled(THREE, THREE, nothing)
    assert found.doubts == ()
    assert found.causes == (Cause("common", ("t1", "t2"), "cable"),)
    # The meter finds the coils, so wire and common are whole: look at controller and water.
    whole = reconciled(THREE, THREE, nothing, {"t1": "sound"})
    assert [cause.kind for cause in whole.causes] == ["supply"]
    metered = reconciled(THREE, THREE, {}, {"t1": "open", "t2": "open", "t3": "open"})
    assert metered.doubts == ()
    assert metered.causes == (Cause("common", ("t1", "t2", "t3"), "cable", metered=True),)
    # One that runs has a common: then each of the others has a fault of its own.
    assert reconciled(THREE, THREE, nothing | {"t3": {"3"}}).causes == ()


def test_explanations_are_ranked_and_their_chances_add_up() -> None:
    doubt = only_doubt(reconciled(THREE, ("red", "blue", "brown")))
    chances = [one.chance for one in doubt.explanations]
    assert chances == sorted(chances, reverse=True)
    assert abs(sum(chances) - 1.0) < 1e-9
    assert doubt.explanations[0].mistakes[0].kind == "misread"


def test_the_figures_of_how_often_can_be_edited() -> None:
    text = resources.files("fieldbook.trade").joinpath("wire_mistakes.toml").read_text("utf-8")
    often = text.replace(
        "[mistake.wires_exchanged]\nchance = 0.008", "[mistake.wires_exchanged]\nchance = 0.2"
    )
    assert often != text
    seen = Evidence(ends("box", *THREE), ends("controller", "red", "green", "blue"))
    doubt = only_doubt(reconcile(seen, costs_of(parse_wire_mistakes(often))))
    assert doubt.explanations[0].mistakes[0].kind == "wires exchanged"
    assert doubt.explanations[0].chance > 0.8
    with pytest.raises(ValueError, match="entries_exchanged is 8"):
        parse_wire_mistakes(text.replace("chance = 0.008", "chance = 8", 2))
