"""Whether the office can hold an entry; one that it can't stays here, and travels by folder."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterator

from fieldbook.records.values import printable
from fieldbook.store.journal.entry import FIELDS, LONGEST_TEXT, Entry
from fieldbook.store.office.office_tables import LONGEST_NAME, LONGEST_VALUE, MOST_DIGITS

_DIGITS = re.compile(f"[0-9]{{{MOST_DIGITS + 1}}}")


def fits_office(entry: Entry) -> bool:
    """Whether the office takes an entry: no control or half character, nothing beyond measure."""
    if any(is_hostile(part) for part in _words(entry)) or len(entry.value) > LONGEST_VALUE:
        return False
    named = (entry.origin, entry.job_id, entry.row_id, entry.table, entry.op)
    if max(map(len, named)) > LONGEST_NAME or _DIGITS.search(entry.value):
        return False
    held = json.loads(entry.value)
    inside = [*held, *held.values()] if isinstance(held, dict) else [held]
    return all(_holds(one) for one in inside)


def _words(entry: Entry) -> Iterator[str]:
    yield from (one for one in entry.parents if "\0" in one)
    for name in FIELDS:
        part = getattr(entry, name)
        if isinstance(part, str) and name != "value":
            yield part


def is_hostile(text: str) -> bool:
    """Whether the office refuses a text: it is too long, or a terminal would obey it."""
    return len(text) > LONGEST_TEXT or printable(text) != text


def _holds(value: object) -> bool:
    if isinstance(value, str):
        return _encodes(value)
    return not isinstance(value, float) or math.isfinite(value)


def _encodes(text: str) -> bool:
    try:
        text.encode()
    except UnicodeEncodeError:
        return False
    return "\0" not in text
