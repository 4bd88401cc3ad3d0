"""Move attached files to and from the office: in parts, each once, checked by hash on arrival."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from pathlib import Path

from fieldbook.store.attached import LARGEST_ATTACHED, hash_of, is_hash
from fieldbook.store.disk import open_private, replace, sync_file
from fieldbook.store.errors import BookError
from fieldbook.store.office.connection import OfficeConnection, checked_count
from fieldbook.store.office.office_session import Session
from fieldbook.store.office.office_tables import PART_BYTES

PathOfFile = Callable[[str], Path]
"""Where the attached file with a hash is beside the book, or belongs."""
_MOST_ASKED = 500
_HELD = "SELECT sha256, laptop FROM fieldbook.file WHERE sha256 = ANY (%s)"
_PARTS_SENT = (
    "SELECT coalesce(max(no) + 1, 0) FROM fieldbook.file_part "
    "WHERE sha256 = %s AND laptop = session_user"
)
_ADD_PART = (
    "INSERT INTO fieldbook.file_part (sha256, no, content) VALUES (%s, %s, %s) "
    "ON CONFLICT DO NOTHING"
)
_ADD = "INSERT INTO fieldbook.file (sha256, size) VALUES (%s, %s) ON CONFLICT DO NOTHING"
_PART = "SELECT content FROM fieldbook.file_part WHERE sha256 = %s AND laptop = %s AND no = %s"


def push_files(session: Session, path_of: PathOfFile) -> None:
    """Send each attached file that this laptop has and the office lacks."""
    known = session.book.places.files_at(session.place)
    unsent = [sha256 for sha256 in _attached(session) if sha256 not in known]
    for hashes in _batches([sha256 for sha256 in unsent if path_of(sha256).is_file()]):
        held = {row[0] for row in session.connection.execute(_HELD, (hashes,))}
        for sha256 in hashes:
            if sha256 not in held:
                if not _send(session, sha256, path_of(sha256)):
                    continue
                session.result.files_sent += 1
                session.report()
            _record(session, sha256)


def pull_files(session: Session, path_of: PathOfFile) -> None:
    """Receive each attached file that this laptop lacks and the office has."""
    missing = [sha256 for sha256 in _attached(session) if not path_of(sha256).is_file()]
    for hashes in _batches(missing):
        for sha256, laptop in session.connection.execute(_HELD, (hashes,)).fetchall():
            # An office that misbehaves could name files that nobody asked for.
            asked = sha256 in hashes
            if asked and _fetch(session, sha256, laptop, path_of(sha256)):
                session.result.files_received += 1
                _record(session, sha256)
                session.report()


def _attached(session: Session) -> list[str]:
    return [sha256 for sha256 in session.book.shared.attached() if is_hash(sha256)]


def _record(session: Session, sha256: str) -> None:
    session.book.places.record_file_at(session.place, sha256)


def _batches(hashes: list[str]) -> Iterator[list[str]]:
    for start in range(0, len(hashes), _MOST_ASKED):
        yield hashes[start : start + _MOST_ASKED]


def _send(session: Session, sha256: str, path: Path) -> bool:
    """Send the parts that the office lacks, then the file's size; False if it was refused.

    With the size the office checks that the parts make up the file.
    """
    try:
        size = path.stat().st_size
        if size > LARGEST_ATTACHED or hash_of(path) != sha256:
            session.result.refused.add(
                f"{path} was changed since it was attached and not sent: attach it again."
            )
            return False
        row = session.connection.execute(_PARTS_SENT, (sha256,)).fetchone() or (0,)
        number = checked_count(row[0])
        with path.open("rb") as file:
            file.seek(number * PART_BYTES)
            while content := file.read(PART_BYTES):
                session.connection.execute(_ADD_PART, (sha256, number, content))
                number += 1
    except OSError as why:
        session.result.refused.add(
            f"{path} can't be read ({why.strerror}) and was not sent: check the disk."
        )
        return False
    session.connection.execute(_ADD, (sha256, size))
    return True


def _fetch(session: Session, sha256: str, laptop: str, path: Path) -> bool:
    """Receive the parts that this laptop lacks of a file; False if the file was refused."""
    # It keeps the parts of an exchange that broke off; how many there are follows from its size.
    part = path.with_name(f"{path.name}.office.part")
    try:
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        with os.fdopen(open_private(part, os.O_RDWR), "r+b") as file:
            number = file.seek(0, os.SEEK_END) // PART_BYTES
            file.truncate(number * PART_BYTES)
            file.seek(number * PART_BYTES)
            for content in _parts(session.connection, sha256, laptop, number):
                file.write(content)
            sync_file(file)
        if hash_of(part) != sha256:
            part.unlink()
            session.result.refused.add(
                f"The attached file {sha256[:12]}... came changed from the office and was left: "
                "exchange again."
            )
            return False
        replace(part, path)
    except OSError as why:
        raise BookError(
            f"The attached file {path} can't be written ({why.strerror}): check the disk."
        ) from why
    return True


def _parts(connection: OfficeConnection, sha256: str, laptop: str, number: int) -> Iterator[bytes]:
    """The parts of a file from a number on."""
    while number * PART_BYTES <= LARGEST_ATTACHED:
        answer = connection.execute(_PART, (sha256, laptop, number), binary=True).fetchone()
        if answer is None or not isinstance(answer[0], bytes) or len(answer[0]) > PART_BYTES:
            return
        yield answer[0]
        number += 1
