"""The service: what is measured, opened, closed, repaired and replaced once the system is there."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from fieldbook.records.loaded_job import LoadedJob
from fieldbook.screens.sheets.service.audit_sections import audit_sections
from fieldbook.screens.sheets.service.commissioning_sections import commissioning_sections
from fieldbook.screens.sheets.service.diagnosis_sections import diagnosis_sections
from fieldbook.screens.sheets.service.season_sections import open_in_season, season_sections
from fieldbook.screens.sheets.service.visit_sections import visit_sections
from fieldbook.screens.sheets.sheet import Count, Section, Sheet
from fieldbook.units import System

SECTIONS: tuple[Callable[[LoadedJob, System], Iterable[Section]], ...] = (
    visit_sections,
    season_sections,
    commissioning_sections,
    audit_sections,
    diagnosis_sections,
)
"""What builds the sections of the place, from top to bottom."""
_COUNTS: tuple[Callable[[LoadedJob], Count], ...] = (open_in_season,)
"""What counts the cells that those sections ask for, where they ask for any."""


def service(job: LoadedJob, system: System) -> Sheet:
    """The sheet of the service."""
    return Sheet(tuple(section for build in SECTIONS for section in build(job, system)))


def open_at_service(job: LoadedJob) -> Count:
    """How many cells the sheet asks for and how many are open, counted without building it."""
    return sum((count(job) for count in _COUNTS), Count())
