"""Read a bundle as if a stranger had written it: with limits, checked by hash, all or nothing.

`bundle_writer.py` describes the format.
"""

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

from fieldbook.store.attached import LARGEST_ATTACHED, is_hash
from fieldbook.store.errors import BookError
from fieldbook.store.exchange.bundle_writer import KEY, VERSION
from fieldbook.store.journal.entry import Entry, EntryError, from_dict

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
    """The entries of a bundle, and by hash the path that each attached file was put at."""

    entries: list[Entry] = field(default_factory=list)
    files: dict[str, Path] = field(default_factory=dict)


def read_bundle(path: Path, path_for: PathForFile | None = None) -> Bundle:
    """Read a whole bundle; without `path_for` its attached files are passed over.

    Raises BundleError; the attached files that were put somewhere are then deleted.
    """
    reader = _Reader(path_for)
    try:
        if path.stat().st_size > LARGEST_BUNDLE:
            raise _Refusal(f"it is larger than {LARGEST_BUNDLE >> 30} GB")
        with path.open("rb") as source:
            reader.read(_unpack(source))
    except OSError as why:
        reader.delete_files()
        raise BundleError(f"{shown(path)} can't be read ({why.strerror or why}).") from why
    except _Refusal as why:
        reader.delete_files()
        sentence = f"{shown(path)} is refused: {why}. Nothing was changed: {why.mend}."
        raise BundleError(sentence) from why
    return reader.bundle


def shown(path: Path) -> Path:
    """A path for a sentence: of the 121 characters of a bundle's name in a folder the first 47.

    They are its origin and number, which no other bundle has.
    """
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


class _Reader:
    """Reads lines in order, and writes attached files as their parts come."""

    def __init__(self, path_for: PathForFile | None) -> None:
        self.bundle = Bundle()
        self._path_for = path_for
        self._digest = hashlib.sha256()
        self._announced = self._entry_bytes = 0
        self._hashes_left: list[str] = []
        self._file: tuple[str, BinaryIO | None] | None = None
        self._file_hash, self._file_size = hashlib.sha256(), 0

    def read(self, lines: Iterator[bytes]) -> None:
        """Read all lines. Raises OSError or _Refusal."""
        self._read_first(self._parse(next(lines, b"")))
        for line in lines:
            digest = self._digest.hexdigest()
            content = self._parse(line)
            if "end" in content:
                self._read_end(content, digest)
                if next(lines, None) is not None:
                    raise _Refusal("there is more after its end")
                return
            if "file" in content:
                self._read_part(content)
            else:
                self._read_entry(content, len(line))
        raise _Refusal("it is cut short")

    def delete_files(self) -> None:
        """Delete the attached files that were written."""
        self._close_file()
        for path in self.bundle.files.values():
            path.unlink(missing_ok=True)

    def _parse(self, line: bytes) -> dict[str, Any]:
        self._digest.update(line + b"\n")
        try:
            content = json.loads(line)
        except (ValueError, RecursionError) as why:
            raise _Refusal("a line in it is not JSON") from why
        if not isinstance(content, dict):
            raise _Refusal("a line in it is not a JSON object")
        return content

    def _read_first(self, content: Mapping[str, Any]) -> None:
        if KEY not in content:
            raise _Refusal(
                "it is no file of fieldbook's entries", "name a file of fieldbook bundle"
            )
        if content[KEY] != VERSION:
            raise _Refusal("a newer fieldbook wrote it", "update fieldbook here")
        files, count = content.get("files"), content.get("entries")
        if type(count) is not int or not isinstance(files, list):
            raise _Refusal("its first line can't be read")
        if len(files) > MOST_ATTACHED or not all(map(is_hash, files)):
            raise _Refusal("it names attached files by no valid hash")
        self._announced, self._hashes_left = count, sorted(set(files), reverse=True)

    def _read_entry(self, content: Mapping[str, Any], length: int) -> None:
        entries = self.bundle.entries
        self._entry_bytes += length
        if self._entry_bytes > LARGEST_ENTRIES or len(entries) >= self._announced:
            raise _Refusal("it holds more entries than its first line says")
        try:
            entries.append(from_dict(content))
        except EntryError as why:
            raise _Refusal(f"entry {len(entries) + 1} is not valid, {why}") from why

    def _read_part(self, content: Mapping[str, Any]) -> None:
        """Write one part of an attached file. The parts of a file follow each other."""
        sha256 = content["file"]
        if self._file is None or self._file[0] != sha256:
            self._finish_file()
            if not self._hashes_left or self._hashes_left.pop() != sha256:
                raise _Refusal("it holds an attached file that its first line does not name")
            self._begin_file(sha256)
        try:
            data = base64.b64decode(str(content.get("data")), validate=True)
        except (binascii.Error, ValueError) as why:
            raise _Refusal("an attached file in it can't be read") from why
        self._file_size += len(data)
        if self._file_size > LARGEST_ATTACHED:
            raise _Refusal("an attached file in it is larger than 200 MB")
        self._file_hash.update(data)
        if self._file is not None and self._file[1] is not None:
            self._file[1].write(data)

    def _begin_file(self, sha256: str) -> None:
        self._file_hash, self._file_size = hashlib.sha256(), 0
        if self._path_for is None:
            self._file = sha256, None
            return
        path = self._path_for(sha256)
        self.bundle.files[sha256] = path
        self._file = sha256, path.open("wb")

    def _finish_file(self) -> None:
        """Close the file that is being written, if its content has the hash that it should."""
        if self._file is not None and self._file_hash.hexdigest() != self._file[0]:
            raise _Refusal("the content of an attached file in it was changed")
        self._close_file()

    def _close_file(self) -> None:
        if self._file is not None and self._file[1] is not None:
            self._file[1].close()
        self._file = None

    def _read_end(self, content: Mapping[str, Any], digest: str) -> None:
        self._finish_file()
        complete = len(self.bundle.entries) == self._announced and not self._hashes_left
        if content != {"end": digest} or not complete:
            raise _Refusal("its content is not what its first and last lines say")
