"""Read a bundle as if a stranger had written it: with limits, checked by hash, all or nothing.

`bundle_writer.py` describes the format.
"""

from __future__ import annotations

import base64
import binascii
import hashlib
import json
import os
import zlib
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, BinaryIO

from fieldbook.store.attached import LARGEST_ATTACHED, is_hash
from fieldbook.store.disk import new_private
from fieldbook.store.errors import BookError
from fieldbook.store.exchange.bundle_writer import KEY, VERSION
from fieldbook.store.journal.entry import Entry, EntryError, from_dict
from fieldbook.store.seals.seal import Seal, SealError, from_plain

LARGEST_BUNDLE = 1 << 31
LARGEST_ENTRIES = 1 << 30
"""Bytes of entries when unpacked; they are held in memory, unlike attached files."""
MOST_ATTACHED = 20_000
LONGEST_LINE = 1 << 20
LARGEST_RATIO = 60
"""Unpacked bytes for each packed byte; a file made to fill the disk has a thousand."""
_RATIO_FROM = 1 << 20
"""The ratio is checked from so many unpacked bytes on: a short file may well compress more."""
_READ_BYTES = 1 << 16
_LONGEST_NAME = 60
_AGAIN = "have it written again on the other laptop"
PathForFile = Callable[[str], Path]
"""Where to put the attached file with a hash."""


class BundleError(BookError):
    """A bundle is not accepted; the sentence says why, and that nothing was changed."""


class _Refusal(Exception):  # noqa: N818
    """Why a bundle is not accepted, in a few words, and how to mend it."""

    def __init__(self, reason: str, mend: str = _AGAIN) -> None:
        super().__init__(reason)
        self.mend = mend


@dataclass
class Bundle:
    """The entries of a bundle with their seals, none of which was looked at yet.

    `files` has by hash the path that each attached file was put at.
    """

    entries: list[Entry] = field(default_factory=list)
    seals: list[Seal] = field(default_factory=list)
    files: dict[str, Path] = field(default_factory=dict)


def read_bundle(path: Path, path_for: PathForFile | None = None) -> Bundle:
    """Read a whole bundle; without `path_for` its attached files are passed over.

    Raises BundleError; the attached files that were put somewhere are then deleted.
    """
    bundle = Bundle()
    try:
        if path.stat().st_size > LARGEST_BUNDLE:
            raise _Refusal(f"it is larger than {LARGEST_BUNDLE >> 30} GB")
        with path.open("rb") as source:
            _read(_Lines(_unpack(source)), bundle, path_for)
    except (OSError, _Refusal) as why:
        for file in bundle.files.values():
            file.unlink(missing_ok=True)
        if isinstance(why, OSError):
            raise BundleError(f"{shown(path)} can't be read ({why.strerror or why}).") from why
        sentence = f"{shown(path)} is refused: {why}. Nothing was changed: {why.mend}."
        raise BundleError(sentence) from why
    return bundle


def shown(path: Path) -> Path:
    """A path for a sentence: of a bundle's long name in a folder only its origin and number."""
    return path if len(path.name) <= _LONGEST_NAME else path.with_name(f"{path.name[:47]}...")


def _unpack(source: BinaryIO) -> Iterator[bytes]:
    """The lines of a gzipped file, unpacked no further than the limits allow."""
    unpacker = zlib.decompressobj(wbits=31)
    packed = unpacked = 0
    rest = b""
    while not unpacker.eof and (chunk := source.read(_READ_BYTES)):
        packed += len(chunk)
        while chunk and not unpacker.eof:
            try:
                data = unpacker.decompress(chunk, _READ_BYTES)
            except zlib.error as why:
                raise _Refusal("it is damaged, or no file of fieldbook") from why
            unpacked += len(data)
            if unpacked > _RATIO_FROM and unpacked > packed * LARGEST_RATIO:
                raise _Refusal("it unpacks to far more than its size")
            *lines, rest = (rest + data).split(b"\n")
            if len(rest) > LONGEST_LINE:
                raise _Refusal("a line in it is too long")
            yield from lines
            chunk = unpacker.unconsumed_tail
    if not unpacker.eof or rest:
        raise _Refusal("it is cut short")
    if unpacker.unused_data or source.read(1):
        raise _Refusal("there is more after its end")


