"""Which faults a zone can have, and which of them are one to every gauge."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest
from laid_zones import laid

from fieldbook.diagnosis.fault_axes import (
    Axis,
    axes_of,
    lateral_ends,
    pipes_in_series,
    trunk_of,
)
from fieldbook.diagnosis.zone_parts import ZoneParts
from fieldbook.water import Device, Head, Link, Network, Node, Pipe, Regulator, Supply, Valve


def small(*extra: Link, heads: tuple[str, ...] = ("h2", "h3")) -> ZoneParts:
    """A street, a valve, a trunk of two pipes, and two heads behind a tee."""
    pipe = Pipe(20.0, 1.029)
    standing = {"n3": "h2", "n4": "h3"}
    nodes = [Node("street")]
    nodes += [
        Node(name, 0.0, (Head(standing[name], 0.3),) if name in standing else ())
        for name in ("n0", "n1", "n2", "n3", "n4")
    ]
    links = (
        Link("valve", "street", "n0", Valve(8.0)),
        Link("run 1", "n0", "n1", pipe),
        Link("run 2", "n1", "n2", pipe),
        Link("run 3", "n2", "n3", pipe),
        Link("run 4", "n2", "n4", pipe),
        *extra,
    )
    return ZoneParts(
        Network(Supply(60.0), "street", tuple(nodes), links),
        "street",
        (),
        assembly=False,
        valve="valve",
        laterals=("run 1", "run 2", "run 3", "run 4"),
        heads=heads,
    )


def axis(parts: ZoneParts, change: str, place: str = "") -> Axis:
    return next(one for one in axes_of(parts) if (one.change, one.place) == (change, place))


def kinds(one: Axis) -> list[tuple[str, str]]:
    return [(cause.kind, cause.place) for cause in one.causes]


def test_pipes_that_pass_the_same_water_are_one_series() -> None:
    assert pipes_in_series(small()) == [["run 1", "run 2"], ["run 3"], ["run 4"]]


def test_the_first_pipes_lose_as_the_valve_does() -> None:
    parts = small()
    assert trunk_of(parts) == ["run 1", "run 2"]
    at_valve = kinds(axis(parts, "valve loses"))
    assert ("valve_part_closed", "") in at_valve
    assert {("kink", "run 1"), ("kink", "run 2"), ("undersized", "run 1")} <= set(at_valve)
    lateral = [one.place for one in axes_of(parts) if one.change == "lateral loses"]
    assert lateral == ["run 3", "run 4"]


def test_a_nozzle_that_is_clogged_and_one_too_small_are_one() -> None:
    assert kinds(axis(small(), "less at a head", "h2")) == [("blocked", "h2"), ("too_small", "h2")]


def test_a_missing_nozzle_and_a_leak_at_its_fitting_are_one() -> None:
    found = kinds(axis(small(), "more at a node", "h2"))
    assert found == [("too_large", "h2"), ("missing", "h2"), ("leak", "h2")]


def test_where_pipes_meet_without_a_head_there_can_be_a_leak_alone() -> None:
    assert kinds(axis(small(), "more at a node", "n2")) == [("leak", "run 2")]
    places = [one.place for one in axes_of(small()) if one.change == "more at a node"]
    assert sorted(places) == ["h2", "h3", "n1", "n2"]


def test_a_head_on_a_riser_leaks_at_the_head_and_its_riser_is_no_pipe_to_kink() -> None:
    parts = small(Link("riser", "n4", "n5", Pipe(0.0, 1.0)))
    nodes = [node._replace(heads=()) if node.name == "n4" else node for node in parts.network.nodes]
    nodes.append(Node("n5", 1.0, (Head("h3", 0.3),)))
    parts = replace(parts, network=parts.network._replace(nodes=tuple(nodes)))
    assert lateral_ends(parts)["h3"] == ("n4", "n5")
    places = [one.place for one in axes_of(parts) if one.change == "more at a node"]
    assert sorted(places) == ["h2", "h3", "n1", "n2"]
    assert not [one for one in axes_of(parts) for cause in one.causes if cause.place == "riser"]


def test_parts_that_a_zone_has_not_can_not_fail() -> None:
    changes = {one.change for one in axes_of(small())}
    assert "regulator low" not in changes
    assert ("filter", "") not in kinds(axis(small(), "valve loses"))
    assert ("assembly", "") not in kinds(axis(small(), "shared part loses"))
    fitted = replace(small(), regulator="regulator", filter="filter", assembly=True)
    links = list(fitted.network.links)
    links[0] = Link("valve", "street", "a", Valve(8.0))
    links[1:1] = [
        Link("filter", "a", "b", Device(((0.0, 1.0), (20.0, 3.0)))),
        Link("regulator", "b", "n0", Regulator(40.0)),
    ]
    nodes = (*fitted.network.nodes, Node("a"), Node("b"))
    fitted = replace(fitted, network=fitted.network._replace(nodes=nodes, links=tuple(links)))
    assert {"regulator low", "regulator open"} <= {one.change for one in axes_of(fitted)}
    assert ("filter", "") in kinds(axis(fitted, "valve loses"))
    assert ("assembly", "") in kinds(axis(fitted, "shared part loses"))
    assert trunk_of(fitted) == ["run 1", "run 2"]


@pytest.mark.parametrize("seed", range(5))
def test_every_axis_and_every_cause_is_listed_once(seed: int) -> None:
    parts = laid(Random(seed))
    axes = axes_of(parts)
    assert len({(one.change, one.place) for one in axes}) == len(axes)
    causes = [(cause.kind, cause.place) for one in axes for cause in one.causes]
    assert len(set(causes)) == len(causes)
    for one in axes:
        assert list(one.severities) == sorted(one.severities)
        for cause in one.causes:
            covered = [bad for bad in one.severities if cause.least <= bad <= cause.most]
            assert covered, cause
