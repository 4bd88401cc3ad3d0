"""What every check says: wrong, not checked, sound; what was not checked is never left out."""

from __future__ import annotations

from collections.abc import Collection

from fieldbook.checks.progress.signatures import CHANGED_ON_A_VISIT
from fieldbook.checks.verdicts import Answer
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.paper import Cell, Table


def answers_table(source: PaperSource, checks: Collection[str] = ()) -> Table:
    """Every answer that is due, of these checks or of all, with the flags or what is missing."""
    say = source.say
    rows: list[tuple[Cell, ...]] = [
        (answer.check, answer.thing, say(answer.word), _why(answer))
        for answer in source.verdicts.answers
        if answer.word != "not due" and (not checks or answer.check in checks)
    ]
    headers = (say("Check"), say("Of what"), say("Answer"), say("Because"))
    return Table(headers, tuple(rows), empty=say("Nothing is checked yet."))


def _why(answer: Answer) -> str:
    """Its flags with their sources, else what is missing."""
    if answer.flags:
        return " ".join(f"{flag.sentence} {flag.source}" for flag in answer.flags)
    return ", ".join(missing.words for missing in answer.missing)


def open_table(source: PaperSource) -> Table:
    """What was not checked, and the flags that stand; else the headline of the checks.

    That a visit changed what was signed is left out: nothing is to be mended, and visits have
    reports of their own.
    """
    say = source.say
    rows: list[tuple[Cell, ...]] = [
        (say(flag.severity), flag.sentence)
        for flag in source.verdicts.flags
        if flag.code != CHANGED_ON_A_VISIT
    ]
    rows += [
        (say(answer.word), f"{answer.thing}: {_why(answer)}")
        for answer in source.verdicts.not_checked
    ]
    headers = (say("How it stands"), say("What"))
    return Table(headers, tuple(rows), empty=say(source.verdicts.headline))
