"""Warranties: on which day each ends, and those whose days can't be."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from fieldbook.checks.common.naming import named
from fieldbook.checks.finding import CellRef, Finding, Missing
from fieldbook.checks.looked import Looked
from fieldbook.records.base import facts_of
from fieldbook.records.days import day_of, months_after
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.owner.warranties import Warranty


def warranty_name(warranty: Warranty) -> str:
    """Such as "controller warranty (in the garage)"."""
    kind = warranty.kind if warranty.kind not in (None, "other") else ""
    return named(f"{kind} warranty".strip(), warranty.thing)


def warranty_end(warranty: Warranty) -> date | None:
    """Its last day: as entered, else its months from the first; None while neither is known."""
    until, first, months = day_of(warranty.until_on), day_of(warranty.from_on), warranty.months
    if until is not None:
        return until
    fact = facts_of(Warranty)["months"]
    if first is None or months is None or not fact.low <= months <= fact.high:
        return None
    return months_after(first, months)


def check_warranties(job: LoadedJob) -> Iterator[Finding | Looked]:
    """Each warranty: its end is known, and not before its beginning."""
    for warranty in job.warranties:
        name, ends = warranty_name(warranty), warranty_end(warranty)
        at = CellRef("warranty", warranty.id, "until_on")
        lacks = [] if ends is not None else [Missing(f"the end of the {name}", at)]
        yield Looked(name, frozenset({warranty.id}), tuple(lacks))
        first = day_of(warranty.from_on)
        if ends is not None and first is not None and ends < first:
            yield Finding(
                "warranty ends before it begins",
                "fix",
                f"The {name} ends on {ends}, before its first day, {first}.",
                "Correct the day that is wrong.",
                at,
            )
