"""The file firm.toml beside the book: how papers name the installer.

[firm]
name = "Nadir and Holt, lawn sprinklers"
address = "3 Canal Yard"
phone = "555-0199"
licence = "LI 4471"
"""

from __future__ import annotations

import tomllib
from dataclasses import fields
from pathlib import Path

from fieldbook.actions.refused import RefusedError, read_file
from fieldbook.papers.blocks.paper_source import Firm
from fieldbook.records.printable import printable

FIRM_FILE = "firm.toml"
_NAMES = tuple(field.name for field in fields(Firm))


def read_firm(book_path: Path) -> Firm:
    """The firm that the file beside a book names; a firm without a name where there is no file.

    Raises RefusedError with one sentence for a file that can't be read as this says.
    """
    path = book_path.parent / FIRM_FILE
    if not path.exists():
        return Firm()
    try:
        firm = tomllib.loads(read_file(path).decode("utf-8")).get("firm")
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise RefusedError(f"{path} is not TOML ({error}): mend it, or move it away.") from error
    if not isinstance(firm, dict):
        raise RefusedError(f"{path} has no table [firm]: begin it with that line.")
    for name, value in firm.items():
        if name not in _NAMES or not isinstance(value, str):
            raise RefusedError(f'{path}: [firm] takes {", ".join(_NAMES)}, each as "text".')
    return Firm(**{name: printable(value).strip() for name, value in firm.items()})
