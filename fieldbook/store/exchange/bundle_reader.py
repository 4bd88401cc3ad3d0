"""Read a file of entries as if a stranger had written it: limits, hashes, nothing half taken."""

from __future__ import annotations

import base64
import binascii
import hashlib
import json
import zlib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, BinaryIO

from fieldbook.store.errors import BookError
from fieldbook.store.exchange.bundle_writer import KEY, VERSION
from fieldbook.store.journal.entry import Entry, EntryError, from_dict
from fieldbook.store.sqlite.hashes import LARGEST_ATTACHED, is_hash

LARGEST_FILE = 1 << 31
LARGEST_ENTRIES = 1 << 30
"""Bytes of entries once unpacked; attached files go to the disk as they come."""
MOST_ATTACHED = 20_000
LONGEST_LINE = 1 << 20
LARGEST_RATIO = 60
_FREE = 1 << 20
"""So many bytes may be unpacked before the ratio is looked at."""
_READ = 1 << 16
_CUT = "it is cut short: have it written again"
Place = Callable[[str], Path]
"""Where the attached file of a hash is put."""


class BundleError(BookError):
    """A file of entries that is refused; the sentence says why, and that nothing was changed."""


class _Refused(Exception):  # noqa: N818
    """Why a file is refused, in a few words."""


@dataclass
class Bundle:
    """What a file holds: its entries, and its attached files, each where it was put."""

    entries: list[Entry] = field(default_factory=list)
    files: dict[str, Path] = field(default_factory=dict)


def read_bundle(path: Path, place: Place | None = None) -> Bundle:
    """Read a file whole; raises BundleError, and whatever was put is gone then.

    Without `place` attached files are passed over.
    """
    reader = _Reader(place)
    try:
        if path.stat().st_size > LARGEST_FILE:
            raise _Refused(f"it is larger than {LARGEST_FILE >> 30} GB")
        with path.open("rb") as source:
            reader.read(_lines(source))
    except OSError as why:
        reader.forget()
        raise BundleError(f"{path} can't be read ({why.strerror or why}).") from why
    except _Refused as why:
        reader.forget()
        raise BundleError(f"{path} is refused: {why}. Nothing was changed.") from why
    return reader.bundle


def _lines(source: BinaryIO) -> Iterator[bytes]:
    """The lines of a gzipped file, unpacked no further than the limits allow."""
    unpacker = zlib.decompressobj(wbits=31)
    packed = unpacked = 0
    held = b""
    while not unpacker.eof and (chunk := source.read(_READ)):
        packed += len(chunk)
        while chunk and not unpacker.eof:
            try:
                told = unpacker.decompress(chunk, _READ)
            except zlib.error as why:
                raise _Refused("it is damaged, or no file of fieldbook") from why
            unpacked += len(told)
            if unpacked > _FREE and unpacked > packed * LARGEST_RATIO:
                raise _Refused("it unpacks to far more than it holds")
            *whole, held = (held + told).split(b"\n")
            if len(held) > LONGEST_LINE:
                raise _Refused("a line in it is too long")
            yield from whole
            chunk = unpacker.unconsumed_tail
    if not unpacker.eof or held:
        raise _Refused(_CUT)
    if unpacker.unused_data or source.read(1):
        raise _Refused("something follows its end")


class _Reader:
    """Reads the lines in their order, and puts attached files as they come."""

    def __init__(self, place: Place | None) -> None:
        self.bundle = Bundle()
        self._place = place
        self._digest = hashlib.sha256()
        self._count = self._bytes = 0
        self._left: list[str] = []
        self._file: tuple[str, BinaryIO | None] | None = None
        self._file_hash, self._file_size = hashlib.sha256(), 0

    def read(self, lines: Iterator[bytes]) -> None:
        """Read all of it. Raises OSError or _Refused."""
        self._head(self._object(next(lines, b"")))
        for line in lines:
            before = self._digest.hexdigest()
            told = self._object(line)
            if "end" in told:
                self._end(told, before)
                if next(lines, None) is not None:
                    raise _Refused("something follows its end")
                return
            if "file" in told:
                self._part(told)
            else:
                self._entry(told, len(line))
        raise _Refused(_CUT)

    def forget(self) -> None:
        """Take away the attached files that were put."""
        self._close()
        for file in self.bundle.files.values():
            file.unlink(missing_ok=True)

    def _object(self, line: bytes) -> dict[str, Any]:
        self._digest.update(line + b"\n")
        try:
            held = json.loads(line)
        except (ValueError, RecursionError) as why:
            raise _Refused("a line in it is no JSON") from why
        if not isinstance(held, dict):
            raise _Refused("a line in it is no object")
        return held

    def _head(self, head: Mapping[str, Any]) -> None:
        if KEY not in head:
            raise _Refused("it is no file of fieldbook's entries")
        if head[KEY] != VERSION:
            raise _Refused("it is of a newer kind: update fieldbook")
        files, count = head.get("files"), head.get("entries")
        if type(count) is not int or not isinstance(files, list):
            raise _Refused("its first line can't be read")
        if len(files) > MOST_ATTACHED or not all(map(is_hash, files)):
            raise _Refused("it names attached files that can't be")
        self._count, self._left = count, sorted(set(files), reverse=True)

    def _entry(self, told: Mapping[str, Any], length: int) -> None:
        self._bytes += length
        if self._bytes > LARGEST_ENTRIES or len(self.bundle.entries) >= self._count:
            raise _Refused("it holds more entries than it says")
        try:
            self.bundle.entries.append(from_dict(told))
        except EntryError as why:
            raise _Refused(f"entry {len(self.bundle.entries) + 1}: {why}") from why

    def _part(self, told: Mapping[str, Any]) -> None:
        """A part of an attached file: parts of one follow each other, files in their order."""
        sha256 = told["file"]
        if self._file is None or self._file[0] != sha256:
            self._close_whole()
            if not self._left or self._left.pop() != sha256:
                raise _Refused("an attached file in it is not the one it names")
            self._open(sha256)
        try:
            data = base64.b64decode(str(told.get("data")), validate=True)
        except (binascii.Error, ValueError) as why:
            raise _Refused("an attached file in it can't be read") from why
        self._file_size += len(data)
        if self._file_size > LARGEST_ATTACHED:
            raise _Refused("an attached file in it is larger than 200 MB")
        self._file_hash.update(data)
        if self._file is not None and self._file[1] is not None:
            self._file[1].write(data)

    def _open(self, sha256: str) -> None:
        self._file_hash, self._file_size = hashlib.sha256(), 0
        if self._place is None:
            self._file = sha256, None
            return
        place = self._place(sha256)
        self.bundle.files[sha256] = place
        self._file = sha256, place.open("wb")

    def _close_whole(self) -> None:
        """An attached file ends: it has to be what its hash says."""
        if self._file is not None and self._file_hash.hexdigest() != self._file[0]:
            raise _Refused("an attached file in it is not what its hash says")
        self._close()

    def _close(self) -> None:
        if self._file is not None and self._file[1] is not None:
            self._file[1].close()
        self._file = None

    def _end(self, told: Mapping[str, Any], before: str) -> None:
        self._close_whole()
        if told != {"end": before} or len(self.bundle.entries) != self._count or self._left:
            raise _Refused("it does not hold what its first line says")
