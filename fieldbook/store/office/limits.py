"""Which entries the office's database can hold. The others stay here, and travel by folder."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterator

from fieldbook.store.journal.entry import ADD, FIELDS, Entry, is_hostile
from fieldbook.store.office.door_sql import LONGEST_PARENTS, MOST_PARENTS
from fieldbook.store.office.office_tables import LONGEST_NAME, LONGEST_VALUE, MOST_DIGITS

_TOO_MANY_DIGITS = re.compile(f"[0-9]{{{MOST_DIGITS + 1}}}")


def fits_office(entry: Entry) -> bool:
    """Whether the office accepts an entry: the checks of `office_tables.py` and `door_sql.py`.

    PostgreSQL can hold neither the character NUL nor half a surrogate pair, in JSON not even
    escaped, and no number that is infinite to a double.
    """
    if any(is_hostile(text) for text in _texts(entry)) or len(entry.value) > LONGEST_VALUE:
        return False
    if len(entry.parents) > MOST_PARENTS or sum(map(len, entry.parents)) > LONGEST_PARENTS:
        return False
    names = (entry.origin, entry.job_id, entry.row_id, entry.table, entry.op)
    if max(map(len, names)) > LONGEST_NAME or _TOO_MANY_DIGITS.search(entry.value):
        return False
    # As pairs, because the office looks at every key, also at those that are equal.
    value = json.loads(entry.value, object_pairs_hook=list)
    parts = [part for pair in value for part in pair] if entry.op == ADD else [value]
    return all(_fits(part) for part in parts)


def _texts(entry: Entry) -> Iterator[str]:
    """The texts that must be free of control characters; in a parent's id only NUL matters."""
    yield from (parent for parent in entry.parents if "\0" in parent)
    for name in FIELDS:
        text = getattr(entry, name)
        if isinstance(text, str) and name != "value":
            yield text


def _fits(value: object) -> bool:
    if isinstance(value, str):
        return not any(char == "\0" or "\ud800" <= char <= "\udfff" for char in value)
    return not isinstance(value, list) and (not isinstance(value, float) or math.isfinite(value))
