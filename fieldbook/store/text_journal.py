"""The journal as plain text beside the book: a JSON line an entry, so that it outlives the app.

Lines are appended after each commit. A line that was cut by a power failure is dropped when the
book is opened, and what the book has sealed beyond the last whole line is written again.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any

from fieldbook.store.seal import FIELDS, entry_id

_FIRST_LINE = {"fieldbook journal": 1}


def journal_path(book: Path, origin: str) -> Path:
    """Where the text journal of an origin of a book is."""
    return book.with_name(f"{book.name}.journal") / f"{origin}.jsonl"


def append(path: Path, entries: Iterable[Mapping[str, Any]]) -> None:
    """Add entries to the file and to the disk. Raises OSError, and the file is as it was."""
    lines = [_line({"id": one["id"], **{name: one[name] for name in FIELDS}}) for one in entries]
    if not lines:
        return
    fresh = not path.exists() or path.stat().st_size == 0
    path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_APPEND, 0o600)
    try:
        head = _line(_FIRST_LINE) if fresh else ""
        _write_whole(descriptor, (head + "".join(lines)).encode("utf-8"))
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def _write_whole(descriptor: int, told: bytes) -> None:
    """Write all or nothing: a disk that fills up may take a part."""
    before = os.fstat(descriptor).st_size
    written = 0
    try:
        while written < len(told):
            written += os.write(descriptor, told[written:])
    except OSError:
        os.ftruncate(descriptor, before)
        raise


def _line(held: Mapping[str, Any]) -> str:
    return json.dumps(held, ensure_ascii=False, separators=(",", ":")) + "\n"


def last_whole(path: Path) -> int:
    """The number of the last whole entry in the file; a line cut short after it is taken away."""
    if not path.exists():
        return 0
    whole, seq = 0, 0
    with path.open("rb") as file:
        for line in file:
            entry = _read(line) if line.endswith(b"\n") else None
            if entry is None:
                break
            whole += len(line)
            seq = int(entry.get("seq", seq))
    if whole < path.stat().st_size:
        with path.open("r+b") as file:
            file.truncate(whole)
            os.fsync(file.fileno())
    return seq


def sound_entries(path: Path) -> Iterator[dict[str, Any]]:
    """The entries of a file up to the first that does not follow from the one before it."""
    prev, seq = "", 0
    with path.open("rb") as file:
        for line in file:
            entry = _read(line)
            if entry is None:
                return
            if "seq" not in entry:
                continue
            if set(entry) != {"id", *FIELDS} or entry_id(entry) != entry["id"]:
                return
            if (entry["prev"], entry["seq"]) != (prev, seq + 1):
                return
            prev, seq = entry["id"], entry["seq"]
            yield entry


def _read(line: bytes) -> dict[str, Any] | None:
    try:
        held = json.loads(line)
    except ValueError:
        return None
    return held if isinstance(held, dict) else None
