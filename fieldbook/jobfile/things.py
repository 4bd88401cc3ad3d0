"""Things that rows of a job file name outside of links: what a photo shows, what a visit changed.

Such a thing may be gone from the record, so that its id is no link that must lead somewhere. It is
given the id that the thing has in the book, which in a copy of a property is another.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace

from fieldbook.jobfile.file_rows import FileRow
from fieldbook.jobfile.schema import columns_of
from fieldbook.records.loaded_job import TABLES
from fieldbook.records.tables.attachments import Attachment
from fieldbook.records.tables.visits import VisitChange

IdOf = Callable[[str], str]
"""Gives the book's id for an id of the file."""


def with_thing(row: FileRow, id_of: IdOf) -> FileRow:
    """The row with the book's ids of its thing, and of what that thing linked to."""
    if row.table not in (Attachment.table_name, VisitChange.table_name):
        return row
    values = dict(row.values)
    if values.get("of_row"):
        values["of_row"] = id_of(str(values["of_row"]))
    table, column = str(values.get("of_table")), str(values.get("of_column") or "")
    for name in ("was", "became"):
        if values.get(name) and table in TABLES:
            values[name] = _kept_links(str(values[name]), table, column, id_of)
    return replace(row, values=values)


def _kept_links(text: str, table: str, column: str, id_of: IdOf) -> str:
    """A value or a row that a change keeps as JSON, with the book's ids in its links."""
    try:
        kept = json.loads(text)
    except ValueError:
        return text
    links = {name for name, fact in columns_of(table).items() if fact.links_to}
    if isinstance(kept, dict):
        kept |= {
            name: id_of(value)
            for name, value in kept.items()
            if name in links and isinstance(value, str) and value
        }
    elif column in links and isinstance(kept, str) and kept:
        kept = id_of(kept)
    else:
        return text
    return json.dumps(kept, sort_keys=True, ensure_ascii=False)
