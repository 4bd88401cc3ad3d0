"""Entries in a file: gzipped JSON lines, written whole or not at all.

The first line tells how many entries follow and which attached files, the last is the hash of all
lines before it. Nothing in a file names a path: an attached file is known by its hash alone.
"""

from __future__ import annotations

import base64
import gzip
import hashlib
import json
import os
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any, BinaryIO

from fieldbook.store.journal.entry import Entry, as_dict

KEY = "fieldbook entries"
VERSION = 1
_PART = 1 << 18


def write_bundle(path: Path, entries: Iterable[Entry], files: Mapping[str, Path]) -> Path:
    """Write a file beside `path` and rename it there; where it is.

    `files` are attached files by hash. "{sha256}" in the name becomes the hash of what was
    written. Raises OSError.
    """
    held = list(entries)
    part = path.with_name(f".{os.getpid()}.part")
    try:
        with part.open("wb") as out:
            told = _Hashed(out)
            with gzip.GzipFile("", "wb", 6, told, mtime=0) as packed:
                _write_lines(packed, held, files)
            out.flush()
            os.fsync(out.fileno())
        whole = path.with_name(path.name.replace("{sha256}", told.digest()))
        part.replace(whole)
    finally:
        part.unlink(missing_ok=True)
    return whole


class _Hashed:
    """A file that is hashed as it is written."""

    def __init__(self, out: BinaryIO) -> None:
        self._out, self._hash = out, hashlib.sha256()

    def write(self, told: bytes) -> int:
        self._hash.update(told)
        return self._out.write(told)

    def flush(self) -> None:
        self._out.flush()

    def digest(self) -> str:
        return self._hash.hexdigest()


def _write_lines(out: gzip.GzipFile, entries: list[Entry], files: Mapping[str, Path]) -> None:
    digest = hashlib.sha256()

    def line(held: Mapping[str, Any]) -> None:
        told = json.dumps(held, ensure_ascii=False, separators=(",", ":")).encode() + b"\n"
        digest.update(told)
        out.write(told)

    line({KEY: VERSION, "entries": len(entries), "files": sorted(files)})
    for entry in entries:
        line(as_dict(entry))
    for sha256 in sorted(files):
        with files[sha256].open("rb") as source:
            part = source.read(_PART)
            while part or source.tell() == 0:
                line({"file": sha256, "data": base64.b64encode(part).decode("ascii")})
                if not part:
                    break
                part = source.read(_PART)
    line({"end": digest.hexdigest()})
