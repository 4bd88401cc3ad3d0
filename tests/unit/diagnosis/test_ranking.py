"""Ranked causes: a seeded sample of dug-in faults, plain cases worked by hand, and invariants.

How often the truth comes first is asked of identifiable cases only; what these are is defined in
`telling_apart`, which never asks the code under test. The limits are those of the study
(`tests/study_diagnosis.py`), which takes larger samples.
"""

from __future__ import annotations

import math
from dataclasses import replace
from random import Random

import pytest
from crew_rounds import Round, read, true_values
from field_faults import Fault, dug_in, group_of
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from laid_zones import laid
from random_zones import brutal
from telling_apart import APART, nearest

from fieldbook.diagnosis.fault_axes import axes_of
from fieldbook.diagnosis.ranking import Diagnosis, diagnose
from fieldbook.diagnosis.zone_parts import Measured, ZoneParts, ZoneReadings
from fieldbook.trade.water_faults import SIGNS, water_faults
from fieldbook.water import NetworkError, Node, Pipe

SAMPLE, SOUND_ZONES = 36, 30
FIRST, AMONG_THREE, FALSE_ALARMS = 0.80, 0.95, 0.02


def rank_of(found: Diagnosis, parts: ZoneParts, fault: Fault) -> int:
    """The place of a fault's group in the ranking, from 0."""
    group = group_of(parts, fault)
    return next((no for no, one in enumerate(found.ranked) if group in one.axes), 99)


def exact(parts: ZoneParts, values: dict[str, float], heads: tuple[str, ...]) -> ZoneReadings:
    """Readings without error of a zone whose true values are known."""
    return ZoneReadings(
        Measured.within(values["static"], 2.0),
        Measured.within(values["running"], 2.0),
        Measured.within(values["flow"], 0.03 * values["flow"]),
        {head: Measured.within(values[head], 2.0) for head in heads},
    )


def test_the_true_fault_comes_first_where_it_can_be_told_apart() -> None:
    ranks = []
    for seed in range(SAMPLE):
        pick = Random(f"gate {seed}")
        parts = laid(pick, 4)
        fault, what = dug_in(pick, parts), Round.usual(pick, parts)
        readings = read(pick, parts, (fault,), what)
        apart, _ = nearest(parts, fault, what, pick)
        if apart >= APART:
            ranks.append(rank_of(diagnose(parts, readings), parts, fault))
    assert len(ranks) >= 15
    assert sum(rank == 0 for rank in ranks) >= FIRST * len(ranks)
    # So few cases can't miss a part of one: one miss in twenty, rounded up.
    assert sum(rank >= 3 for rank in ranks) <= math.ceil((1.0 - AMONG_THREE) * len(ranks))


def test_sound_zones_raise_no_alarm() -> None:
    alarms = 0
    for seed in range(SOUND_ZONES):
        pick = Random(f"sound {seed}")
        parts = laid(pick, 6)
        found = diagnose(parts, read(pick, parts, (), Round.usual(pick, parts)))
        alarms += found.verdict != "sound"
    assert alarms <= FALSE_ALARMS * SOUND_ZONES


def test_a_sound_zone_read_exactly_is_sound() -> None:
    parts = laid(Random(3), 9)
    found = diagnose(parts, exact(parts, true_values(parts, parts.network), parts.heads[:3]))
    assert found.verdict == "sound"
    assert found.ranked[0].sound
    assert found.sound_chance > 0.7
    assert found.nexts == ()


def test_a_head_seen_to_gush_with_more_flow_is_missing_its_nozzle() -> None:
    pick = Random(5)
    parts = laid(pick, 8)
    fault = Fault("missing", "head 4", 1.5)
    readings = read(
        pick, parts, (fault,), Round(True, ("head 4", "head 8"), True, True, True, True, 14.96)
    )
    found = diagnose(parts, readings)
    assert found.verdict == "found"
    causes = {causes[0].kind: share for causes, share in found.ranked[0].causes}
    assert max(causes, key=lambda kind: causes[kind]) == "missing"


def test_a_street_that_fell_is_told_by_static_alone() -> None:
    parts = laid(Random(8), 7)
    static = parts.network.supply.static_psi
    readings = ZoneReadings(static=Measured.within(0.7 * static, 2.0))
    found = diagnose(parts, readings)
    assert [axis.change for axis in found.ranked[0].axes] == ["street pressure"]


def test_what_only_other_zones_tell_apart_is_asked_of_them() -> None:
    # Behind the tap a shared valve and the zone's own lose alike, whatever the zone's gauges say.
    pick = Random(21)
    parts = laid(pick, 7)
    fault = Fault("isolation", "", 40.0)
    what = Round(True, ("head 1", "head 7"), False, False, False, False, 14.96)
    readings = read(pick, parts, (fault,), what)
    found = diagnose(parts, readings)
    assert {one.axes[0].change for one in found.ranked[:2]} == {"valve loses", "shared part loses"}
    assert found.verdict == "can't tell"
    assert found.nexts[0].kind == "others"
    told = diagnose(parts, replace(readings, others="weak"))
    assert told.ranked[0].axes[0].change == "shared part loses"
    fine = diagnose(parts, replace(readings, others="fine"))
    assert fine.ranked[0].axes[0].change == "valve loses"


