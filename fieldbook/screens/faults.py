"""What becomes of a fault of fieldbook's own: a report on disk, and a sentence for the crew."""

from __future__ import annotations

import os
import traceback
from datetime import datetime
from pathlib import Path

from fieldbook.store.disk import open_private
from fieldbook.store.paths import state_folder

FAULT_LOG = "fieldbook-fault.txt"
MOST_IN_A_ROW = 4
"""After so many faults with no key in between the app ends: it can't show even the board."""


class Faults:
    """Reports the faults of one run of the app."""

    def __init__(self, folder: Path | None) -> None:
        """`folder` is that of the book; None: the demo, which has the laptop's state folder."""
        self._folder = folder
        self._since_key = 0

    def key_pressed(self) -> None:
        """Count anew: the app still answers to keys."""
        self._since_key = 0

    @property
    def too_many(self) -> bool:
        """Whether fault follows fault, so that going back to the board doesn't help."""
        return self._since_key > MOST_IN_A_ROW

    def report(self, error: BaseException) -> str:
        """Add the traceback to the report; returns the sentence that says what happened."""
        self._since_key += 1
        # A worker's failure wraps the error that made it fail.
        cause = getattr(error, "error", None)
        cause = cause if isinstance(cause, BaseException) else error
        return (
            f"A fault of fieldbook's own stopped this ({type(cause).__name__}); every entry is "
            f"kept, and the report is in {self._written(cause)}."
        )

    def _written(self, error: BaseException) -> Path | str:
        folder = self._folder or state_folder()
        where = folder / FAULT_LOG
        lines = traceback.format_exception(error)
        try:
            folder.mkdir(parents=True, exist_ok=True, mode=0o700)
            out = open_private(where, os.O_WRONLY | os.O_APPEND)
            with os.fdopen(out, "a", encoding="utf-8", newline="\n") as file:
                file.write(f"{datetime.now().astimezone().isoformat()}\n{''.join(lines)}\n")
        except OSError:
            return f"no file: {folder} can't be written"
        return where
