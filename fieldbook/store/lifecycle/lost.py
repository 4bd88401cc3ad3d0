"""A book that is gone, empty or damaged beside its journal and backups: it can be made anew.

Such a book is never opened as a new empty one, whose backups would then push out the good ones.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from fieldbook.store.errors import DamagedBookError
from fieldbook.store.journal.text_journal import journal_folder
from fieldbook.store.sqlite.backup import backup_files, backup_folder

_MEND = "fieldbook rebuild --in-place makes it anew"
_FIRST_LINE_BYTES = 200
"""A text journal that holds an entry is longer than this; its first line alone is shorter."""


def what_is_beside(path: Path) -> str:
    """What a book could be made anew from, in words such as "2 backups"; empty for nothing."""
    return " and ".join(_beside(path))


def _beside(path: Path) -> Iterator[str]:
    with suppress(OSError):
        files = journal_folder(path).glob("*.jsonl")
        if any(file.stat().st_size > _FIRST_LINE_BYTES for file in files):
            yield "its text journal"
    copies = len([*backup_files(path), *backup_folder(path).glob("*.later.jsonl")])
    if copies:
        yield "1 backup" if copies == 1 else f"{copies} backups"


def refuse_lost(path: Path) -> None:
    """Raise DamagedBookError where the book is gone or empty, but was here once."""
    if path.exists() and path.stat().st_size > 0:
        return
    # What a power cut left of a book that was being made is emptied by SQLite on opening.
    there = what_is_beside(path)
    if there:
        what = "is empty" if path.exists() else "is gone"
        raise DamagedBookError(f"The book {path} {what}, but beside it {_are(there)}: {_MEND}.")


def damaged(path: Path, why: object) -> DamagedBookError | None:
    """The error for a book that SQLite can't read; None where nothing is beside it."""
    there = what_is_beside(path)
    if not there:
        return None
    return DamagedBookError(
        f"The book {path} is damaged ({why}); beside it {_are(there)}: {_MEND}."
    )


def _are(there: str) -> str:
    return f"{'is' if there in ('its text journal', '1 backup') else 'are'} {there}"