def test_two_nozzles_that_are_blocked_are_found_together() -> None:
    pick = Random(33)
    parts = laid(pick, 6)
    faults = (Fault("blocked", "head 2", 1.0), Fault("blocked", "head 5", 1.0))
    what = Round(True, ("head 1", "head 4"), True, True, True, True, 20.0)
    found = diagnose(parts, read(pick, parts, faults, what))
    assert {axis.place for axis in found.ranked[0].axes} == {"head 2", "head 5"}
    assert {axis.change for axis in found.ranked[0].axes} == {"less at a head"}


def test_readings_that_no_fault_explains_are_called_so() -> None:
    parts = laid(Random(12), 6)
    values = true_values(parts, parts.network)
    # More pressure at a head than the street has, and twice the flow.
    readings = replace(
        exact(parts, values, ()),
        flow=Measured.within(2.5 * values["flow"], 0.3),
        heads={head: Measured.within(values["static"] + 25.0, 2.0) for head in parts.heads},
    )
    assert diagnose(parts, readings).verdict == "unexplained"


def test_a_zone_of_fourteen_heads_solves_each_fault_and_severity_once() -> None:
    parts = laid(Random(1), 14)
    found = diagnose(parts, exact(parts, true_values(parts, parts.network), parts.heads[:2]))
    most = sum(len(axis.severities) for axis in axes_of(parts))
    assert most * 0.6 < found.solves <= most + 100


@settings(max_examples=8)
@given(st.integers(0, 10_000), st.randoms(use_true_random=False))
def test_the_order_of_the_heads_changes_nothing(seed: int, order: Random) -> None:
    pick = Random(seed)
    parts = laid(pick, 5)
    fault = dug_in(pick, parts)
    readings = read(pick, parts, (fault,), Round.usual(pick, parts))
    mixed = list(parts.heads)
    order.shuffle(mixed)
    first, second = (
        diagnose(parts, readings),
        diagnose(replace(parts, heads=tuple(mixed)), readings),
    )
    chances = {one.axes: one.chance for one in second.ranked}
    for one in first.ranked[:3]:
        if len(one.axes) < 2:
            assert chances[one.axes] == pytest.approx(one.chance, rel=1e-6)


@settings(max_examples=8)
@given(st.integers(0, 10_000))
def test_chances_and_shares_are_chances(seed: int) -> None:
    pick = Random(seed)
    parts = laid(pick, pick.randint(2, 6))
    fault = dug_in(pick, parts)
    found = diagnose(parts, read(pick, parts, (fault,), Round.usual(pick, parts)))
    assert sum(one.chance for one in found.ranked) <= 1.0 + 1e-9
    assert sum(one.chance for one in found.ranked) > 0.5
    for one in found.ranked:
        assert 0.0 <= one.chance <= 1.0
        assert sum(share for _, share in one.causes) == pytest.approx(1.0)
    assert all(one.bits >= 0.0 and one.minutes > 0.0 for one in found.nexts)
    assert [one.worth for one in found.nexts] == sorted(
        (one.worth for one in found.nexts), reverse=True
    )


@settings(max_examples=4)
@given(st.integers(0, 2_000), st.data())
def test_hostile_networks_are_refused_or_ranked(seed: int, data: st.DataObject) -> None:
    network = brutal(seed)
    # Larger ones take longer and show nothing else.
    assume(len(network.nodes) < 14)
    start = next(link for link in network.links if link.start == network.source)
    laterals = tuple(
        link.name for link in network.links if isinstance(link.kind, Pipe) and link != start
    )
    heads = tuple(head.name for node in network.nodes for head in node.heads)
    parts = ZoneParts(network, network.source, (), assembly=False, valve=start.name,
                      laterals=laterals, heads=heads)  # fmt: skip
    psi = st.floats(0.0, 300.0).map(lambda value: Measured.within(value, 2.0))
    signs = st.dictionaries(st.sampled_from(heads), st.sampled_from(SIGNS), max_size=3)
    readings = ZoneReadings(
        static=data.draw(st.none() | psi),
        flow=data.draw(st.none() | psi),
        heads=data.draw(st.dictionaries(st.sampled_from(heads), psi, max_size=3)),
        signs=data.draw(signs),
    )
    try:
        found = diagnose(parts, readings)
    except NetworkError:
        return
    assert sum(one.chance for one in found.ranked) <= 1.0 + 1e-9
    assert all(one.chance == one.chance for one in found.ranked)


def test_a_network_without_water_is_refused() -> None:
    parts = laid(Random(2), 4)
    network = parts.network
    bare = network._replace(nodes=tuple(Node(node.name) for node in network.nodes))
    with pytest.raises(NetworkError):
        diagnose(replace(parts, network=bare, heads=()), ZoneReadings())


def test_a_table_that_thinks_a_fault_common_finds_it_sooner() -> None:
    parts = laid(Random(4), 6)
    static = parts.network.supply.static_psi
    readings = ZoneReadings(static=Measured.within(0.93 * static, 2.0))
    table = water_faults()
    often = replace(table, chance={**table.chance, "supply_fallen": 0.5})
    usual, more = diagnose(parts, readings), diagnose(parts, readings, often)
    assert more.sound_chance < usual.sound_chance
