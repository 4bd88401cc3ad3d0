"""Attached files that are missing or altered.

The files are beside the book, not in it, so the caller says what is on the disk.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from fieldbook.checks.finding import CellRef, Finding
from fieldbook.records.tables.attachments import Attachment


@dataclass(frozen=True)
class FileState:
    """An attached file on the disk: where it belongs, and in one word what is wrong with it.

    `wrong` is "missing", "altered", "unreadable" with the reason in brackets, or "" for nothing.
    """

    path: Path
    wrong: str = ""


FileStates = Mapping[str, FileState]
"""The states of attached files by hash; a file whose hash is not in it was not looked at."""


def check_files(attached: Iterable[Attachment], states: FileStates) -> Iterator[Finding]:
    """A flag for every attached file that is not as it was attached."""
    for file in attached:
        state = states.get(file.sha256)
        if state is not None and state.wrong:
            yield Finding(
                f"file {state.wrong.split()[0]}",
                "fix",
                f"The attached file {file.name} is {state.wrong} beside the book.",
                f"Put it back from a copy, or attach it again. It belongs at {state.path}.",
                CellRef("attachment", file.id, "note"),
            )
