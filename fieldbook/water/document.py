"""A network as a plain document, solved to a plain document: the solver without a job.

    {"law": "hazen-williams",                       or "darcy-weisbach"
     "water_deg_f": 60,
     "supply": {"node": "street", "static_psi": 60,
                "residual_psi": 48, "test_gpm": 10, "exponent": 1.852,
                "pump": {"shut_off_psi": 40,
                         "points": [{"flow_gpm": 15, "boost_psi": 30}, ...]}},
     "nodes": [{"name": "street", "elevation_ft": 0},
               {"name": "n1", "elevation_ft": 6,
                "heads": [{"name": "h1", "nozzle_gpm": 2, "rated_psi": 30,
                           "regulated_psi": 30},
                          {"name": "drip", "nozzle_gpm": 0.1, "exponent": 0,
                           "least_psi": 10, "most_psi": 45}]}],
     "links": [{"name": "p1", "from": "street", "to": "n1", "kind": "pipe",
                "length_ft": 80, "bore_in": 1.049, "c": 150, "roughness_ft": 5e-6,
                "fittings_ft": 0, "fittings_k": 0, "fittings_part": 0.1},
               {"kind": "device", "points": [{"flow_gpm": 0, "loss_psi": 4}, ...], ...},
               {"kind": "valve", "cv_gpm": 8, ...}     or "loss_psi" at "at_gpm",
               {"kind": "regulator", "set_psi": 30, ...}]}

The unit is in every key; `c`, `exponent`, `fittings_k` and `fittings_part` (0.1 is 10 % of the
pipe's own loss) have none, and `cv_gpm` is the flow that loses 1 psi. A head has `nozzle_gpm` at
`rated_psi`, or `k_gpm`, its flow at 1 psi; `exponent` is 0.5 unless given, and 0 for a pressure
compensating head, which gives its flow from `least_psi` on. In place of `static_psi` and a flow
test a tank has `level_ft`, the elevation of its water. A pump adds its curve to either; it may be
in `shut_off_ft` and `boost_ft`. A link that closes a loop may be a device with a rising table.

The answer has `converged`, `residual_psi`, `supply_gpm`, `source_psi`, `outside_pump_curve`, and
the lists `heads` (with `outside_range`, by `least_psi` and `most_psi`), `links` and `nodes`.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from fieldbook.units import PSI_PER_FT
from fieldbook.water.friction import FLOW_EXPONENT
from fieldbook.water.network import (
    LAWS,
    Device,
    Head,
    Kind,
    Link,
    Network,
    NetworkError,
    Node,
    Pipe,
    Regulator,
    Supply,
    Valve,
)
from fieldbook.water.solution import Solution
from fieldbook.water.solver import solve

Document = Mapping[str, Any]
_TOP = {"law", "water_deg_f", "supply", "nodes", "links"}
_STREET = {"node", "static_psi", "residual_psi", "test_gpm", "exponent", "pump"}
_TANK = {"node", "level_ft", "pump"}
_HEAD = {"name", "regulated_psi", "exponent", "least_psi", "most_psi"}
_LINK = {"name", "from", "to", "kind"}
_KINDS = {
    "pipe": {
        "length_ft",
        "bore_in",
        "c",
        "roughness_ft",
        "fittings_ft",
        "fittings_k",
        "fittings_part",
    },
    "device": {"points"},
    "valve": {"cv_gpm", "loss_psi", "at_gpm"},
    "regulator": {"set_psi"},
}


def solve_case(document: Document) -> dict[str, Any]:
    """Solve a network document and answer with a document; `fieldbook.water.document` has both.

    Raises NetworkError, with one sentence that names the path in the document, the link or the
    head, for a document that can't be read or solved.
    """
    return _answer(solve(_read(document)))


def _read(document: Document) -> Network:
    """The network of a document. Raises NetworkError as `solve_case` does."""
    _keys("", _object("the document", document), _TOP)
    supply = _object("supply", document.get("supply"))
    nodes = tuple(_node(f"nodes[{number}]", node) for number, node in _list("nodes", document))
    law = document.get("law", "hazen-williams")
    if law not in LAWS:
        raise NetworkError(f"law takes one of {', '.join(LAWS)}.")
    return Network(
        _supply(supply, nodes),
        _word("supply", supply, "node"),
        nodes,
        tuple(_link(f"links[{number}]", link) for number, link in _list("links", document)),
        law,
        _number("", document, "water_deg_f", 60.0),
    )


def _supply(supply: Document, nodes: tuple[Node, ...]) -> Supply:
    pump = _pump(supply["pump"]) if supply.get("pump") is not None else ()
    if "level_ft" in supply:
        if "static_psi" in supply:
            raise NetworkError("supply takes static_psi or level_ft, not both.")
        _keys("supply", supply, _TANK)
        source = _word("supply", supply, "node")
        stands_ft = next((node.elevation_ft for node in nodes if node.name == source), 0.0)
        rise_ft = _number("supply", supply, "level_ft") - stands_ft
        return Supply(PSI_PER_FT * rise_ft, pump=pump)
    _keys("supply", supply, _STREET)
    return Supply(
        _number("supply", supply, "static_psi"),
        _maybe("supply", supply, "residual_psi"),
        _maybe("supply", supply, "test_gpm"),
        _number("supply", supply, "exponent", FLOW_EXPONENT),
        pump,
    )


def _pump(value: object) -> tuple[tuple[float, float], ...]:
    """The points of a pump's curve in gpm and psi, the shut-off first."""
    path, pump = "supply.pump", _object("supply.pump", value)
    shut_off, boost, psi = "shut_off_psi", "boost_psi", 1.0
    if "shut_off_ft" in pump:
        shut_off, boost, psi = "shut_off_ft", "boost_ft", PSI_PER_FT
    _keys(path, pump, {shut_off, "points"})
    points = [(0.0, psi * _number(path, pump, shut_off))]
    for at, point in _points(path, pump, boost):
        points.append((_number(at, point, "flow_gpm"), psi * _number(at, point, boost)))
    if len(points) < 2:
        raise NetworkError(f"{path}.points must hold at least one point beside the shut-off.")
    return tuple(points)


