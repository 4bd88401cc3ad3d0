"""What a job file holds: its keys, its tables and columns, and the JSON Schema made of them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from fieldbook.records.base import facts_of
from fieldbook.records.fact import Fact
from fieldbook.records.loaded_job import FIELD_OF, RECORDS, TABLES

FORMAT = 1
FORMAT_KEY = "fieldbook"
JOB_KEY = "job"
TABLE_OF: Mapping[str, str] = {name: table for table, name in FIELD_OF.items()}
"""The table of each key of a job file but those of the format and the property itself."""
LONGEST_ID = 80
"""Most characters in an id of a file."""
Schema = dict[str, Any]


def columns_of(table: str) -> Mapping[str, Fact]:
    """The columns that a row of `table` ("job" too) has in a file, besides its id."""
    record = RECORDS.get(table)
    assert record is not None, table
    return {name: fact for name, fact in facts_of(record).items() if name != "job_id"}


def many(table: str) -> bool:
    """Whether a job has a list of these rows rather than at most one."""
    return table != JOB_KEY and not TABLES[table].once


def job_schema() -> Schema:
    """JSON Schema (draft 2020-12) of a job file."""
    properties: Schema = {
        FORMAT_KEY: {"const": FORMAT, "description": "Format of the file."},
        JOB_KEY: _row(JOB_KEY, required=("address",)),
    }
    for key, table in TABLE_OF.items():
        row = _row(table)
        properties[key] = {"type": "array", "items": row} if many(table) else row
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "fieldbook job file",
        "description": "One property's job record. Links are ids of rows in the same file.",
        "type": "object",
        "properties": properties,
        "required": [FORMAT_KEY, JOB_KEY],
        "additionalProperties": False,
    }


def _row(table: str, required: tuple[str, ...] = ()) -> Schema:
    properties: Schema = {
        "id": {
            "type": "string",
            "minLength": 1,
            "maxLength": LONGEST_ID,
            "description": "A UUID, or any word; rows that exist once need none.",
        }
    }
    for column, fact in columns_of(table).items():
        properties[column] = _column(fact)
    found: Schema = {"type": "object", "properties": properties, "additionalProperties": False}
    return {**found, "required": list(required)} if required else found


def _column(fact: Fact) -> Schema:
    words = f"{fact.label}. {fact.why}".strip()
    return {**_kind(fact), "description": words}


def _kind(fact: Fact) -> Schema:
    """What a column's value may be; null is the same as leaving it out."""
    if fact.kind == "amount" and fact.measure is not None:
        number = {"type": "number", "minimum": fact.low, "maximum": fact.high}
        text = {"type": "string", "pattern": "[^0-9.]", "maxLength": 60}
        said = f"A number is in {fact.measure.ours}; text carries its unit."
        return {"anyOf": [number, text, {"type": "null"}], "$comment": said}
    if fact.kind == "whole":
        return {"type": ["integer", "null"], "minimum": int(fact.low), "maximum": int(fact.high)}
    if fact.kind == "tick":
        return {"type": ["boolean", "null"]}
    if fact.kind == "choice":
        return {"enum": [*fact.choices, None]}
    return {"type": ["string", "null"], "maxLength": fact.longest}
