"""Network documents: how they are read, refused by path, described by the schema and answered."""

from __future__ import annotations

import copy
import json
from typing import Any

import jsonschema
import pytest
from examples import examples
from hypothesis import given
from hypothesis import strategies as st

from fieldbook.water import NetworkError, network_schema, solve_case

GOOD: dict[str, Any] = {
    "law": "hazen-williams",
    "supply": {"node": "street", "static_psi": 60, "residual_psi": 48, "test_gpm": 10},
    "nodes": [
        {"name": "street"},
        {
            "name": "a",
            "elevation_ft": 2,
            "heads": [{"name": "h", "nozzle_gpm": 2, "rated_psi": 30}],
        },
        {"name": "b", "heads": [{"name": "k", "k_gpm": 0.3, "regulated_psi": 30}]},
    ],
    "links": [
        {"name": "v", "from": "street", "to": "a", "kind": "valve", "cv_gpm": 9},
        {"name": "p", "from": "a", "to": "b", "kind": "pipe", "length_ft": 20, "bore_in": 0.93},
    ],
}


def changed(
    path: tuple[str | int, ...], value: object, base: dict[str, Any] = GOOD
) -> dict[str, Any]:
    """The good document with one value changed, or removed where the value is None."""
    document = copy.deepcopy(base)
    at: Any = document
    for step in path[:-1]:
        at = at[step]
    if value is None and isinstance(at, dict):
        at.pop(path[-1], None)
    elif value is None:
        at.pop(int(path[-1]))
    else:
        at[path[-1]] = value
    return document


def pump(gpm: float, psi: float) -> dict[str, Any]:
    """A pump with a shut-off of 8 psi and one more point."""
    return {"shut_off_psi": 8, "points": [{"flow_gpm": gpm, "boost_psi": psi}]}


def test_a_document_is_answered_head_by_head() -> None:
    jsonschema.validate(GOOD, network_schema())
    found = solve_case(GOOD)
    assert found["converged"]
    assert [head["name"] for head in found["heads"]] == ["h", "k"]
    assert found["supply_gpm"] == pytest.approx(sum(head["flow_gpm"] for head in found["heads"]))
    assert [link["name"] for link in found["links"]] == ["v", "p"]
    assert {node["name"] for node in found["nodes"]} == {"street", "a", "b"}
    assert json.loads(json.dumps(found)) == found


@pytest.mark.parametrize(
    ("path", "value", "said"),
    [
        (("law",), "chezy", "law takes one of hazen-williams, darcy-weisbach."),
        (("supply",), None, "supply must be an object."),
        (("supply", "static_psi"), "60", "supply.static_psi must be a number."),
        (("supply", "static_psi"), True, "supply.static_psi must be a number."),
        (("supply", "static_psi"), float("nan"), "supply.static_psi must be a finite number."),
        (("supply", "static_psi"), 10**400, "supply.static_psi is too large a number."),
        (("supply", "static_kpa"), 400, "supply.static_kpa is no part"),
        (("nodes",), {}, "nodes must be a list."),
        (("nodes", 1), 7, "nodes[1] must be an object."),
        (("nodes", 1, "name"), "", "nodes[1].name must be a word"),
        (("nodes", 1, "heads", 0, "rated_psi"), None, "nodes[1].heads[0].rated_psi must be"),
        (("nodes", 1, "heads", 0, "nozzle_gpm"), 0, "Head h: "),
        (("links", 1, "kind"), "hose", "links[1].kind takes one of pipe, device, valve"),
        (("links", 1, "kind"), ["pipe"], "links[1].kind takes one of"),
        (("links", 1, "bore_mm"), 25, "links[1].bore_mm is no part"),
        (("links", 1, "length_ft"), None, "links[1].length_ft must be a number."),
        (("links", 0, "from"), "nowhere", "Link v leads to nowhere"),
        (("nodes", 1, "heads", 0, "exponent"), 1.5, "Head h: its exponent must be from 0 to 1."),
        (("nodes", 2, "heads", 0, "exponent"), -1, "Head k: its exponent must be 0, or from 0.01"),
        (("nodes", 2, "heads", 0, "exponent"), 0, "Head k: with the exponent 0 it takes the least"),
        (("nodes", 2, "heads", 0, "least_psi"), 0, "Head k: its least pressure must be above"),
        (("nodes", 2, "heads", 0, "most_psi"), "9", "nodes[2].heads[0].most_psi must be a number."),
        (("nodes", 2, "heads", 0, "rated_psi"), 9, "nodes[2].heads[0].rated_psi is no part"),
        (("supply", "level_ft"), 9, "supply takes static_psi or level_ft, not both."),
        (("supply", "pump"), [], "supply.pump must be an object."),
        (("supply", "pump"), {}, "supply.pump.shut_off_psi must be a number."),
        (("supply", "pump"), {"shut_off_psi": 9}, "supply.pump.points must hold at least one"),
        (("supply", "pump"), pump(5, 9), "The supply's pump: its pressure must not rise"),
        (("supply", "pump"), pump(0, 3), "The supply's pump: its curve's flows must rise"),
        (("supply", "pump"), pump(5, -1), "The supply's pump: its curve has a figure that"),
        (("\x1b[2J",), 1, "?[2J is no part"),
    ],
)
def test_a_bad_document_is_refused_by_its_path(
    path: tuple[str | int, ...], value: object, said: str
) -> None:
    with pytest.raises(NetworkError) as why:
        solve_case(changed(path, value))
    assert str(why.value).startswith(said)


