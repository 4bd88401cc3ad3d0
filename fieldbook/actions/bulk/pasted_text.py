"""Read a table that was copied from a spreadsheet: lines of values between tabs, ; or ,."""

from __future__ import annotations

import csv
import io

from fieldbook.actions.refused import RefusedError
from fieldbook.records.printable import printable

MOST_LINES = 500
MOST_CHARACTERS = 200_000
_SEPARATORS = ("\t", ";", ",")


def is_table(text: str) -> bool:
    """Whether pasted text is more than one value: it has a tab, or more than one line."""
    return "\t" in text.strip("\r\n") or len(text.strip().splitlines()) > 1


def read_table(text: str) -> list[list[str]]:
    """The values of a pasted table, line by line, without blank lines at its ends.

    Values may be in double quotes, as spreadsheets write those with a separator in them. Raises
    RefusedError where the table is larger than anybody enters on one property.
    """
    if len(text) > MOST_CHARACTERS:
        raise RefusedError("That is too much to paste at once: paste at most 500 lines.")
    text = text.replace("\r\n", "\n").replace("\r", "\n").strip("\n")
    lines = [line for line in text.split("\n") if line.strip()]
    separator = next((sign for sign in _SEPARATORS if _separates(sign, lines)), None)
    if separator is None:
        found = [[line] for line in text.split("\n")]
    # A lone quote, such as that of 6", is an inch mark and encloses nothing.
    elif _is_quoted(text, separator):
        found = list(csv.reader(io.StringIO(text), delimiter=separator))
    else:
        found = [line.split(separator) for line in text.split("\n")]
    if len(found) > MOST_LINES:
        raise RefusedError(f"That is {len(found)} lines: paste at most {MOST_LINES} at once.")
    return [[printable(value).strip() for value in line] for line in found]


def _separates(sign: str, lines: list[str]) -> bool:
    """Whether a sign stands between values: a tab anywhere does, the others in every line alike."""
    if sign == "\t":
        return any(sign in line for line in lines)
    counts = {line.count(sign) for line in lines}
    return len(counts) == 1 and counts != {0}


def _is_quoted(text: str, separator: str) -> bool:
    """Whether values are in double quotes: one begins with a quote, and the quotes are in pairs."""
    begun = text.startswith('"') or f'{separator}"' in text or '\n"' in text
    return begun and text.count('"') % 2 == 0
