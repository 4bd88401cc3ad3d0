"""What pages of the job and of the day say: rules compared, the as-built plan, the day list."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from textual.content import Content

from fieldbook.actions.board.day_list import DayList, Due
from fieldbook.actions.cell_history import Turn
from fieldbook.actions.rules import Comparison
from fieldbook.checks.finding import Finding
from fieldbook.papers.plan import plan_lines
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.screens.pages.page import CAUTION, FAINT, title


def comparison_lines(found: Comparison, refused: Sequence[str]) -> Iterator[Content]:
    """Rules that differ, and the flags that another set would bring and take away."""
    yield title(f"This job under the rule set {found.name}")
    if not found.differences:
        yield Content("No rule differs.")
    for one in found.differences:
        yield Content(f"{one.label}: {one.here} here, {one.there} there.")
        yield Content.styled(f"  {one.source}", FAINT)
    yield Content("")
    yield from _flags("Flags that would come", found.come)
    yield from _flags("Flags that would go", found.go)
    for sentence in refused:
        yield Content.styled(sentence, CAUTION)
    yield Content.styled("The authority having jurisdiction decides.", FAINT)


def _flags(heading: str, findings: Sequence[Finding]) -> Iterator[Content]:
    yield title(f"{heading}: {len(findings) or 'none'}")
    for one in findings:
        yield Content(f"{one.severity.upper()} {one.sentence}")


def as_built_lines(job: LoadedJob, width: int) -> Iterator[Content]:
    """The plan of what is buried."""
    yield title("As-built plan")
    yield from map(Content, plan_lines(job, width))
    yield Content.styled(
        "Tapes only: call before digging; private lines are not marked. Hand dig beside a mark.",
        CAUTION,
    )


def day_lines(day: DayList) -> Iterator[Content]:
    """The day across all properties."""
    for heading, dues, none in day.sections():
        yield title(heading)
        yield from map(Content, _dues(dues) or [none])
        yield Content("")


def _dues(dues: Sequence[Due]) -> list[str]:
    lines: list[str] = []
    address = ""
    for one in dues:
        if one.address != address:
            address = one.address
            lines.append(address)
        lines.append(f"  {one.words}")
    return lines


def history_lines(label: str, turns: Sequence[Turn]) -> Iterator[Content]:
    """What a cell held, newest first."""
    yield title(f"History of {label}")
    if not turns:
        yield Content("Nothing was ever entered here.")
    for one in turns:
        yield Content(f"{one.when}  {one.who}, {one.laptop}")
        yield Content(f"  {one.was} -> {one.became}")
