"""The lines of a visit, for the page of visits and the command that prints them."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.service.visit_summary import VisitSummary
from fieldbook.records.base import facts_of
from fieldbook.records.tables.visits import Visit, VisitStep
from fieldbook.records.values import shown

_SAID = ("asked_by", "found", "done", "hours", "note")
_SIGNS = {True: "+", False: "!", None: "-"}
"""Before a step: done, seen and not so, not looked at. A sign, so that no colour is needed."""


def visit_lines(one: VisitSummary) -> Iterator[str]:
    """Under its title what is entered of a visit: a line each; steps, changes and readings too."""
    facts = facts_of(Visit)
    if one.who:
        yield f"{facts['who'].label}: {one.who}"
    for column in _SAID:
        words = shown(facts[column], getattr(one.visit, column))
        if words:
            yield f"{facts[column].label}: {words}"
    if one.steps:
        yield f"Steps: {one.steps_done} of {len(one.steps)} done"
        yield from (f"  {_step(step)}" for step in one.steps)
    for heading, said in (
        ("Changed", [change.sentence for change in one.changes]),
        ("Readings", one.readings),
        ("Photos", [file.note or file.name for file in one.photos]),
    ):
        if said:
            yield f"{heading}:"
            yield from (f"  {line}" for line in said)
    if one.visit.next_due:
        yield f"Next due: {next_words(one.visit)}"


def next_words(visit: Visit) -> str:
    """When the next visit is due and what for, such as "2027-04-01, start-up"."""
    return ", ".join(filter(None, (visit.next_due, visit.next_reason)))


def _step(step: VisitStep) -> str:
    note = f" ({step.note})" if step.note else ""
    return f"{_SIGNS[step.done]} {step.step}{note}"
