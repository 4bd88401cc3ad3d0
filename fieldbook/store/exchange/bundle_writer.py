"""Write a bundle: entries and attached files in one gzipped file of JSON lines.

The first line gives the version, the number of entries, the hashes of the attached files, and the
seals that prove who made the entries; an older fieldbook passes these over. Then
follow the entries, one a line, and the attached files in the order of their hashes, in parts of a
line each. The last line is the SHA-256 of all lines before it. No line holds a path: an attached
file is known by its hash alone.
"""

from __future__ import annotations

import base64
import gzip
import hashlib
import os
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from fieldbook.store.attached import hash_of
from fieldbook.store.disk import new_private, replace, sync_file
from fieldbook.store.journal.entry import Entry, as_dict, compact_json
from fieldbook.store.seals.seal import Seal, as_plain, size_of
from fieldbook.store.seals.seal_table import Stored

KEY = "fieldbook entries"
"""The key of the version in the first line; it marks a file as a bundle."""
VERSION = 1
_PART_BYTES = 1 << 18
ROOM_FOR_SEALS, _HASH_BYTES = 900_000, 70
"""Bytes of seals in the first line, and of a file's hash: no reader takes a line over 1 MiB."""


def write_bundle(
    path: Path, entries: Iterable[Entry], files: Mapping[str, Path], seals: Sequence[Seal] = ()
) -> Path:
    """Write a bundle to a temporary file beside `path` and rename it; returns its path.

    `files` are attached files by hash, `seals` those that prove who made the entries, as many as
    `fitting` gives. "{sha256}" in the name of `path` is replaced by the hash of the bundle. Raises
    OSError.
    """
    first: dict[str, Any] = {KEY: VERSION, "entries": 0, "files": sorted(files)}
    if seals:
        first["seals"] = [as_plain(seal) for seal in seals]
    listed = list(entries)
    first["entries"] = len(listed)
    part = path.with_name(f".{os.getpid()}.part")
    try:
        with new_private(part) as out:
            # Without a name and a time in its header the same entries make the same bundle.
            with gzip.GzipFile("", "wb", 6, out, mtime=0) as packed:
                _write_lines(packed, first, listed, files)
            sync_file(out)
        whole = path
        if "{sha256}" in path.name:
            whole = path.with_name(path.name.replace("{sha256}", hash_of(part)))
        replace(part, whole)
    finally:
        part.unlink(missing_ok=True)
    return whole


def fitting(seals: Sequence[Stored], files: int = 0) -> list[Stored]:
    """As many of the newest of these seals as one bundle takes beside so many attached files."""
    room, fit = ROOM_FOR_SEALS - files * _HASH_BYTES, list[Stored]()
    for stored in reversed(seals):
        room -= size_of(stored.seal)
        if room < 0:
            break
        fit.insert(0, stored)
    return fit


def _write_lines(
    out: gzip.GzipFile,
    first: Mapping[str, Any],
    entries: list[Entry],
    files: Mapping[str, Path],
) -> None:
    digest = hashlib.sha256()

    def write_line(content: Mapping[str, Any]) -> None:
        line = compact_json(content).encode() + b"\n"
        digest.update(line)
        out.write(line)

    write_line(first)
    for entry in entries:
        write_line(as_dict(entry))
    for sha256 in sorted(files):
        with files[sha256].open("rb") as source:
            part = source.read(_PART_BYTES)
            # An empty file has one empty part, or the reader would miss it.
            while part or source.tell() == 0:
                write_line({"file": sha256, "data": base64.b64encode(part).decode("ascii")})
                if not part:
                    break
                part = source.read(_PART_BYTES)
    write_line({"end": digest.hexdigest()})
