"""The sizes that would be laid in a zone's laterals, shown before they are kept."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.naming import quantity, zone_word
from fieldbook.checks.water.advice.advice_words import result_words
from fieldbook.checks.water.advice.lateral_sizes import LateralSizes
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.zones import Zone
from fieldbook.screens.pages.paste_page import PastePage
from fieldbook.units import LENGTH


class SizesPage(PastePage):
    """Lists what changes run by run; dismisses with whether the sizes are wanted."""

    def __init__(self, job: LoadedJob, zone: Zone, found: LateralSizes) -> None:
        """`found` has at least one run whose size would change."""
        super().__init__(list(sizes_lines(job, zone, found)), len(found.changes), 0)
        self._title = f"Sizes for the laterals of {zone_word(zone)}"


def sizes_lines(job: LoadedJob, zone: Zone, found: LateralSizes) -> Iterator[str]:
    """What the sizes cost and give beside today, then each run whose size would change."""
    proven = "the least pipe cost that is enough" if found.proven else "not proven to be the least"
    yield f"At {proven} (priced by length and bore; common practice, no source)."
    yield result_words(job, found.result, found.today)
    for size, (today_ft, new_ft) in found.feet.items():
        now, then = (quantity(job, feet, LENGTH) for feet in (today_ft, new_ft))
        yield f"{size} in: {then} (today {now})"
    for run in job.runs_of(zone.id):
        new = found.sizes.get(run.id)
        if new is not None and new != run.size:
            yield f"run {run.number or '?'}: {run.size} in becomes {new} in"
