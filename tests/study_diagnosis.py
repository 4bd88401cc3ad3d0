"""Study the diagnosis of zones on seeded faults: how often the truth comes first, and false alarms.

Run it: python tests/study_diagnosis.py [zones with a fault] [sound zones] [first seed]

A zone of 4 to 14 heads is laid, one fault dug in (every kind as often), and a crew's round read
off it: static and flow always, the rest as often as a crew has time for. The truth is solved whole,
by another friction law than the record's in two of three cases, with bores, nozzles, curves,
heights and the street off as they are in the ground (`support/faults`).

Identifiable is a case of which perfect instruments would show something that differs from the best
fit of every other group of faults, and of the sound zone, by more than 3 standard deviations of the
noise; `telling_apart.nearest` works that out from the ground alone and never asks the code that is
studied. Faults that change the water in the same way (a blocked nozzle and one too small) are one
group, since only a look tells them apart.

Two faults at once are dug in too, whether they can be told or not: a fault that nobody could see
beside a large one is not found by anything.

It prints by distance how often the true group came first and among three, false alarms (any answer
but "nothing wrong is shown"), whether the chances come true, the confusion table, and processor
time. Nothing here asserts.
"""

from __future__ import annotations

import sys
import time
from collections import Counter, defaultdict
from dataclasses import dataclass, field
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).with_name("support")))
sys.path.insert(0, str(Path(__file__).with_name("support") / "faults"))

from crew_rounds import Round, read, true_values
from field_faults import dug_in, group_of
from laid_zones import laid
from telling_apart import APART, nearest

from fieldbook.diagnosis.fault_axes import axes_of
from fieldbook.diagnosis.ranking import Diagnosis, diagnose
from fieldbook.diagnosis.zone_parts import Measured, ZoneReadings

_BINS = (0.0, 1.0, 2.0, 3.0, 4.0, 6.0)
_SURE = (0.0, 0.2, 0.4, 0.6, 0.8, 0.95)
_SHORT = {
    "less at a head": "less",
    "more at a node": "more",
    "more before the valve": "main leak",
    "lateral loses": "lateral",
    "valve loses": "valve",
    "shared part loses": "shared",
    "street loses": "street",
    "street pressure": "static",
    "regulator low": "reg low",
    "regulator open": "reg open",
    "none": "no water",
    "sound": "sound",
}


@dataclass
class Tally:
    """What was counted: by distance, cases with the truth first and among three, and chances."""

    cases: Counter[float] = field(default_factory=Counter)
    first: Counter[float] = field(default_factory=Counter)
    three: Counter[float] = field(default_factory=Counter)
    said: Counter[float] = field(default_factory=Counter)
    called: Counter[float] = field(default_factory=Counter)
    right: Counter[float] = field(default_factory=Counter)
    table: defaultdict[str, Counter[str]] = field(default_factory=lambda: defaultdict(Counter))
    seconds: list[float] = field(default_factory=list)

    def part(self, counted: Counter[float], least: float) -> str:
        """The percent of the cases from a distance on."""
        total = sum(count for edge, count in self.cases.items() if edge >= least)
        found = sum(count for edge, count in counted.items() if edge >= least)
        return f"{100 * found / max(total, 1):5.1f} % of {total}"


def add_faulty(tally: Tally, seed: str) -> None:
    """Dig in one fault, read the zone, and see where the truth is ranked."""
    pick = Random(seed)
    parts = laid(pick)
    fault, what = dug_in(pick, parts), Round.usual(pick, parts)
    readings = read(pick, parts, (fault,), what)
    apart, _ = nearest(parts, fault, what, pick)
    began = time.process_time()
    found = diagnose(parts, readings)
    tally.seconds.append(time.process_time() - began)
    group = group_of(parts, fault)
    rank = next((no for no, one in enumerate(found.ranked) if group in one.axes), 99)
    edge = max(one for one in _BINS if apart >= one)
    tally.cases[edge] += 1
    tally.first[edge] += rank == 0
    tally.three[edge] += rank < 3
    tally.said[edge] += found.verdict != "sound"
    best = found.ranked[0]
    if not best.sound:
        # Every zone here has a fault, so what is said of sound zones can't be judged by them.
        sure = max(one for one in _SURE if best.chance >= one)
        tally.called[sure] += 1
        tally.right[sure] += rank == 0
    if apart >= APART:
        named = best.axes[0].change if best.axes else "sound"
        right_change = rank == 0 or not best.axes or named != group.change
        name = _SHORT[named] + ("" if right_change else " elsewhere")
        tally.table[_SHORT[group.change]][name] += 1


