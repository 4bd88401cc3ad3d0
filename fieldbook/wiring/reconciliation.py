"""The wire map from everything seen: what fits is linked, what does not becomes a doubt.

`grouping` finds the ends that belong together. Those that fit are linked as they stand. For any
others `wire_search` ranks what could explain them by likelihood, and `deciding` picks the next
test.
What was seen to run counts as nearly certain.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from fieldbook.wiring.causes import common_causes
from fieldbook.wiring.colour_join import End
from fieldbook.wiring.costs import Costs, usual_costs
from fieldbook.wiring.currents import expected_reads, expected_runs
from fieldbook.wiring.deciding import Testable, best_test
from fieldbook.wiring.evidence import Basis, Doubt, Evidence, Explanation, Link, Reconciled
from fieldbook.wiring.grouping import groups_of
from fieldbook.wiring.tangle import Tangle, tangle_of
from fieldbook.wiring.wire_search import BAND, PROVEN_BAND, WIDE_BAND, Found, Leads, Search

MOST_EXPLANATIONS, FEW = 160, 3
_TEMPER = 0.65
"""Weights are raised to this power, since mistakes on one evening are not independent.

Without it what is called 88 % sure is right in 73 %; with it in 88 % (measured by
tests/study_wires.py).
"""
_LEFT_OPEN = ("touching", "reading doubtful", "test noted wrong")
"""Mistakes of which a test leaves open what the wire is."""
_SURE = {"colours": 0.985, "ohms": 0.99, "ran": 0.998}
"""How sure a link is by the best evidence for it (measured by tests/study_wires.py)."""


def reconcile(evidence: Evidence, costs: Costs | None = None) -> Reconciled:
    """Derive the wire map from everything that was seen; what is uncertain becomes a doubt.

    The result does not depend on the order of the ends. Links are in the order of the controller.
    Never raises, however the evidence contradicts itself.
    """
    causes, evidence = common_causes(evidence)
    order = {end.name: number for number, end in enumerate(evidence.controller)}
    fitting, unfit = groups_of(evidence)
    links = [link for group in fitting for link in _links(group, evidence)]
    links.sort(key=lambda link: order.get(link.terminal, len(order)))
    doubts = [
        _doubt(tangle_of(group, fitting, evidence), order, costs or usual_costs())
        for group in unfit
    ]
    return Reconciled(tuple(links), tuple(doubts), causes)


def _links(group: Sequence[End], evidence: Evidence) -> list[Link]:
    """The link of a group that fits, and the evidence for it."""
    at_box = {end.name for end in evidence.box}
    under = [end for end in group if end.name not in at_box]
    if not under:
        return []
    name, basis = under[0].name, list[Basis]()
    stations = frozenset(end.station for end in group if end.name in at_box)
    if stations:
        basis.append("colours")
    if ran := evidence.ran.get(name):
        basis.append("ran")
        stations |= ran
    if evidence.readings.get(name) == "sound":
        basis.append("ohms")
    chance = max((_SURE[one] for one in basis), default=0.0)
    return [Link(name, stations, tuple(basis), chance)] if stations else []


def _doubt(tangle: Tangle, order: Mapping[str, int], costs: Costs) -> Doubt:
    search = Search(tangle, costs)
    search.run()
    proven = _proven(tangle, max(search.found.items(), key=lambda item: item[1].weight))
    if len(search.found) == 1 and not proven:
        # One explanation alone would look like proof: find what comes next, however far behind.
        search = Search(tangle, costs, WIDE_BAND)
        search.run()
    explanations = _explanations(tangle, search, proven=proven)
    names = tuple(end.name for end in tangle.ends)
    terminals = [one for one in tangle.terminals if one.seen is not None]
    terminals.sort(key=lambda one: order[one.name])
    # Energising a terminal a second time would tell nothing new.
    live = [one.name for one in terminals if not one.common and one.ran is None]
    unread = [one.name for one in terminals if not one.common and one.reading is None]
    # Tests that speak against each other are doubted, not metered.
    near = _worth_a_walk(explanations)
    test = best_test(near, Testable(live, unread))
    if test is None:
        own = [one.name for one in terminals if one.name in names]
        test = best_test(near, Testable(dead=own))
    return Doubt(names, explanations, test, proven)


def _worth_a_walk(explanations: tuple[Explanation, ...]) -> tuple[Explanation, ...]:
    """The explanations near enough to the likeliest that a test of them is worth its walk."""
    least = explanations[0].chance * math.exp(-PROVEN_BAND * _TEMPER)
    near = tuple(one for one in explanations if one.chance >= least)
    return near if len(near) > 1 else explanations


def _explanations(tangle: Tangle, search: Search, *, proven: bool) -> tuple[Explanation, ...]:
    """What was found, likeliest first, each with the terminals that are concerned.

    One explanation alone is only kept where tests show it.
    """
    band = PROVEN_BAND if proven else BAND
    ranked = sorted(search.found.items(), key=lambda item: (-item[1].weight, _in_order(item[0])))
    near = [pair for pair in ranked if pair[1].cost <= search.best + band]
    ranked = near[:MOST_EXPLANATIONS] if proven or len(near) > 1 else ranked[:FEW]
    concerned = _concerned(tangle, ranked)
    weights = [found.weight**_TEMPER for _, found in ranked]
    numbers = range(len(tangle.terminals))
    return tuple(
        Explanation(
            {name: stations for name, stations in leads if name in concerned},
            found.mistakes,
            weight / sum(weights),
            expected_runs(found.currents, numbers),
            expected_reads(found.currents, numbers),
        )
        for (leads, found), weight in zip(ranked, weights, strict=True)
    )


def _in_order(leads: Leads) -> list[tuple[str, list[str]]]:
    """Where terminals lead, as it can be sorted: sets have no order of their own."""
    return [(name, sorted(stations)) for name, stations in leads]


def _proven(tangle: Tangle, item: tuple[Leads, Found]) -> bool:
    """Whether tests show a map: something ran, and what ran is what each terminal leads to."""
    leads, found = dict(item[0]), item[1]
    if any(one.kind in _LEFT_OPEN for one in found.mistakes):
        return False
    tested = [one for one in tangle.terminals if not one.beside and one.ran is not None]
    as_mapped = all(one.ran in (leads[one.name], frozenset()) for one in tested)
    return as_mapped and any(one.ran for one in tested)


def _concerned(tangle: Tangle, ranked: Sequence[tuple[Leads, Found]]) -> set[str]:
    """The terminals that do not fit, and those beside that not all explanations leave alone."""
    names = {one.name for one in tangle.terminals if not one.beside and one.seen is not None}
    first = dict(ranked[0][0])
    for leads, _ in ranked[1:]:
        names |= {name for name, stations in leads if stations != first[name]}
    return names
