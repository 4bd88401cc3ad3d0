"""Names of files that are made for a property, in letters that every system takes."""

from __future__ import annotations

import re
import unicodedata
from pathlib import Path

_LONGEST = 40
"""Characters of a property's address in a file name: long paths are refused by some systems."""
_RESERVED = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)", re.I)
"""Names that Windows keeps for devices, with any ending."""


def file_stem(address: str, what: str = "") -> str:
    """An address, and what the file shows, such as "14-alder-lane-zone-2"; never empty."""
    stem = _plain(address)[:_LONGEST].strip("-")
    if not stem or _RESERVED.fullmatch(stem):
        stem = f"property-{stem}".strip("-")
    return f"{stem}-{_plain(what)}" if what else stem


def documents_folder() -> Path:
    """Where a person looks for documents: the folder Documents, else the home folder."""
    documents = Path.home() / "Documents"
    return documents if documents.is_dir() else Path.home()


def _plain(words: str) -> str:
    """Words in ASCII letters and digits, with a hyphen between them."""
    ascii_only = unicodedata.normalize("NFKD", words).encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "-", ascii_only.lower()).strip("-")
