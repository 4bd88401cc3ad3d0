"""Study the wire map on random wirings: how often it offers the truth, and tests settle it.

Run it: python tests/study_wires.py [wirings for each number of faults] [first seed]

For wirings with 0 to 4 faults (`field_wires.py`), partly entered as in the field, it
prints per number of faults how often the truth is missing from what is offered, what was called
settled and is wrong, false clears and false alarms; then whether the chances are true, the tests
until nothing more can be told apart beside the fewest possible, and the processor time of a call
with 48 zones. Nothing here asserts.
"""

from __future__ import annotations

import sys
import time
from collections import Counter
from dataclasses import dataclass, field, replace
from functools import cache
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).with_name("support")))

from field_wires import Amount, Crew, Lawn, Nothing, dug, entered, truth

from fieldbook.wiring import Doubt, Evidence, Explanation, Reconciled, reconcile

SURE = 0.95
MOST_EXPLANATIONS = 9
"""The fewest possible tests are worked out for doubts of at most so many explanations."""


@dataclass
class Tally:
    """What was counted over the wirings with one number of faults."""

    wirings: int = 0
    missing: int = 0
    settled: int = 0
    settled_wrong: int = 0
    false_clear: int = 0
    unseen: int = 0
    false_alarm: int = 0
    explanations: int = 0
    doubts: int = 0
    slips: Counter[str] = field(default_factory=Counter)


@dataclass
class Chances:
    """Of links by how sure they were called: how many there were, and how many were right."""

    called: Counter[int] = field(default_factory=Counter)
    right: Counter[int] = field(default_factory=Counter)
    expected: Counter[int] = field(default_factory=Counter)

    def add(self, chance: float, right: bool) -> None:
        """Count one link."""
        bin_ = sum(chance >= edge for edge in (0.5, 0.8, SURE, 0.99))
        self.called[bin_] += 1
        self.right[bin_] += right
        self.expected[bin_] += round(chance * 1000)


def matches(lawn: Lawn, evidence: Evidence, one: Explanation) -> bool:
    """Whether an explanation's map is the true one."""
    return all(led == truth(lawn, evidence, name) for name, led in one.map.items())


def is_offered(lawn: Lawn, evidence: Evidence, found: Reconciled) -> bool:
    """Whether every doubt offers the truth.

    What an explanation leaves as it was outside its doubt may be what another doubt is about.
    """

    def elsewhere(doubt: Doubt, name: str) -> bool:
        true = truth(lawn, evidence, name)
        others = [one for one in found.doubts if one is not doubt]
        return any(one.map.get(name) == true for other in others for one in other.explanations)

    return all(
        any(
            all(
                led == truth(lawn, evidence, name)
                or (name not in doubt.ends and elsewhere(doubt, name))
                for name, led in one.map.items()
            )
            for one in doubt.explanations
        )
        for doubt in found.doubts
    )


def wrong_links(lawn: Lawn, evidence: Evidence, found: Reconciled) -> list[str]:
    """Terminals outside all doubts that are linked to what they do not lead to."""
    doubted = {name for doubt in found.doubts for one in doubt.explanations for name in one.map}
    doubted |= {name for doubt in found.doubts for name in doubt.ends}
    at_box = {end.station for end in evidence.box}
    wrong = []
    for end in evidence.controller:
        if end.name in doubted:
            continue
        link, true = found.link_of(end.name), truth(lawn, evidence, end.name)
        # No link is no claim, while the valve is not entered.
        claims = link is not None or end.station in at_box
        if claims and (link.stations if link else Nothing) != true:
            wrong.append(end.name)
    return wrong


def seen_as_meant(evidence: Evidence) -> bool:
    """Whether nothing in the record differs from a wiring without any fault."""
    box = {end.station: (end.cable, end.colour) for end in evidence.box}
    under = {end.station: (end.cable, end.colour) for end in evidence.controller}
    same = all(box[one] == under[one] for one in box.keys() & under.keys())
    apart = len(set(box.values())) == len(box) and len(set(under.values())) == len(under)
    lone = {one for one in box if one not in under} | {one for one in under if one not in box}
    answered = [
        one
        for one in lone
        if (box.get(one) or under[one])
        in (set(under.values()) if one in box else set(box.values()))
    ]
    ran = all(stations == {name[1:]} for name, stations in evidence.ran.items())
    read = all(meaning in ("sound", "high") for meaning in evidence.readings.values())
    return same and apart and not answered and ran and read


