"""One property in a folder of bundles, for a laptop that holds chosen properties.

It is fetched from there; before it is put away the bundles are read to see that it is in them.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path

from fieldbook.store.book import Book
from fieldbook.store.exchange.bundle_reader import BundleError
from fieldbook.store.exchange.folder import exchange_folder, read_checked
from fieldbook.store.exchange.folder_state import FolderState
from fieldbook.store.journal.entry import Entry
from fieldbook.store.journal.receive import Received
from fieldbook.store.seals.seal import Seal


@dataclass
class Fetched:
    """How many entries of the property the folder has, and what came of them.

    `refused` has a sentence for each bundle that was not accepted: it may hold more of it.
    """

    entries: int = 0
    received: Received = field(default_factory=Received)
    refused: list[str] = field(default_factory=list)


def fetch_steps(
    book: Book, folder: Path, job_id: str, result: Fetched
) -> Iterator[tuple[int, int]]:
    """Read the bundles that may hold the property, then receive all of its entries at once.

    Yields how many bundles are read and of how many, before each. Raises BookError; nothing of the
    property is here then.
    """
    there = exchange_folder(folder)
    # A bundle that this book read, or wrote, and that is not in this list holds nothing of it.
    read_before = book.places.known_bundles().keys() - book.keeping.files_with(job_id)
    names = [name for name in FolderState(there).names() if name not in read_before]
    found: dict[str, list[Entry]] = {}
    seals: list[Seal] = []
    for number, name in enumerate(names):
        yield number, len(names)
        try:
            bundle = read_checked(there / name)
        except BundleError as why:
            result.refused.append(str(why))
            continue
        seals += [seal for seal in bundle.seals if seal.job_id == job_id]
        entries = [entry for entry in bundle.entries if entry.job_id == job_id]
        if entries:
            found[name] = entries
    result.entries = sum(map(len, found.values()))
    if found:
        result.received = book.receive_files(found, job_id, seals)


def ids_in_files(folder: Path, names: Collection[str], jobs: Collection[str]) -> set[str]:
    """The ids of the properties' entries in these bundles of a folder, where they are whole.

    Raises BookError where the folder can't be read.
    """
    there, found = exchange_folder(folder), set[str]()
    for name in FolderState(there).names():
        if name in names:
            with suppress(BundleError):
                entries = read_checked(there / name).entries
                found.update(one.id for one in entries if one.job_id in jobs)
    return found
