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


def changed(path: tuple[str | int, ...], value: object) -> dict[str, Any]:
    """The good document with one value changed, or removed where the value is None."""
    document = copy.deepcopy(GOOD)
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
    ("nodes",),
    ("nodes", 1),
    ("nodes", 1, "elevation_ft"),
    ("nodes", 2, "heads"),
    ("nodes", 2, "heads", 0, "k_gpm"),
    ("links",),
    ("links", 0),
    ("links", 0, "cv_gpm"),
    ("links", 1, "length_ft"),
    ("links", 1, "to"),
]


@given(st.sampled_from(PATHS), anything)
@examples(400)
def test_any_document_is_solved_or_refused(path: tuple[str | int, ...], value: object) -> None:
    document = changed(path, value)
    found, said = solved(document)
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
