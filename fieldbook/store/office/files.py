"""Attached files to and from the office: in parts, each once, and checked by hash on arrival."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path

from fieldbook.store.book import Book
from fieldbook.store.errors import BookError
from fieldbook.store.office.connection import OfficeConnection, whole
from fieldbook.store.office.local_state import files_at_office, record_files_at_office
from fieldbook.store.office.office_tables import PART_BYTES
from fieldbook.store.sqlite.hashes import LARGEST_ATTACHED, hash_of, is_hash

PlaceOf = Callable[[str], Path]
"""Where the file of a hash is beside the book, or would be."""
_AT_ONCE = 500
_THERE = "SELECT sha256, laptop FROM fieldbook.file WHERE sha256 = ANY (%s)"
_BEGUN = (
    "SELECT coalesce(max(no) + 1, 0) FROM fieldbook.file_part "
    "WHERE sha256 = %s AND laptop = session_user"
)
_ADD_PART = (
    "INSERT INTO fieldbook.file_part (sha256, no, content) VALUES (%s, %s, %s) "
    "ON CONFLICT DO NOTHING"
)
_ADD = "INSERT INTO fieldbook.file (sha256, size) VALUES (%s, %s) ON CONFLICT DO NOTHING"
_PART = "SELECT content FROM fieldbook.file_part WHERE sha256 = %s AND laptop = %s AND no = %s"


@dataclass
class Files:
    """The attached files that an exchange sent and took so far; what is wrong with others."""

    sent: int = 0
    got: int = 0
    wrong: set[str] = field(default_factory=set)


def push_files(
    line: OfficeConnection,
    book: Book,
    place: str,
    place_of: PlaceOf,
    files: Files,
    told: Callable[[], None],
) -> None:
    """Send each attached file that is here and that the office lacks."""
    known = book.ask(partial(files_at_office, place=place))
    asked = [one for one in _attached(book) if one not in known]
    for some in _chunks([one for one in asked if place_of(one).is_file()]):
        there = {row[0] for row in line.execute(_THERE, (some,))}
        for sha256 in some:
            if sha256 not in there and _send(line, sha256, place_of(sha256), files):
                there.add(sha256)
                files.sent += 1
                told()
            if sha256 in there:
                book.note(partial(record_files_at_office, place=place, hashes=[sha256]))


def pull_files(
    line: OfficeConnection,
    book: Book,
    place: str,
    place_of: PlaceOf,
    files: Files,
    told: Callable[[], None],
) -> None:
    """Take each attached file that is not here and that the office has."""
    for some in _chunks([one for one in _attached(book) if not place_of(one).is_file()]):
        for sha256, laptop in line.execute(_THERE, (some,)).fetchall():
            if sha256 in some and _fetch(line, sha256, laptop, place_of(sha256), files):
                files.got += 1
                book.note(partial(record_files_at_office, place=place, hashes=[sha256]))
                told()


def _attached(book: Book) -> list[str]:
    return [one for one in book.shared.attached() if is_hash(one)]


def _chunks(hashes: list[str]) -> Iterator[list[str]]:
    for start in range(0, len(hashes), _AT_ONCE):
        yield hashes[start : start + _AT_ONCE]


def _send(line: OfficeConnection, sha256: str, path: Path, files: Files) -> bool:
    """Send the parts that are not there yet, then say that it is whole, which the office checks."""
    try:
        size = path.stat().st_size
        if size > LARGEST_ATTACHED or hash_of(path) != sha256:
            files.wrong.add(f"The attached file {path} is altered or too large: it was not sent.")
            return False
        begun = whole((line.execute(_BEGUN, (sha256,)).fetchone() or (0,))[0])
        with path.open("rb") as file:
            file.seek(begun * PART_BYTES)
            number = begun
            while content := file.read(PART_BYTES):
                line.execute(_ADD_PART, (sha256, number, content))
                number += 1
    except OSError as why:
        files.wrong.add(f"The attached file {path} can't be read ({why.strerror}).")
        return False
    line.execute(_ADD, (sha256, size))
    return True


def _fetch(line: OfficeConnection, sha256: str, laptop: str, path: Path, files: Files) -> bool:
    """Take a file's parts, going on where an earlier exchange was cut; whole or not at all."""
    part = path.with_name(f"{path.name}.office.part")
    try:
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        with os.fdopen(os.open(part, os.O_RDWR | os.O_CREAT, 0o600), "r+b") as file:
            number = file.seek(0, os.SEEK_END) // PART_BYTES
            file.truncate(number * PART_BYTES)
            file.seek(number * PART_BYTES)
            for content in _parts(line, sha256, laptop, number):
                file.write(content)
            file.flush()
            os.fsync(file.fileno())
        if hash_of(part) != sha256:
            part.unlink()
            files.wrong.add(f"The office's file {sha256} is not what was attached: it was left.")
            return False
        part.replace(path)
    except OSError as why:
        raise BookError(
            f"The attached file {path} can't be kept ({why.strerror}): check the disk."
        ) from why
    return True


def _parts(line: OfficeConnection, sha256: str, laptop: str, number: int) -> Iterable[bytes]:
    while number * PART_BYTES <= LARGEST_ATTACHED:
        row = line.execute(_PART, (sha256, laptop, number), binary=True).fetchone()
        if row is None or not isinstance(row[0], bytes) or len(row[0]) > PART_BYTES:
            return
        yield row[0]
        number += 1