class _Lines:
    """The lines of a bundle as JSON objects. `digest` is the hash of those before the last read."""

    def __init__(self, lines: Iterator[bytes]) -> None:
        self._lines, self._hash = lines, hashlib.sha256()
        self.digest, self.bytes_read = "", 0

    def next(self) -> dict[str, Any]:
        """The next line. Raises _Refusal where there is none or it is no object."""
        line = next(self._lines, None)
        if line is None:
            raise _Refusal("it is cut short")
        self.digest = self._hash.hexdigest()
        self._hash.update(line + b"\n")
        self.bytes_read += len(line)
        try:
            content = json.loads(line)
        except (ValueError, RecursionError) as why:
            raise _Refusal("a line in it is not JSON") from why
        if not isinstance(content, dict):
            raise _Refusal("a line in it is not a JSON object")
        return content

    def check_end(self) -> None:
        """Raise _Refusal if there is another line."""
        if next(self._lines, None) is not None:
            raise _Refusal("there is more after its end")


def _read(lines: _Lines, bundle: Bundle, path_for: PathForFile | None) -> None:
    """Read a whole bundle. Raises OSError or _Refusal."""
    first = lines.next()
    count, hashes = _read_first(first)
    bundle.seals = list(_read_seals(first.get("seals")))
    for number in range(1, count + 1):
        content = lines.next()
        if lines.bytes_read > LARGEST_ENTRIES:
            raise _Refusal("its entries are larger than 1 GB")
        if "end" in content or "file" in content:
            raise _Refusal("it holds fewer entries than its first line says")
        try:
            bundle.entries.append(from_dict(content))
        except EntryError as why:
            raise _Refusal(f"entry {number} is not valid, {why}") from why
    content = lines.next()
    for sha256 in sorted(hashes):
        path = None if path_for is None else path_for(sha256)
        if path is not None:
            bundle.files[sha256] = path
        content = _read_file(lines, content, sha256, path or Path(os.devnull))
    if "end" not in content:
        raise _Refusal("it holds more than its first line says")
    if content != {"end": lines.digest}:
        raise _Refusal("it was changed: its last line is not the hash of the others")
    lines.check_end()


def _read_first(content: Mapping[str, Any]) -> tuple[int, set[str]]:
    """The number of entries and the hashes of the attached files that the first line gives."""
    if KEY not in content:
        raise _Refusal("it is no file of fieldbook's entries", "name another file")
    if content[KEY] != VERSION:
        raise _Refusal("a newer fieldbook wrote it", "update fieldbook here")
    files, count = content.get("files"), content.get("entries")
    if type(count) is not int or not isinstance(files, list):
        raise _Refusal("its first line can't be read")
    if len(files) > MOST_ATTACHED or not all(map(is_hash, files)):
        raise _Refusal("it names attached files by no valid hash")
    return count, set(files)


def _read_seals(listed: object) -> Iterator[Seal]:
    """The seals in the first line; those that this fieldbook can't read prove nothing to it."""
    for raw in listed if isinstance(listed, list) else ():
        with suppress(SealError):
            yield from_plain(raw)


def _read_file(lines: _Lines, content: dict[str, Any], sha256: str, path: Path) -> dict[str, Any]:
    """Write an attached file, of which `content` is the first part; returns the line after it."""
    digest, size = hashlib.sha256(), 0
    with new_private(path) as out:
        while content.get("file") == sha256:
            try:
                data = base64.b64decode(str(content.get("data")), validate=True)
            except (binascii.Error, ValueError) as why:
                raise _Refusal("an attached file in it can't be read") from why
            size += len(data)
            if size > LARGEST_ATTACHED:
                raise _Refusal("an attached file in it is larger than 200 MB")
            digest.update(data)
            out.write(data)
            content = lines.next()
    if digest.hexdigest() != sha256:
        raise _Refusal("an attached file in it is missing or was changed")
    return content
