"""Where the book lives. Light to import: the first screen names the book before it is opened."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path

import platformdirs

BOOK_NAME = "fieldbook.sqlite"
BOOK_VARIABLE = "FIELDBOOK_BOOK"


def book_path(chosen: str | None = None, environ: Mapping[str, str] | None = None) -> Path:
    """The book chosen by option, else by FIELDBOOK_BOOK, else the one in the data folder."""
    named = chosen or (os.environ if environ is None else environ).get(BOOK_VARIABLE)
    if named:
        return Path(named).expanduser()
    return platformdirs.user_data_path("fieldbook") / BOOK_NAME
