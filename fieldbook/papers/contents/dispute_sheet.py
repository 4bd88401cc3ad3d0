"""The dispute sheet: one claim, and what the journal holds that bears on it, in order of time."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.blocks.signature_blocks import EVERY_KIND, signatures_table
from fieldbook.papers.paper import Block, Facts, Heading, Paper, Paragraph, Photo, Table

_LIMITS = (
    "This sheet shows what was entered, on which laptop and in which order. Where the chain holds, "
    "none of it was altered after it was entered.",
    "It does not prove who typed an entry, that the clock of a laptop was right, or that what was "
    "entered is so.",
    "An entry is never changed or deleted: a correction is another entry, and both are here.",
)
_CHECKS = (
    "Ask for a copy of the book: fieldbook verify looks over every entry and its chain.",
    "The text journals beside the book hold the same entries as JSON. The hash of an entry is the "
    "SHA-256 of the list of its fields in their order, as compact JSON in UTF-8, so that any "
    "program can compute it. The field prev is the hash of the entry before it on that laptop.",
    "Somebody could have made the whole journal of a laptop anew: compare it with what another "
    "laptop, the office or a backup holds.",
    "The SHA-256 of a photo is that of the file itself: any program computes it from the file.",
)

Broken = Literal["", "altered", "out of order", "missing before"]
Later = Literal["stands", "changed", "replaced", "undone", "differs"]


@dataclass(frozen=True)
class ClaimEntry:
    """One entry of the journal in words. `later` says what became of it, `later_by` by which.

    `in_file` says who entered it in the job file that it came from, and when; `fault` is "" for an
    entry that is whole and follows the one before it.
    """

    number: int
    when: str
    who: str
    laptop: str
    thing: str
    change: str
    before: str
    after: str
    later: Later
    later_by: tuple[int, ...]
    entry_id: str
    prev: str
    seq: int
    fault: Broken = ""
    in_file: tuple[str, str] | None = None


@dataclass(frozen=True)
class ClaimPhoto:
    """A file that was attached to what the claim is about; `state` is "" where it is unaltered."""

    attachment_id: str
    name: str
    sha256: str
    state: str


@dataclass(frozen=True)
class Claim:
    """A claim with all that bears on it. `laptops` are names with the whole id of their origin."""

    words: str
    about: tuple[str, ...]
    entries: tuple[ClaimEntry, ...]
    laptops: tuple[tuple[str, str], ...]
    photos: tuple[ClaimPhoto, ...]
    sign_offs: frozenset[str]


def dispute_sheet(source: PaperSource, claim: Claim) -> Paper:
    """The sheet: it records, and proves nothing beyond what it says at its end."""
    title = source.say("Dispute sheet")
    return source.paper("dispute-sheet", title, list(_blocks(source, claim)))


def _blocks(source: PaperSource, claim: Claim) -> Iterator[Block]:
    say = source.say
    yield Facts(
        (
            (say("The claim"), claim.words),
            (say("What it is about"), "; ".join(claim.about)),
            (say("Printed at"), source.now.isoformat(" ", "minutes")),
            (say("Entries that bear on it"), str(len(claim.entries))),
            (say("Chain of these entries"), _chain_words(source, claim)),
        )
    )
    yield Heading(say("What was entered, in order of time"))
    yield _entries_table(source, claim)
    yield Heading(say("Signatures and holds overridden"))
    yield signatures_table(source, EVERY_KIND, claim.sign_offs)
    yield from _photos(source, claim)
    yield Heading(say("Hash of each entry"))
    yield _hash_table(source, claim)
    yield Heading(say("The laptops"))
    headers = (say("Laptop"), say("Under which it wrote these entries"))
    yield Table(headers, claim.laptops, empty=say("None."))
    yield Heading(say("What this sheet shows, and what it does not"))
    for sentence in _LIMITS:
        yield Paragraph(say(sentence))
    yield Heading(say("What a reader can check without us"))
    for sentence in _CHECKS:
        yield Paragraph(say(sentence))


def _chain_words(source: PaperSource, claim: Claim) -> str:
    wrong = [str(entry.number) for entry in claim.entries if entry.fault]
    if wrong:
        return source.say("broken at {numbers}").format(numbers=", ".join(wrong))
    return source.say("each entry is as it was sealed, and follows the one before it")


def _entries_table(source: PaperSource, claim: Claim) -> Table:
    say = source.say
    rows = tuple(
        (
            str(entry.number),
            f"{entry.when}, {_who(source, entry)}, {say(entry.laptop)}",
            f"{entry.thing}: {entry.change}",
            entry.before,
            entry.after,
            later_words(source, entry),
        )
        for entry in claim.entries
    )
    headers = ("No.", "When, who, where", "What", "It was", "It became", "Later")
    empty = say("Nothing was ever entered of it.")
    return Table(tuple(map(say, headers)), rows, frozenset({0}), empty)


def _who(source: PaperSource, entry: ClaimEntry) -> str:
    """Who made the entry; of a row out of a job file also who entered it there."""
    if entry.in_file is None:
        return entry.who
    by, at = entry.in_file
    words = source.say("{who}, from a job file in which {by} entered it {time}")
    return words.format(who=entry.who, by=by, time=at)


def later_words(source: PaperSource, entry: ClaimEntry) -> str:
    """What became of an entry, such as "replaced by 15"."""
    say, numbers = source.say, ", ".join(map(str, entry.later_by))
    if entry.later == "changed":
        return say("changed by {numbers}").format(numbers=numbers)
    if entry.later == "replaced":
        return say("replaced by {numbers}").format(numbers=numbers)
    if entry.later == "undone":
        return say("undone by {numbers}").format(numbers=numbers)
    if entry.later == "differs":
        return say("stands, and differs from {numbers}").format(numbers=numbers)
    return say("stands")


def _hash_table(source: PaperSource, claim: Claim) -> Table:
    say = source.say
    rows = tuple(
        (
            str(entry.number),
            f"{say(entry.laptop)}, {entry.seq}",
            grouped(entry.entry_id),
            grouped(entry.prev) or say("none, it is the first"),
            _verified(source, entry.fault),
        )
        for entry in claim.entries
    )
    headers = ("No.", "Laptop, its number", "SHA-256", "Entry before it", "Verified")
    return Table(tuple(map(say, headers)), rows, frozenset({0}), say("None."))


def _verified(source: PaperSource, fault: Broken) -> str:
    """Whether an entry is as it was sealed, in words."""
    say = source.say
    if fault == "altered":
        return say("no: it is not what was sealed")
    if fault == "out of order":
        return say("no: it does not follow the entry before it")
    if fault == "missing before":
        return say("no: the entry before it is missing")
    return say("yes")


def _photos(source: PaperSource, claim: Claim) -> Iterator[Block]:
    say = source.say
    if not claim.photos:
        return
    yield Heading(say("Photos and files"))
    for photo in claim.photos:
        state = say(photo.state or "unaltered")
        words = say("{name}, SHA-256 {hash}; beside the book it is {state}.").format(
            name=photo.name, hash=grouped(photo.sha256), state=state
        )
        jpeg = source.photos.get(photo.attachment_id)
        yield Paragraph(words) if jpeg is None else Photo(jpeg, photo.name, words)


def grouped(digest: str) -> str:
    """A hash in groups of eight, so that a person can compare it and a line can break."""
    return " ".join(digest[at : at + 8] for at in range(0, len(digest), 8))