def false_alarms(count: int, seed: str) -> Counter[str]:
    """The verdicts on sound zones."""
    verdicts: Counter[str] = Counter()
    for no in range(count):
        pick = Random(f"{seed} sound {no}")
        parts = laid(pick)
        readings = read(pick, parts, (), Round.usual(pick, parts))
        verdicts[diagnose(parts, readings).verdict] += 1
    return verdicts


def add_double(places: Counter[str], seed: str) -> None:
    """Dig in two faults of different groups, and see where both are ranked, or one of them."""
    pick = Random(f"{seed} double")
    parts = laid(pick)
    first, second = dug_in(pick, parts), dug_in(pick, parts)
    groups = {group_of(parts, one) for one in (first, second)}
    if len(groups) < 2 or first.place == second.place != "":
        return
    readings = read(pick, parts, (first, second), Round.usual(pick, parts))
    found = diagnose(parts, readings)
    ranks = [no for no, one in enumerate(found.ranked) if groups == set(one.axes)]
    named = [no for no, one in enumerate(found.ranked) if groups & set(one.axes)]
    places["zones"] += 1
    places["both first"] += ranks[:1] == [0]
    places["both among three"] += bool(ranks) and ranks[0] < 3
    places["one of them in the first"] += named[:1] == [0]
    places["called wrong"] += found.verdict != "sound"


def fourteen_heads() -> tuple[float, Diagnosis, int]:
    """Processor seconds of one diagnosis of 14 heads with every reading, and the faults tried."""
    parts = laid(Random("fourteen"), 14)
    values = true_values(parts, parts.network)
    readings = ZoneReadings(
        Measured.within(values["static"], 2.0),
        Measured.within(values["running"], 2.0),
        Measured.within(values["flow"], 0.4),
        {head: Measured.within(values[head], 2.0) for head in parts.heads},
        dict.fromkeys(parts.heads, "fine"),
    )
    began = time.process_time()
    found = diagnose(parts, readings)
    causes = sum(len(axis.causes) for axis in axes_of(parts))
    return time.process_time() - began, found, causes


def main() -> None:
    """Print the study."""
    faulty = int(sys.argv[1]) if len(sys.argv) > 1 else 400
    sound = int(sys.argv[2]) if len(sys.argv) > 2 else 400
    seed = sys.argv[3] if len(sys.argv) > 3 else "1"
    tally = Tally()
    for no in range(faulty):
        add_faulty(tally, f"{seed} {no}")
    print("sigmas apart   cases   first   among three   called wrong")
    for edge in _BINS:
        cases = max(tally.cases[edge], 1)
        parts = [100 * one[edge] / cases for one in (tally.first, tally.three, tally.said)]
        print(
            f"from {edge:4.0f}     {tally.cases[edge]:6}  {parts[0]:5.1f} %   "
            f"{parts[1]:8.1f} %   {parts[2]:10.1f} %"
        )
    for least in (2.0, APART, 4.0):
        word = "identifiable" if least == APART else f"from {least:.0f} sigmas on"
        first, three = (tally.part(one, least) for one in (tally.first, tally.three))
        print(f"{word}: the true group first in {first}, among three in {three}")
    for edge in _SURE:
        if tally.called[edge]:
            right = 100 * tally.right[edge] / tally.called[edge]
            print(f"called {100 * edge:.0f} % or more: {tally.called[edge]}, right {right:.0f} %")
    verdicts = false_alarms(sound, seed)
    alarms = sound - verdicts["sound"]
    part = 100 * alarms / max(sound, 1)
    print(f"sound zones: {sound}, false alarms {part:.2f} % ({dict(verdicts)})")
    print("\nidentifiable cases: the true change (rows) and the one ranked first")
    for true, named in sorted(tally.table.items()):
        listed = ", ".join(f"{name} {count}" for name, count in named.most_common())
        print(f"  {true:10} {listed}")
    places: Counter[str] = Counter()
    for no in range(faulty // 4):
        add_double(places, f"{seed} {no}")
    listed = ", ".join(f"{name} {count}" for name, count in places.items())
    print(f"\nzones with two faults, identifiable or not: {listed}")
    tally.seconds.sort()
    seconds, found, causes = fourteen_heads()
    print(
        f"\nprocessor time: median {1000 * tally.seconds[len(tally.seconds) // 2]:.0f} ms, slowest "
        f"{1000 * tally.seconds[-1]:.0f} ms; 14 heads, all {causes} single faults: "
        f"{1000 * seconds:.0f} ms in {found.solves} solves"
    )


if __name__ == "__main__":
    main()
