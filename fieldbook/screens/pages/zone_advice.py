"""The lines of a zone's page under its pictures: how surely it works, and what would mend it."""

from __future__ import annotations

from collections.abc import Iterator

from textual.content import Content

from fieldbook.checks.water.advice.advice_words import AdviceWords
from fieldbook.checks.water.advice.zone_report import ZoneReport, certainty_words
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.screens.pages.page import FAINT, title

_BLANK = Content("")


def advice_lines(job: LoadedJob, report: ZoneReport | None) -> list[Content]:
    """How surely a zone works and what mends it; none while that is not worked out, or can't be."""
    if report is None:
        return []
    lines: list[Content] = []
    if report.certainty is not None:
        lines += [title("How surely it works")]
        lines += [Content(words) for words in certainty_words(job, report.certainty)]
        lines.append(_BLANK)
    if report.words is not None:
        lines += _advice(report.words)
    return lines


def _advice(words: AdviceWords) -> Iterator[Content]:
    if not words.changes:
        yield Content(words.now)
        yield from map(Content, words.notes)
        return
    yield title("What mends it, the cheapest first")
    yield Content(words.now)
    for number, change in enumerate(words.changes, start=1):
        yield Content(f"{number}. {change.what}")
        yield Content.styled(f"   {change.result}", FAINT)
    yield from map(Content, words.notes)
    yield Content.styled("Each was solved with that one change made, and passes all checks.", FAINT)