scalars = st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5)
anything = st.recursive(
    scalars,
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3)
    ),
    max_leaves=8,
)
PATHS: list[tuple[str | int, ...]] = [
    ("law",),
    ("water_deg_f",),
    ("supply",),
    ("supply", "residual_psi"),
    ("supply", "exponent"),
    ("supply", "level_ft"),
    ("supply", "pump"),
    ("supply", "pump", "points"),
    ("supply", "pump", "points", 0, "boost_psi"),
    ("nodes",),
    ("nodes", 1),
    ("nodes", 1, "elevation_ft"),
    ("nodes", 2, "heads"),
    ("nodes", 2, "heads", 0, "k_gpm"),
    ("nodes", 2, "heads", 0, "exponent"),
    ("nodes", 2, "heads", 0, "least_psi"),
    ("links",),
    ("links", 0),
    ("links", 0, "cv_gpm"),
    ("links", 1, "length_ft"),
    ("links", 1, "to"),
]


@given(st.sampled_from(PATHS), anything)
@examples(400)
def test_any_document_is_solved_or_refused(path: tuple[str | int, ...], value: object) -> None:
    base = changed(("supply", "pump"), pump(12, 3)) if "pump" in path[:-1] else GOOD
    found, said = solved(changed(path, value, base))
    assert len(said.splitlines()) <= 1
    if found.get("converged"):
        json.dumps(found, allow_nan=False)


def solved(document: dict[str, Any]) -> tuple[dict[str, Any], str]:
    """The answer, or nothing and why it was refused."""
    try:
        return solve_case(document), ""
    except NetworkError as why:
        return {}, str(why)


@pytest.mark.parametrize(
    ("kind", "parts"),
    [
        ("device", {"points": [{"flow_gpm": 0, "loss_psi": 4}, {"flow_gpm": 20, "loss_psi": 5}]}),
        ("valve", {"loss_psi": 15, "at_gpm": 30}),
        ("regulator", {"set_psi": 30}),
        ("pipe", {"length_ft": 1, "bore_in": 1, "c": 140, "fittings_k": 2, "fittings_ft": 3}),
    ],
)
def test_every_kind_of_link_is_in_the_schema(kind: str, parts: dict[str, object]) -> None:
    link = {"name": "v", "from": "street", "to": "a", "kind": kind, **parts}
    document = changed(("links", 0), link)
    jsonschema.validate(document, network_schema())
    assert solve_case(document)["converged"]
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(changed(("links", 0), {**link, "more": 1}), network_schema())


def test_a_tank_with_a_pump_is_as_the_street_of_the_same_pressure() -> None:
    points = [{"flow_gpm": 20, "boost_ft": 60}]
    raised = changed(("nodes", 0, "elevation_ft"), 3)
    tank = changed(("supply",), {"node": "street", "level_ft": 23}, raised)
    tank["supply"]["pump"] = {"shut_off_ft": 90, "points": points}
    street = changed(("supply",), {"node": "street", "static_psi": 20 * 0.433}, raised)
    in_psi = [{"flow_gpm": 20, "boost_psi": 60 * 0.433}]
    street["supply"]["pump"] = {"shut_off_psi": 90 * 0.433, "points": in_psi}
    for document in (tank, street):
        jsonschema.validate(document, network_schema())
    found = solve_case(tank)
    assert found == solve_case(street)
    assert found["converged"]
    assert not found["outside_pump_curve"]
    gone = (90 - 60) * 0.433 * found["supply_gpm"] / 20
    assert found["source_psi"] == pytest.approx(20 * 0.433 + 90 * 0.433 - gone)


def test_a_compensating_head_says_when_it_is_outside_its_range() -> None:
    drip = {"name": "drip", "nozzle_gpm": 0.2, "exponent": 0, "least_psi": 10, "most_psi": 30}
    document = changed(("nodes", 2, "heads"), [drip])
    jsonschema.validate(document, network_schema())
    head = solve_case(document)["heads"][1]
    assert (head["flow_gpm"], head["state"], head["outside_range"]) == (0.2, "regulated", True)
    calmer = changed(("supply",), {"node": "street", "static_psi": 28}, document)
    assert not solve_case(calmer)["heads"][1]["outside_range"]


def test_two_assemblies_side_by_side_are_in_the_answer() -> None:
    table = [{"flow_gpm": 0, "loss_psi": 5}, {"flow_gpm": 20, "loss_psi": 9}]
    stiff = [{"flow_gpm": 0, "loss_psi": 30}]
    first = {"name": "v", "from": "street", "to": "a", "kind": "device", "points": table}
    second = {**first, "name": "w", "points": stiff}
    document = changed(("links", 0), first)
    document["links"].append(second)
    jsonschema.validate(document, network_schema())
    found = solve_case(document)
    assert found["converged"]
    states = {link["name"]: (link["state"], link["flow_gpm"]) for link in found["links"]}
    assert states["v"] == ("open", pytest.approx(found["supply_gpm"]))
    assert states["w"] == ("shut", 0.0)
