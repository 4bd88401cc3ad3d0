"""Write the dispute sheet of a claim to a file, or as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from fieldbook.actions.disputes.claim_entries import claim_of
from fieldbook.actions.files.file_names import file_stem
from fieldbook.actions.files.paper_run import papers_folder
from fieldbook.actions.files.write_papers import Kind, paper_source, printed
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError, disk_errors, write_bytes
from fieldbook.languages.in_use import language_in_use
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.contents.dispute_sheet import Claim, dispute_sheet, later_words
from fieldbook.papers.printing.in_language import in_its_language


def write_dispute(source: PaperSource, claim: Claim, file: Path) -> None:
    """Write the sheet as HTML, or as PDF by the ending of the file; raises RefusedError."""
    ending = file.suffix.lower()
    if ending not in (".html", ".htm", ".pdf"):
        raise RefusedError(f"{file} ends neither in .html nor in .pdf: name it so.")
    kind: Kind = "pdf" if ending == ".pdf" else "html"
    (paper,) = in_its_language(as_entered(source, claim), lambda one: [dispute_sheet(one, claim)])
    write_bytes(file, printed(paper, kind, source), over=True)


def usual_sheet(open_job: OpenJob, claim: str, about: str) -> Path:
    """Write the sheet of a claim among the papers of an open property; returns its path.

    Each sheet has a file of its own: what was printed once is never written over.
    """
    now = datetime.now().astimezone()
    found = claim_of(open_job.book, open_job.job, claim, [about])
    source = paper_source(open_job.book, open_job.job, now, language_in_use())
    folder = papers_folder(open_job)
    with disk_errors(folder, "made", "its name"):
        folder.mkdir(parents=True, exist_ok=True)
    first = folder / f"{file_stem(open_job.job.job.address, 'dispute-sheet')}.html"
    path, number = first, 2
    while path.exists():
        path, number = first.with_stem(f"{first.stem}-{number}"), number + 1
    write_dispute(source, found, path)
    return path


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
