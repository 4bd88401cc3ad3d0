"""Write the dispute sheet of a claim to a file, or as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from fieldbook.actions.files.write_papers import Kind, printed
from fieldbook.actions.refused import RefusedError, write_bytes
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.contents.dispute_sheet import Claim, dispute_sheet, later_words
from fieldbook.papers.printing.in_language import in_language


def write_dispute(source: PaperSource, claim: Claim, file: Path) -> None:
    """Write the sheet as HTML, or as PDF by the ending of the file; raises RefusedError."""
    ending = file.suffix.lower()
    if ending not in (".html", ".htm", ".pdf"):
        raise RefusedError(f"{file} ends neither in .html nor in .pdf: name it so.")
    kind: Kind = "pdf" if ending == ".pdf" else "html"
    shown = as_entered(source, claim)
    paper = in_language(dispute_sheet(source, claim), shown.shown)
    write_bytes(file, printed(paper, kind, source), over=True)


def as_entered(source: PaperSource, claim: Claim) -> PaperSource:
    """The source, which leaves the words of the claim and all values of its entries as they are.

    The values of the past are in the record no longer, so the source does not know them.
    """
    kept = {claim.words} | {text for entry in claim.entries for text in (entry.before, entry.after)}
    return replace(source, shown=lambda text: text if text in kept else source.shown(text))


def claim_lines(source: PaperSource, claim: Claim) -> Iterator[str]:
    """The entries that bear on a claim, a line each, and whether their chain holds."""
    yield f"{claim.words}: {'; '.join(claim.about)}"
    for entry in claim.entries:
        before = f"{entry.before} -> " if entry.before else ""
        yield (
            f"{entry.number:>3}  {entry.when}  {entry.who}, {entry.laptop}  {entry.thing}: "
            f"{entry.change}: {before}{entry.after} ({later_words(source, entry)})"
        )
        yield f"     {entry.entry_id}  {entry.fault or 'verified'}"
    for photo in claim.photos:
        yield f"     {photo.name}  SHA-256 {photo.sha256}  {photo.state or 'unaltered'}"
