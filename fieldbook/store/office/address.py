"""How an office is named. Light to import: a command looks at it before anything else is loaded."""

from __future__ import annotations

OFFICE_VARIABLE = "FIELDBOOK_OFFICE"
"""Holds the address of the office's database, so that its password is in no command."""
_SCHEMES = ("postgresql://", "postgres://")


def is_office(named: str) -> bool:
    """Whether a place to exchange with is an office's database rather than a folder."""
    return named.startswith(_SCHEMES)