def _points(path: str, parent: Document, pressure: str) -> list[tuple[str, Document]]:
    """The points of a curve, each with its path: `flow_gpm` and this key of a pressure."""
    found = []
    for number, value in _list("points", parent, path):
        at = f"{path}.points[{number}]"
        point = _object(at, value)
        _keys(at, point, {"flow_gpm", pressure})
        found.append((at, point))
    return found


def _answer(solution: Solution) -> dict[str, Any]:
    """A solution as a document."""
    return {
        "converged": solution.converged,
        "residual_psi": solution.residual_psi,
        "supply_gpm": solution.supply_gpm,
        "source_psi": solution.source_psi,
        "outside_pump_curve": solution.outside_pump_curve,
        "heads": [
            {
                "name": head.name,
                "node": head.node,
                "pressure_psi": head.psi,
                "flow_gpm": head.gpm,
                "state": head.state,
                "outside_range": head.outside,
            }
            for head in solution.heads.values()
        ],
        "links": [
            {
                "name": link.name,
                "flow_gpm": link.gpm,
                "loss_psi": link.loss_psi,
                "velocity_ft_s": link.ft_s,
                "state": link.state,
                "outside_table": link.outside,
            }
            for link in solution.links.values()
        ],
        "nodes": [{"name": name, "pressure_psi": psi} for name, psi in solution.node_psi.items()],
    }


def _node(path: str, value: object) -> Node:
    node = _object(path, value)
    _keys(path, node, {"name", "elevation_ft", "heads"})
    heads = tuple(
        _head(f"{path}.heads[{number}]", head) for number, head in _list("heads", node, path)
    )
    return Node(_word(path, node, "name"), _number(path, node, "elevation_ft", 0.0), heads)


