"""The dispute sheet: one claim, and every entry that bears on it, in the order of time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.blocks.photo_blocks import photos_of
from fieldbook.papers.blocks.signature_blocks import signatures_table
from fieldbook.papers.paper import Block, Facts, Heading, Paper, Paragraph, Signatures, Table


@dataclass(frozen=True)
class Entered:
    """One entry of the journal in words; `laptop` is where it was made, `digest` its hash."""

    when: str
    who: str
    laptop: str
    what: str
    value: str
    digest: str


def dispute_sheet(source: PaperSource, claim: str, entries: Sequence[Entered]) -> Paper:
    """The claim as it was made, and the entries that bear on it, oldest first.

    `source.job` holds only the rows and photos that bear on the claim.
    """
    say = source.say
    headers = (say("When"), say("Who"), say("Laptop"), say("What"), say("Value"), say("Hash"))
    rows = tuple(
        (entry.when, entry.who, entry.laptop, entry.what, entry.value, entry.digest)
        for entry in sorted(entries, key=lambda entry: (entry.when, entry.digest))
    )
    proof = say(
        "Each entry is sealed by a hash of its content and of the entry before it, so an entry "
        "that was changed afterwards no longer fits. This sheet records; it decides nothing."
    )
    tables = tuple({file.of_table for file in source.job.attachments})
    blocks: list[Block] = [
        Facts(((say("Claim"), claim),)),
        Heading(say("Entries")),
        Table(headers, rows, empty=say("No entry bears on it.")),
        Paragraph(proof),
        Heading(say("Signatures")),
        signatures_table(source),
        *photos_of(source, tables),
        Signatures((say("Owner"), say("Installer"))),
    ]
    return source.paper("dispute-sheet", say("Dispute sheet"), blocks)
