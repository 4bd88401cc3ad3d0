"""The lines of pages to read: rules compared, the day, a cell's history."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from textual.content import Content

from fieldbook.actions.board.day_list import DayList, Due
from fieldbook.actions.cell_history import Turn
from fieldbook.actions.rules import Comparison
from fieldbook.checks.finding import Finding
from fieldbook.checks.verdicts import Answer
from fieldbook.screens.pages.page import CAUTION, FAINT, title


def comparison_lines(found: Comparison, refused: Sequence[str]) -> Iterator[Content]:
    """Rules that differ, and the flags that another rule set would bring and take away.

    `refused` has a sentence for each rule file that can't be read.
    """
    yield title(f"This job under the rule set {found.name}")
    if not found.differences:
        yield Content("No rule differs.")
    for rule in found.differences:
        yield Content(f"{rule.label}: {rule.here} here, {rule.there} there.")
        yield Content.styled(f"  {rule.source}", FAINT)
    yield Content("")
    yield from _flags("Flags that would come", found.come)
    yield from _flags("Flags that would go", found.go)
    yield from _open("Checks that would be open", found.opened)
    yield from _open("Checks that would no longer be open", found.settled)
    for sentence in refused:
        yield Content.styled(sentence, CAUTION)
    yield Content.styled("The authority having jurisdiction decides.", FAINT)


def _flags(heading: str, findings: Sequence[Finding]) -> Iterator[Content]:
    yield title(f"{heading}: {len(findings) or 'none'}")
    for finding in findings:
        yield Content(f"{finding.severity.upper()} {finding.sentence}")


def _open(heading: str, answers: Sequence[Answer]) -> Iterator[Content]:
    yield title(f"{heading}: {len(answers) or 'none'}")
    for answer in answers:
        yield Content(f"{answer.thing}: {', '.join(one.words for one in answer.missing)}")


def day_lines(day: DayList) -> Iterator[Content]:
    """What can be done, what waits and what runs out, on all properties."""
    for heading, dues, none in day.sections():
        yield title(heading)
        yield from map(Content, _dues(dues) or [none])
        yield Content("")


def _dues(dues: Sequence[Due]) -> list[str]:
    lines: list[str] = []
    address = ""
    for due in dues:
        if due.address != address:
            address = due.address
            lines.append(address)
        lines.append(f"  {due.words}")
    return lines


def history_lines(label: str, turns: Sequence[Turn]) -> Iterator[Content]:
    """Every value a cell has held, newest first."""
    yield title(f"History of {label}")
    if not turns:
        yield Content("Nothing was ever entered here.")
    for turn in turns:
        yield Content(f"{turn.when}  {turn.who}, {turn.laptop}")
        yield Content(f"  {turn.was} -> {turn.became}")