def _head(path: str, value: object) -> Head:
    head = _object(path, value)
    by_k = "k_gpm" in head
    _keys(path, head, _HEAD | ({"k_gpm"} if by_k else {"nozzle_gpm", "rated_psi"}))
    name, regulated = _word(path, head, "name"), _maybe(path, head, "regulated_psi")
    exponent = _number(path, head, "exponent", 0.5)
    if by_k:
        found = Head(name, _number(path, head, "k_gpm"), regulated, exponent)
    else:
        nozzle = _number(path, head, "nozzle_gpm")
        # A compensating head gives the same flow at any pressure, so it needs no rated one.
        rated = _number(path, head, "rated_psi", None if exponent else 1.0)
        found = Head.rated(name, nozzle, rated, regulated, exponent)
    return found._replace(
        least_psi=_maybe(path, head, "least_psi"), most_psi=_maybe(path, head, "most_psi")
    )


def _link(path: str, value: object) -> Link:
    link = _object(path, value)
    kind = link.get("kind")
    if not isinstance(kind, str) or kind not in _KINDS:
        raise NetworkError(f"{path}.kind takes one of {', '.join(_KINDS)}.")
    _keys(path, link, _LINK | _KINDS[kind])
    name, start, end = (_word(path, link, key) for key in ("name", "from", "to"))
    return Link(name, start, end, _kind(path, kind, link))


def _kind(path: str, kind: str, link: Document) -> Kind:
    if kind == "pipe":
        return Pipe(
            _number(path, link, "length_ft"),
            _number(path, link, "bore_in"),
            _number(path, link, "c", 150.0),
            _number(path, link, "roughness_ft", 5e-6),
            _number(path, link, "fittings_ft", 0.0),
            _number(path, link, "fittings_k", 0.0),
            _number(path, link, "fittings_part", 0.0),
        )
    if kind == "device":
        return Device(
            tuple(
                (_number(at, point, "flow_gpm"), _number(at, point, "loss_psi"))
                for at, point in _points(path, link, "loss_psi")
            )
        )
    if kind == "regulator":
        return Regulator(_number(path, link, "set_psi"))
    if "cv_gpm" in link:
        return Valve(_number(path, link, "cv_gpm"))
    try:
        return Valve.rated(_number(path, link, "loss_psi"), _number(path, link, "at_gpm"))
    except NetworkError as error:
        raise NetworkError(f"{path}: {error}") from error


def _object(path: str, value: object) -> Document:
    if not isinstance(value, Mapping):
        raise NetworkError(f"{path} must be an object.")
    return value


def _list(key: str, parent: Document, path: str = "") -> list[tuple[int, object]]:
    """The values of a list with their numbers; none where the key is missing."""
    found = parent.get(key, [])
    if not isinstance(found, list | tuple):
        raise NetworkError(f"{path}{'.' if path else ''}{key} must be a list.")
    return list(enumerate(found))


def _keys(path: str, parent: Document, known: set[str]) -> None:
    """Refuse a key that the format does not have: a misspelled one would go unnoticed."""
    for key in parent:
        if key not in known:
            where = f"{path}.{key}" if path else str(key)
            # The key may be anything; the sentence may end up on a terminal.
            shown = "".join(char if char.isprintable() else "?" for char in where)[:80]
            raise NetworkError(f"{shown} is no part of a network document: remove it.")


def _word(path: str, parent: Document, key: str) -> str:
    found = parent.get(key)
    if not isinstance(found, str) or not found or not found.isprintable() or len(found) > 80:
        raise NetworkError(f"{path}.{key} must be a word of at most 80 characters.")
    return found


def _maybe(path: str, parent: Document, key: str) -> float | None:
    return None if parent.get(key) is None else _number(path, parent, key)


def _number(path: str, parent: Document, key: str, default: float | None = None) -> float:
    found = parent.get(key, default)
    where = f"{path}.{key}" if path else key
    if isinstance(found, bool) or not isinstance(found, int | float):
        raise NetworkError(f"{where} must be a number.")
    try:
        value = float(found)
    except OverflowError as error:
        raise NetworkError(f"{where} is too large a number.") from error
    if not math.isfinite(value):
        raise NetworkError(f"{where} must be a finite number.")
    return value
