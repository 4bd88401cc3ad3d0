"""What is in a folder of bundles: which are whole, which were spoilt, which a laptop wrote itself.

A stick that was pulled out, or that wears out, cuts files off or changes them. A laptop that can't
read a bundle leaves an empty file beside it, its name and ".spoilt"; the laptop that wrote the
bundle, and any other that received it while it was whole, then count it as missing and write what
it held again. A laptop also finds its own bundles cut by their size.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from pathlib import Path

from fieldbook.store.attached import hash_of
from fieldbook.store.errors import BookError
from fieldbook.store.places import WrittenBundle

BUNDLE = re.compile(
    r"(?P<origin>[0-9a-f-]{36})-(?P<order>\d{10}-(?P<hash>[0-9a-f]{64})\.jsonl\.gz)"
)
"""The origin that wrote it, the number of its last entry in that laptop's book, and its hash."""
_SPOILT = ".spoilt"


class FolderState:
    """The bundles of one folder by name, with their sizes, as they were when this was made."""

    def __init__(self, there: Path) -> None:
        """Read the names. Raises BookError where the folder can't be read."""
        self._there = there
        sizes: dict[str, int] = {}
        self._marked: set[str] = set()
        try:
            with os.scandir(there) as found:
                for file in found:
                    if BUNDLE.fullmatch(file.name):
                        sizes[file.name] = file.stat().st_size
                    elif file.name.endswith(_SPOILT):
                        self._marked.add(file.name.removesuffix(_SPOILT))
        except OSError as why:
            raise BookError(f"{there} can't be read ({why.strerror}): check the folder.") from why
        self._sizes = sizes

    def names(self) -> list[str]:
        """The names of the bundles, those with early entries first."""
        return sorted(self._sizes, key=lambda name: name[37:])

    def fingerprint(self) -> str:
        """A text that differs where another bundle, size or mark is there."""
        return repr((sorted(self._sizes.items()), sorted(self._marked)))

    def whole(self, own: Mapping[str, WrittenBundle], *, anew: bool = False) -> set[str]:
        """The names of the bundles that count as there; `anew` reads all of each own one.

        An own bundle counts while its size is that which was written, and no laptop refused it or
        it is found to be as it was written.
        """
        return {name for name in self._sizes if self._is_whole(name, own.get(name), anew)}

    def _is_whole(self, name: str, own: WrittenBundle | None, anew: bool) -> bool:
        if own is None:
            return name not in self._marked
        if own.size and own.size != self._sizes[name]:
            return False
        if name not in self._marked and not anew and own.size:
            return True
        if not as_written(self._there / name):
            return False
        self.unmark(name)
        return True

    def unmark(self, name: str) -> None:
        """Take the mark off a bundle that is whole again."""
        with suppress(OSError):
            (self._there / f"{name}{_SPOILT}").unlink(missing_ok=True)

    def remove_spoilt(self, names: Iterable[str], written: set[str]) -> None:
        """Delete these own bundles, unless they were written again under the same name."""
        for name in names:
            if name not in written:
                with suppress(OSError):
                    (self._there / name).unlink(missing_ok=True)
            self.unmark(name)


def mark_spoilt(path: Path) -> None:
    """Let the other laptops know that a bundle is not as it was written."""
    if not as_written(path):
        with suppress(OSError):
            path.with_name(f"{path.name}{_SPOILT}").touch()


def as_written(path: Path) -> bool:
    """Whether the content of a bundle has the hash in its name; reads all of it."""
    match = BUNDLE.fullmatch(path.name)
    try:
        return match is not None and hash_of(path) == match["hash"]
    except OSError:
        return False


def gaps(written: Iterable[WrittenBundle]) -> Iterator[tuple[int, int | None]]:
    """The ranges of entry numbers that no own bundle holds, as (after, up to), the last open."""
    reached = 0
    for bundle in sorted(written, key=lambda one: (one.first, one.last)):
        if bundle.first > reached + 1:
            yield reached, bundle.first - 1
        reached = max(reached, bundle.last)
    yield reached, None