def count(tally: Tally, chances: Chances, lawn: Lawn, evidence: Evidence) -> None:
    """Judge one record by the truth."""
    found = reconcile(evidence)
    wrong = wrong_links(lawn, evidence, found)
    unseen = seen_as_meant(evidence)
    tally.wirings += 1
    tally.unseen += bool(wrong) and unseen
    missing = not unseen and (bool(wrong) or not is_offered(lawn, evidence, found))
    tally.missing += missing
    if missing:
        tally.slips[" + ".join(sorted(lawn.faults))] += 1
    single = [doubt for doubt in found.doubts if doubt.settled]
    tally.settled += bool(single)
    tally.settled_wrong += any(
        not matches(lawn, evidence, doubt.explanations[0]) for doubt in single
    )
    said = bool(found.doubts or found.causes)
    tally.false_clear += not said and bool(wrong) and not unseen
    tally.false_alarm += not lawn.faults and said
    tally.explanations += sum(len(doubt.explanations) for doubt in found.doubts)
    tally.doubts += len(found.doubts)
    weigh(chances, lawn, evidence, found)


def weigh(chances: Chances, lawn: Lawn, evidence: Evidence, found: Reconciled) -> None:
    """Count how sure the map is of each terminal's likeliest end, and whether it is right."""
    for link in found.links:
        chances.add(link.chance, link.stations == truth(lawn, evidence, link.terminal))
    linked = {link.terminal for link in found.links}
    for doubt in found.doubts:
        for name in {name for one in doubt.explanations for name in one.map} - linked:
            led: Counter[frozenset[str]] = Counter()
            for one in doubt.explanations:
                led[one.map.get(name, Nothing)] += one.chance  # type: ignore[assignment]
            stations, chance = led.most_common(1)[0]
            chances.add(chance, stations == truth(lawn, evidence, name))


def fewest(doubt: Doubt, terminals: list[str]) -> tuple[float, float] | None:
    """Tests expected until nothing more can be told apart: by the fewest, and as proposed.

    None where there are too many explanations to try every order.
    """
    maps, total = doubt.explanations, sum(one.chance for one in doubt.explanations)
    if not 1 < len(maps) <= MOST_EXPLANATIONS:
        return None

    def parts(left: frozenset[int], name: str) -> list[frozenset[int]]:
        by: dict[frozenset[str], set[int]] = {}
        for no in left:
            runs = maps[no].runs.get(name, maps[no].map.get(name, Nothing))
            by.setdefault(runs, set()).add(no)
        return [frozenset(part) for part in by.values()]

    @cache
    def best(left: frozenset[int]) -> float:
        tries = [split for name in terminals if len(split := parts(left, name)) > 1]
        here = sum(maps[no].chance for no in left) / total
        return min((here + sum(map(best, split)) for split in tries), default=0.0)

    whole = frozenset(range(len(maps)))
    if doubt.test is None or doubt.test.kind != "energise" or doubt.test.terminal not in terminals:
        return None
    split = parts(whole, doubt.test.terminal)
    return best(whole), 1.0 + sum(map(best, split))


@dataclass
class Walk:
    """Tests made one after another as proposed."""

    walks: int = 0
    made: int = 0
    metered: int = 0
    fewest: float = 0.0
    proposed: float = 0.0
    sure: int = 0
    true: int = 0


