"""The JSON Schema of a network document; `document` reads what it describes."""

from __future__ import annotations

from typing import Any

from fieldbook.water.network import LAWS

Schema = dict[str, Any]


def network_schema() -> Schema:
    """JSON Schema (draft 2020-12) of the document that `solve_case` takes."""
    node = _object(
        {
            "name": _WORD,
            "elevation_ft": {"type": "number"},
            "heads": {"type": "array", "items": _head()},
        },
        "name",
    )
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "fieldbook network document",
        "description": "A water network to solve. The unit is in every key.",
        **_object(
            {
                "law": {"enum": list(LAWS)},
                "water_deg_f": {"type": "number", "minimum": 32, "maximum": 212},
                "supply": _supply(),
                "nodes": {"type": "array", "items": node, "minItems": 1},
                "links": {"type": "array", "items": {"oneOf": _links()}},
            },
            "supply",
            "nodes",
            "links",
        ),
    }


_WORD: Schema = {"type": "string", "minLength": 1, "maxLength": 80}
_POSITIVE: Schema = {"type": "number", "exclusiveMinimum": 0}
_NOT_NEGATIVE: Schema = {"type": "number", "minimum": 0}


def _object(properties: Schema, *required: str) -> Schema:
    return {
        "type": "object",
        "properties": properties,
        "required": list(required),
        "additionalProperties": False,
    }


def _supply() -> Schema:
    street = {
        "node": _WORD,
        # Below zero is suction, which only a pump overcomes.
        "static_psi": {"type": "number", "minimum": -14.7},
        "residual_psi": {"type": ["number", "null"], "minimum": 0},
        "test_gpm": {"type": ["number", "null"], "exclusiveMinimum": 0},
        "exponent": {"type": "number", "minimum": 1, "maximum": 3},
        "pump": _pump(),
    }
    tank = {"node": _WORD, "level_ft": {"type": "number"}, "pump": _pump()}
    return {"oneOf": [_object(street, "node", "static_psi"), _object(tank, "node", "level_ft")]}


def _pump() -> Schema:
    """A pump's curve in psi or in feet of water, or null for no pump."""
    found: list[Schema] = [{"type": "null"}]
    for unit in ("psi", "ft"):
        shut_off, boost = f"shut_off_{unit}", f"boost_{unit}"
        point = _object({"flow_gpm": _POSITIVE, boost: _NOT_NEGATIVE}, "flow_gpm", boost)
        points = {"type": "array", "items": point, "minItems": 1}
        found.append(_object({shut_off: _POSITIVE, "points": points}, shut_off, "points"))
    return {"oneOf": found}


def _head() -> Schema:
    maybe = {"type": ["number", "null"], "exclusiveMinimum": 0}
    shared = {"name": _WORD, "least_psi": maybe, "most_psi": maybe}
    law = {"exponent": {"type": "number", "minimum": 0, "maximum": 1}, "regulated_psi": maybe}
    rated = {**shared, **law, "nozzle_gpm": _POSITIVE, "rated_psi": _POSITIVE}
    by_k = {**shared, **law, "k_gpm": _POSITIVE}
    compensating = {
        **shared,
        "exponent": {"const": 0},
        "least_psi": _POSITIVE,
        "nozzle_gpm": _POSITIVE,
    }
    return {
        "oneOf": [
            _object(rated, "name", "nozzle_gpm", "rated_psi"),
            _object(by_k, "name", "k_gpm"),
            _object(compensating, "name", "nozzle_gpm", "exponent", "least_psi"),
        ]
    }


def _links() -> list[Schema]:
    point = _object({"flow_gpm": _NOT_NEGATIVE, "loss_psi": _NOT_NEGATIVE}, "flow_gpm", "loss_psi")
    pipe = {"length_ft": _NOT_NEGATIVE, "bore_in": _POSITIVE, "c": _POSITIVE}
    fittings = dict.fromkeys(("fittings_ft", "fittings_k", "fittings_part"), _NOT_NEGATIVE)
    return [
        _link("pipe", {**pipe, "roughness_ft": _NOT_NEGATIVE, **fittings}, "length_ft", "bore_in"),
        _link("device", {"points": {"type": "array", "items": point, "minItems": 1}}, "points"),
        _link("valve", {"cv_gpm": _POSITIVE}, "cv_gpm"),
        _link("valve", {"loss_psi": _POSITIVE, "at_gpm": _POSITIVE}, "loss_psi", "at_gpm"),
        _link("regulator", {"set_psi": _POSITIVE}, "set_psi"),
    ]


def _link(kind: str, properties: Schema, *required: str) -> Schema:
    ends = {"name": _WORD, "from": _WORD, "to": _WORD, "kind": {"const": kind}}
    return _object({**ends, **properties}, "name", "from", "to", "kind", *required)
