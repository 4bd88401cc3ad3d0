"""The firm's list of nozzles beside the book: nozzles.toml, else nozzles.csv; none is no fault."""

from __future__ import annotations

from pathlib import Path

from fieldbook.actions.refused import RefusedError
from fieldbook.trade.nozzle_list import (
    ListedNozzle,
    NozzleListError,
    read_csv,
    read_toml,
)

_READERS = (("nozzles.toml", read_toml), ("nozzles.csv", read_csv))
_LARGEST = 1_000_000


def nozzles_beside(book_path: Path) -> tuple[ListedNozzle, ...]:
    """The firm's nozzles, read anew; empty where there is no list.

    Raises RefusedError, which names the file, for a list that can't be read.
    """
    for name, read in _READERS:
        path = book_path.parent / name
        try:
            if not path.is_file():
                continue
            if path.stat().st_size > _LARGEST:
                raise RefusedError(f"{name} is larger than a list of nozzles can be.")
            return read(path.read_text("utf-8-sig"))
        except (OSError, UnicodeDecodeError) as error:
            raise RefusedError(f"{name} can't be read: {error}") from error
        except NozzleListError as error:
            raise RefusedError(f"{name}: {error}") from error
    return ()