def walk(lawn: Lawn, evidence: Evidence, so_far: Walk, pick: Random) -> None:
    """Make the proposed tests on the true wiring until none is proposed."""
    so_far.walks += 1
    for _ in range(30):
        found = reconcile(evidence)
        live = [
            end.name
            for end in evidence.controller
            if end.name not in evidence.ran and end.name not in evidence.never_live
        ]
        for doubt in found.doubts:
            if (pair := fewest(doubt, live)) is not None:
                so_far.fewest += pair[0]
                so_far.proposed += pair[1]
        tests = [doubt.test for doubt in found.doubts if doubt.test is not None]
        # Behind a shared cause tests are asked for again, once it is mended: not here.
        done = {"energise": evidence.ran, "meter": evidence.readings}
        tests = [
            test for test in tests if test.kind in done and test.terminal not in done[test.kind]
        ]
        if not tests:
            break
        so_far.made += 1
        name, kind = tests[0].terminal, tests[0].kind
        so_far.metered += kind == "meter"
        if kind == "meter":
            shown = lawn.reads(name, pick)
            evidence = replace(evidence, readings={**evidence.readings, name: shown})
        else:
            evidence = replace(evidence, ran={**evidence.ran, name: lawn.runs(name)})
    so_far.sure += all(doubt.settled for doubt in found.doubts)
    best = [
        max(doubt.explanations, key=lambda one: one.chance)
        for doubt in found.doubts
        if doubt.explanations
    ]
    right = all(matches(lawn, evidence, one) for one in best)
    so_far.true += right and not wrong_links(lawn, evidence, found)


def slowest(calls: int, seed: int) -> list[float]:
    """Processor time in ms of calls with 48 zones on 4 cables and 4 faults, sorted."""
    took = []
    for no in range(calls):
        pick = Random(f"slow {seed} {no}")
        lawn = dug(pick, 48, 4)
        Crew(lawn, pick).work(4)
        evidence = entered(lawn, Amount.usual(pick), pick)
        began = time.process_time()
        reconcile(evidence)
        took.append(1000 * (time.process_time() - began))
    return sorted(took)


def lawn_of(seed: int, no: int, faults: int) -> tuple[Lawn, Random]:
    """A lawn of 3 to 14 zones on 1 to 3 cables, with so many faults."""
    pick = Random(f"{seed} {no} {faults}")
    zones = pick.randint(3, 14)
    lawn = dug(pick, zones, pick.choice((1, 1, 2, 3)) if zones > 5 else 1)
    crew = Crew(lawn, pick)
    crew.work(faults)
    return lawn, pick


def main() -> None:
    """Print the study."""
    wirings = int(sys.argv[1]) if len(sys.argv) > 1 else 400
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else 1
    chances, walked, slips = Chances(), Walk(), Counter[str]()
    print("faults  truth missing  settled  settled wrongly  false clear  false alarm  unseen  each")
    for faults in range(5):
        tally = Tally()
        for no in range(wirings):
            lawn, pick = lawn_of(seed, no, faults)
            evidence = entered(lawn, Amount.usual(pick), pick)
            count(tally, chances, lawn, evidence)
            if faults and no < wirings // 8:
                walk(lawn, evidence, walked, pick)
        each = tally.explanations / max(1, tally.doubts)
        part = [100 * n / wirings for n in (tally.missing, tally.settled, tally.settled_wrong)]
        print(
            f"{faults:6}  {part[0]:11.1f} %  {part[1]:5.1f} %  {part[2]:13.2f} %  "
            f"{tally.false_clear:11}  {tally.false_alarm:11}  {tally.unseen:6}  {each:4.1f}"
        )
        slips += tally.slips
    for bin_, words in enumerate(("under 50", "50 to 80", "80 to 95", "95 to 99", "99 and over")):
        called = max(1, chances.called[bin_])
        print(
            f"links called {words} % sure: {chances.called[bin_]}, expected right "
            f"{chances.expected[bin_] / called / 10:.2f} %, right "
            f"{100 * chances.right[bin_] / called:.2f} %"
        )
    print(
        f"tests: {walked.made / max(1, walked.walks):.2f} a wiring, "
        f"{100 * walked.metered / max(1, walked.made):.0f} % by the meter; "
        "expected by the proposed order "
        f"{walked.proposed / max(1e-9, walked.fewest):.3f} times the fewest possible; at the end "
        f"{100 * walked.sure / max(1, walked.walks):.1f} % settled, "
        f"{100 * walked.true / max(1, walked.walks):.1f} % with the truth as the likeliest"
    )
    took = slowest(40, seed)
    print(f"48 zones: median {took[len(took) // 2]:.0f} ms, slowest {took[-1]:.0f} ms")
    for kinds, times in slips.most_common(12):
        print(f"  missing {times} times with {kinds}")


if __name__ == "__main__":
    main()
