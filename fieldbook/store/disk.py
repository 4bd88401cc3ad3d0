"""Files on any system's disk: binary, readable for their owner alone, whole or not at all.

Everything that holds the record is written through this module: the book's own files, exports,
papers, and what goes on a stick. Windows translates line ends unless a descriptor is binary, and
refuses to replace a file that another program is reading; a virus scanner does so for moments.
"""

from __future__ import annotations

import os
import re
import sys
import time
from contextlib import suppress
from pathlib import Path
from typing import BinaryIO

ON_WINDOWS = sys.platform == "win32"
_BINARY: int = getattr(os, "O_BINARY", 0)
"""Windows alone has this flag, and needs it."""
_OWNER_ALONE = 0o600
_PAUSES_S = (0.02, 0.05, 0.1, 0.2, 0.4)
"""Waits before a file is replaced once more; a scanner lets go of it within a second."""
_DEVICE = re.compile(r"(con|prn|aux|nul|conin\$|conout\$|(com|lpt)[0-9¹²³])( *\..*)?", re.I)
"""Names that Windows keeps for devices, with any ending (Microsoft, "Naming Files")."""
_REFUSED = re.compile(r'[<>:"|?*\x00-\x1f]|[ .]$')
"""What no name on Windows may hold; a colon would hide the content in a stream of another file."""


def open_private(path: Path, flags: int) -> int:
    """A descriptor of a file, which is made readable for its owner alone if it is not there.

    `flags` are those of os.open, such as os.O_WRONLY; O_CREAT is added. Raises OSError.
    """
    return os.open(path, flags | os.O_CREAT | _BINARY, _OWNER_ALONE)


def new_private(path: Path) -> BinaryIO:
    """An empty file to write to, readable for its owner alone; what was there before is removed.

    Raises OSError.
    """
    # Written anew rather than over: an older file would keep the mode that it has.
    path.unlink(missing_ok=True)
    return os.fdopen(open_private(path, os.O_WRONLY | os.O_EXCL), "wb")


def write_whole(path: Path, part: Path, content: bytes) -> None:
    """Write a file to `part`, sync it and give it its name. Raises OSError and leaves no part."""
    try:
        with new_private(part) as out:
            out.write(content)
            sync_file(out)
        replace(part, path)
    except OSError:
        with suppress(OSError):
            part.unlink()
        raise


def sync_file(out: BinaryIO) -> None:
    """Write what was written so far to the disk itself. Raises OSError."""
    out.flush()
    os.fsync(out.fileno())


def replace(part: Path, path: Path) -> None:
    """Give a finished file its name, in place of the file that has it. Raises OSError.

    Where another program holds the old file open, as Windows then refuses, it is tried for a while.
    """
    for pause in _PAUSES_S if ON_WINDOWS else ():
        try:
            part.replace(path)
        except PermissionError:
            time.sleep(pause)
        else:
            return
    try:
        part.replace(path)
    except PermissionError as why:
        if not ON_WINDOWS:
            raise
        raise PermissionError(why.errno, "another program has it open") from why


def sync_folder(folder: Path) -> None:
    """Write the names in a folder to the disk, where the system can open and sync a folder."""
    with suppress(OSError):
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)


def unusable_name(path: Path) -> str:
    """What is wrong with a name on this system, to follow the path in a sentence; "" if nothing."""
    if "\0" in str(path):
        return "has a character that no name may have"
    if ON_WINDOWS:
        if _DEVICE.fullmatch(path.name):
            return "has a name that Windows keeps for a device"
        if _REFUSED.search(path.name):
            return 'has a name that Windows refuses: leave out < > : " | ? * and a dot at its end'
    return ""
