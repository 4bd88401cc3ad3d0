"""The laptops known by their keys, in words; a person marks them as compared or distrusted."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.actions.exchange.exchange_report import counted
from fieldbook.actions.refused import RefusedError
from fieldbook.store.book import Book
from fieldbook.store.book_reader import BookReader
from fieldbook.store.seals.known_laptops import KnownLaptop

NONE_YET = "No laptop has signed anything here yet: it does so at its first exchange."
HOW_TO_COMPARE = (
    "Compare the four words with the other crew, by voice or side by side: they prove that the key "
    "is that laptop's. A signature proves whose laptop made an entry, not who typed it."
)
DISTRUST = (
    "What it made until now stays. What it signs from now on is refused here. It can still read "
    "what it has: every property, customer and file."
)


def laptop_lines(laptop: KnownLaptop) -> list[str]:
    """What is known of a laptop: its name, its words, what it made."""
    made = counted(laptop.entries, "entry", "entries")
    lines = [
        f"{laptop.name}: {trust_words(laptop)}.",
        f"Its four words are {laptop.words}.",
        f"{made}, signed up to {laptop.sealed_upto}; last seen {laptop.seen[:10]}.",
    ]
    if laptop.another_key:
        lines.append("It signs for another laptop's entries: not accepted until it is compared.")
    return lines


def trust_words(laptop: KnownLaptop) -> str:
    """Whether a laptop was compared or is distrusted, by whom and when."""
    by, day = laptop.marked_by, laptop.marked_at[:10]
    if laptop.trust == "distrusted":
        return f"distrusted by {by} on {day}"
    if laptop.trust == "compared":
        return f"compared by {by} on {day}"
    return "this laptop" if laptop.trust == "this laptop" else "not compared"


def all_lines(book: BookReader) -> Iterator[str]:
    """Every laptop that is known, then what nobody signed."""
    laptops = book.laptops.listed()
    if not laptops:
        yield NONE_YET
    for laptop in laptops:
        first, *others = laptop_lines(laptop)
        yield first
        yield from (f"  {line}" for line in others)
    origins, entries = book.laptops.count_unsigned_origins()
    if entries:
        unsigned = counted(entries, "entry", "entries")
        yield f"Unsigned: {unsigned} of {counted(origins, 'laptop', 'laptops')}."


def mark_compared(book: Book, name: str, by: str) -> str:
    """Note that the words of a laptop were compared; returns what was done. Raises BookError."""
    laptop = book.laptops.named(name)
    book.laptops.mark_compared(laptop.key, _who(by))
    return f"Compared: {laptop.name} ({laptop.words})."


def distrust(book: Book, name: str, by: str) -> str:
    """Refuse what a laptop signs from now on; returns what was done. Raises BookError."""
    laptop = book.laptops.named(name)
    book.laptops.distrust(laptop.key, _who(by))
    return f"Distrusted: {laptop.name} ({laptop.words})."


def trust_again(book: Book, name: str) -> str:
    """Take a distrust back; returns what was done. Raises BookError."""
    laptop = book.laptops.named(name)
    book.laptops.trust_again(laptop.key)
    return f"Trusted again: {laptop.name}. The next exchange brings what was refused."


def _who(by: str) -> str:
    if not by.strip():
        raise RefusedError("Set your initials first: they say who compared or distrusted it.")
    return by
