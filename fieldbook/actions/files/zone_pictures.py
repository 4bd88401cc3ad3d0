"""Write a zone's sheet (verdict, curves, waterfall, tree) to a file as SVG."""

from __future__ import annotations

import re
from pathlib import Path

from fieldbook.actions.refused import RefusedError, write_new
from fieldbook.checks.common.naming import listed, short, zone_word
from fieldbook.checks.water.zone_status import ZoneStatus, zone_statuses
from fieldbook.papers.zone_water.zone_sheet import zone_svg
from fieldbook.records.loaded_job import LoadedJob

SHEET_COLUMNS = 92
"""The columns of a sheet for print: at 8 px a column it fills the width of a page."""
_NOT_IN_NAMES = re.compile(r"[^\w ,.-]+")


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
    """Write a zone's sheet to a typed file or folder; a blank takes `usual_file`.

    Returns the file that was written. Raises RefusedError where it is there already, or can't be.
    """
    path = Path(typed.strip()).expanduser() if typed.strip() else usual_file(job, status)
    if path.is_dir():
        path /= _name(job, status)
    elif path.suffix.lower() != ".svg":
        path = path.with_name(f"{path.name}.svg")
    if path.exists():
        raise RefusedError(f"{short(path.name)} is there already: type another name.")
    write_new(path, zone_svg(job, status, SHEET_COLUMNS))
    return path


def usual_file(job: LoadedJob, status: ZoneStatus) -> Path:
    """The file that a sheet is written to unless another is named: none that is there already."""
    documents = Path.home() / "Documents"
    folder = documents if documents.is_dir() else Path.home()
    first = folder / _name(job, status)
    path, number = first, 2
    while path.exists():
        path, number = first.with_stem(f"{first.stem} {number}"), number + 1
    return path


def _name(job: LoadedJob, status: ZoneStatus) -> str:
    """Such as "14 Alder Lane, zone 2.svg", in characters that every system takes."""
    address = _NOT_IN_NAMES.sub(" ", short(job.job.address)).strip(" .") or "property"
    return f"{address}, {zone_word(status.zone)}.svg"
