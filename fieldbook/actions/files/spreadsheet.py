"""Tables as CSV that a spreadsheet opens without running what is in them."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

_FORMULA = ("=", "+", "-", "@", "\t", "\r")
"""What begins with one of these, spreadsheets run as a formula (OWASP, CSV injection)."""


def csv_text(headers: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """A table as CSV (RFC 4180); text that a spreadsheet would run gets an apostrophe before it."""
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(map(_safe, headers))
    for row in rows:
        writer.writerow(map(_safe, row))
    return out.getvalue()


def _safe(value: object) -> object:
    """Numbers stay as they are: a minus before a number is no formula."""
    if value is None:
        return ""
    if isinstance(value, str) and value.startswith(_FORMULA):
        return f"'{value}"
    return value
