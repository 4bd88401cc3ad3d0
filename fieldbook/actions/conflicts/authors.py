"""Who entered something, when, on which laptop, as a person reads it."""

from __future__ import annotations

from fieldbook.records.conflict import Version

THIS = "this laptop"


def laptop_word(origin: str, own: str) -> str:
    """This laptop, or another by the end of its origin."""
    return THIS if origin == own else f"laptop {origin[-6:]}"


def minute_of(wall: str) -> str:
    """A time to the minute, as the watch where it was entered showed it."""
    return wall.replace("T", " ")[:16]


def said_by(version: Version, own: str) -> str:
    """Such as "AB, 2026-05-04 08:12, this laptop"."""
    who = version.who or "another program"
    return f"{who}, {minute_of(version.wall)}, {laptop_word(version.origin, own)}"
