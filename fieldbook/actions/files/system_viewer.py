"""Show a file or a folder in the viewer that the system has for it; never through a shell."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

from fieldbook.actions.refused import RefusedError


def show_outside(path: Path) -> None:
    """Show `path` in the system's viewer, and go on at once.

    Raises RefusedError where the path is gone, or there is no viewer.
    """
    if not path.exists():
        raise RefusedError(f"{path} is not there any more: write it again.")
    if sys.platform == "win32":
        _start_on_windows(path)
        return
    viewer = "open" if sys.platform == "darwin" else "xdg-open"
    program = shutil.which(viewer)
    if program is None:
        raise RefusedError(f"This system has no viewer ({viewer}): the file is {path}.")
    try:
        # A session of its own: the viewer stays when the terminal of the app is closed.
        subprocess.Popen(
            [program, str(path)],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        )
    except OSError as error:
        raise RefusedError(f"{viewer} can't be started ({error.strerror}): open {path}.") from error


def _start_on_windows(path: Path) -> None:
    """Start what Windows has for this kind of file."""
    if sys.platform == "win32":
        try:
            os.startfile(path)
        except OSError as error:
            raise RefusedError(f"Windows has no viewer for {path}: open it by hand.") from error
