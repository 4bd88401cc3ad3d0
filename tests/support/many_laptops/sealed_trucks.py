"""What tests of keys and seals do with trucks and a stick, and what a thief does with it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path

from trucks import Truck
from two_books import all_entries

from fieldbook.actions.exchange.exchange_report import ExchangeReport
from fieldbook.actions.exchange.folder_exchange import exchange_through_folder
from fieldbook.store.exchange.bundle_writer import write_bundle
from fieldbook.store.exchange.folder import NAME
from fieldbook.store.journal.entry import FIELDS, Entry, make_entry
from fieldbook.store.seals.known_laptops import KnownLaptop
from fieldbook.store.seals.seal import Seal

THIEF = bytes(range(32))


def through(truck: Truck, stick: Path) -> ExchangeReport:
    """Exchange a truck's book through the stick."""
    with truck.open() as book:
        return exchange_through_folder(book, stick, lambda _done, _total: None)


def states(truck: Truck, of: Truck | None = None) -> set[str]:
    """What a truck's book says of who made its entries, or those of another truck's origins."""
    origins = set()
    if of is not None:
        with of.open() as book:
            origins = set(book.last_seqs())
    with truck.open() as book:
        entries = [one for one in all_entries(book) if of is None or one.origin in origins]
        return {proof.state for proof in book.proofs(entries).values()}


def laptops(truck: Truck) -> dict[str, KnownLaptop]:
    """The laptops that a truck knows, by name."""
    with truck.open() as book:
        return {one.name: one for one in book.laptops.listed()}


def put(stick: Path, entries: Iterable[Entry], seals: Sequence[Seal] = ()) -> None:
    """Put a bundle on a stick, as anybody could who has it."""
    path = stick / NAME / f"{'0' * 8}-0000-4000-8000-{'0' * 12}-0000000009-{{sha256}}.jsonl.gz"
    path.parent.mkdir(exist_ok=True)
    write_bundle(path, entries, {}, seals)


def forged(truck: Truck, who: str = "XY", **changed: object) -> Entry:
    """An entry that claims to be the next one of a truck, under the origin of its newest."""
    with truck.open() as book:
        entries = [entry for entry in all_entries(book) if entry.who == truck.who]
    last = max(entries, key=lambda entry: entry.seq)
    content = {name: getattr(last, name) for name in FIELDS}
    content |= {"seq": last.seq + 1, "prev": last.id, "who": who, "parents": (last.id,)}
    content |= {"op": "static_psi", "value": "99.0", "clock": last.clock + 1}
    return make_entry({**content, **changed})
