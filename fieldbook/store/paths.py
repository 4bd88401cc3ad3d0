"""Where the book is, and whether a place to exchange with is an office.

This module imports almost nothing, because the first screen and the commands name the book and the
office before anything larger is loaded.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path

import platformdirs

BOOK_NAME = "fieldbook.sqlite"
BOOK_VARIABLE = "FIELDBOOK_BOOK"
STATE_VARIABLE = "FIELDBOOK_STATE"
OFFICE_VARIABLE = "FIELDBOOK_OFFICE"
"""Holds the address of the office's database, so that no command line shows its password."""
_OFFICE_SCHEMES = ("postgresql://", "postgres://")


def book_path(chosen: str | None = None, environ: Mapping[str, str] | None = None) -> Path:
    """The book chosen by option, else by FIELDBOOK_BOOK, else the one in the data folder."""
    named = chosen or (os.environ if environ is None else environ).get(BOOK_VARIABLE)
    path = Path(named).expanduser() if named else None
    path = path or platformdirs.user_data_path("fieldbook") / BOOK_NAME
    # A link is followed once: journal, backups and lock then lie beside the book itself.
    return path.resolve() if path.is_symlink() else path


def is_office(place: str) -> bool:
    """Whether a place to exchange with is an office's database rather than a folder."""
    return place.startswith(_OFFICE_SCHEMES)


def state_folder(environ: Mapping[str, str] | None = None) -> Path:
    """The folder in which this laptop keeps the tokens of its books, and reports of faults."""
    chosen = (os.environ if environ is None else environ).get(STATE_VARIABLE)
    return Path(chosen).expanduser() if chosen else platformdirs.user_state_path("fieldbook")
