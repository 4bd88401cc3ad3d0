"""Write a zone's sheet (verdict, curves, waterfall, tree) to a file as SVG."""

from __future__ import annotations

from pathlib import Path

from fieldbook.actions.files.svg_files import save_svg, usual_file
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.common.naming import listed, short, zone_word
from fieldbook.checks.water.zone_status import ZoneStatus, zone_statuses
from fieldbook.papers.zone_water.zone_sheet import zone_svg
from fieldbook.records.loaded_job import LoadedJob

SHEET_COLUMNS = 92
"""The columns of a sheet for print: at 8 px a column it fills the width of a page."""


def zone_numbered(job: LoadedJob, number: int) -> ZoneStatus:
    """How the zone of this number stands. Raises RefusedError where there is none, or several."""
    found = [status for status in zone_statuses(job) if status.zone.number == number]
    if len(found) == 1:
        return found[0]
    if found:
        raise RefusedError(f"{len(found)} zones have the number {number}: correct it first.")
    numbers = [str(zone.number or "?") for zone in job.zones]
    known = f"its zones are {listed(numbers)}" if numbers else "it has no zone yet"
    raise RefusedError(f"{short(job.job.address)} has no zone {number}: {known}.")


def save_sheet(job: LoadedJob, status: ZoneStatus, typed: str) -> Path:
    """Write a zone's sheet to a typed file or folder, as `save_svg` does."""
    return save_svg(job, _what(status), typed, lambda: zone_svg(job, status, SHEET_COLUMNS))


def usual_sheet(job: LoadedJob, status: ZoneStatus) -> Path:
    """The file that a sheet is written to unless another is named."""
    return usual_file(job, _what(status))


def _what(status: ZoneStatus) -> str:
    return zone_word(status.zone)
