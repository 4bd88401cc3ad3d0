"""The JSON Schema of a network document; `document` reads what it describes."""

from __future__ import annotations

from typing import Any

from fieldbook.water.network import LAWS

Schema = dict[str, Any]


def network_schema() -> Schema:
    """JSON Schema (draft 2020-12) of the document that `solve_case` takes."""
    supply = _object(
        {
            "node": _WORD,
            "static_psi": _NOT_NEGATIVE,
            "residual_psi": {"type": ["number", "null"], "minimum": 0},
            "test_gpm": {"type": ["number", "null"], "exclusiveMinimum": 0},
            "exponent": {"type": "number", "minimum": 1, "maximum": 3},
        },
        "node",
        "static_psi",
    )
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
                "supply": supply,
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


def _head() -> Schema:
    regulated = {"type": ["number", "null"], "exclusiveMinimum": 0}
    rated = {"name": _WORD, "nozzle_gpm": _POSITIVE, "rated_psi": _POSITIVE}
    return {
        "oneOf": [
            _object({**rated, "regulated_psi": regulated}, "name", "nozzle_gpm", "rated_psi"),
            _object(
                {"name": _WORD, "k_gpm": _POSITIVE, "regulated_psi": regulated}, "name", "k_gpm"
            ),
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
