"""From bytes to a JSON object: checks size, encoding, depth, numbers and repeated keys."""

from __future__ import annotations

import json
from typing import Any, NoReturn

from fieldbook.records.printable import printable

LARGEST_BYTES = 5_000_000
_DEEPEST = 12
"""A job file has three levels, a network document a few more."""


class JobFileError(Exception):
    """A job file that can't be taken; one sentence that names the place inside it."""


def parse_json(raw: bytes) -> dict[str, Any]:
    """The JSON object in a file. Raises JobFileError with one sentence."""
    if len(raw) > LARGEST_BYTES:
        raise JobFileError(too_large(len(raw)))
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise JobFileError(
            f"The file is not UTF-8 text (byte {error.start}): save it as UTF-8."
        ) from error
    _refuse_depth(text)
    try:
        found = json.loads(text, object_pairs_hook=_object, parse_constant=_constant)
    except json.JSONDecodeError as error:
        at = f"line {error.lineno}, column {error.colno}"
        raise JobFileError(f"The file is not JSON at {at}: {error.msg.lower()}.") from error
    except (ValueError, RecursionError) as error:
        raise JobFileError("The file holds a number with too many digits to be one.") from error
    if not isinstance(found, dict):
        raise JobFileError("The file must hold one JSON object.")
    return found


def too_large(size: int) -> str:
    """Why a file of `size` bytes is not read."""
    most = LARGEST_BYTES // 1_000_000
    return f"The file is {size / 1e6:.0f} MB; a job file has at most {most} MB."


def short(value: object) -> str:
    """A value from a file, short enough and safe to put in a sentence."""
    if value == "":
        return "empty text"
    text = "".join(char if char.isprintable() else "?" for char in printable(str(value)))
    return text if len(text) <= 40 else text[:37] + "..."


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    held: dict[str, Any] = {}
    for key, value in pairs:
        if key in held:
            raise JobFileError(f"The key “{short(key)}” stands twice in one object: keep one.")
        held[key] = value
    return held


def _constant(word: str) -> NoReturn:
    raise JobFileError(f"The file holds {word}, which is no number: leave the value out.")


def _refuse_depth(text: str) -> None:
    """Refuse deep nesting before the JSON parser recurses into it.

    Brackets inside a text don't count, so texts and their escapes are followed too.
    """
    depth, inside, escaped = 0, False, False
    for char in text:
        if inside:
            if escaped:
                escaped = False
            elif char == "\\":
                escaped = True
            elif char == '"':
                inside = False
        elif char == '"':
            inside = True
        elif char in "[{":
            depth += 1
            if depth > _DEEPEST:
                raise JobFileError(f"The file nests deeper than {_DEEPEST} levels; no job does.")
        elif char in "]}":
            depth -= 1
