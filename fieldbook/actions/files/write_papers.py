"""Write the papers of a property into a folder, as HTML and PDF."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import Literal

from fieldbook.actions.files.attached_files import state_of
from fieldbook.actions.files.file_names import file_stem
from fieldbook.actions.files.firm_file import read_firm
from fieldbook.actions.files.photos import is_picture_name, printed_jpeg
from fieldbook.actions.open_job import verdicts_of
from fieldbook.actions.refused import RefusedError, disk_errors, write_bytes
from fieldbook.checks.common.naming import listed, system_of
from fieldbook.languages.language_texts import Language
from fieldbook.languages.translator import Translator
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.contents.catalogue import NAMES, papers_named
from fieldbook.papers.paper import Paper
from fieldbook.papers.printing.html_page import html_page
from fieldbook.papers.printing.in_language import in_its_language
from fieldbook.papers.printing.pdf_page import NoTypesettingError, Size, pdf_page
from fieldbook.records.entered_texts import entered_texts
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.store.book_reader import BookReader

Kind = Literal["html", "pdf"]


def paper_source(
    book: BookReader, job: LoadedJob, now: datetime, language: Language = "en"
) -> PaperSource:
    """All that a paper of a job may show. Raises RefusedError where firm.toml has a fault."""
    photos, firm = dict(_photos(book.path, job)), read_firm(book.path)
    entered = entered_texts(job) | {firm.line}
    words = Translator(language, entered)
    answers = verdicts_of(book, job, now)
    said = (language, words.say, words.shown, entered)
    return PaperSource(job, answers, now, firm, photos, *said)


def _photos(book_path: Path, job: LoadedJob) -> Iterator[tuple[str, bytes]]:
    """The photos that lie beside the book unaltered, by attachment, made small for paper."""
    for file in job.attachments:
        if is_picture_name(file.name):
            state = state_of(book_path, file)
            jpeg = printed_jpeg(state.path) if not state.wrong else None
            if jpeg is not None:
                yield file.id, jpeg


def write_papers(
    source: PaperSource, folder: Path, names: Sequence[str] = (), kinds: Sequence[Kind] = ("html",)
) -> Iterator[Path]:
    """Write papers by name (all unless named) into a folder that is made if it is not there.

    Yields the path of each as it is written; each file is written whole or not at all, and over one
    of that name. Raises RefusedError for an unknown name, for PDF where typst is not installed, or
    where the disk refuses.
    """
    unknown = [name for name in names if name not in NAMES]
    if unknown:
        raise RefusedError(f"There is no paper {unknown[0]}: choose {listed(NAMES, len(NAMES))}.")
    with disk_errors(folder, "made", "its name"):
        folder.mkdir(parents=True, exist_ok=True)
    makers = [partial(papers_named, name=name) for name in names or NAMES]
    for paper in (paper for make in makers for paper in in_its_language(source, make)):
        for kind in kinds:
            path = folder / f"{file_stem(source.job.job.address, paper.name)}.{kind}"
            write_bytes(path, printed(paper, kind, source), over=True)
            yield path


def printed(paper: Paper, kind: Kind, source: PaperSource) -> bytes:
    """A paper as HTML or as PDF, on the paper size of the property's units.

    Raises RefusedError for PDF where typst is not installed.
    """
    if kind == "html":
        return html_page(paper).encode()
    size: Mapping[str, Size] = {"us": "us-letter", "metric": "a4"}
    try:
        return pdf_page(paper, size[system_of(source.job)])
    except NoTypesettingError as error:
        raise RefusedError(str(error)) from error
