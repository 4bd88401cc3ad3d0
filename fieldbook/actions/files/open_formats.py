"""Write a property in an open format: GeoJSON, iCalendar, or a folder of CSV tables."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date
from pathlib import Path

from fieldbook.actions.files.spreadsheet import csv_text
from fieldbook.actions.refused import RefusedError, disk_errors, write_bytes
from fieldbook.papers.exports.calendar import as_calendar
from fieldbook.papers.exports.geojson import CoordinatesError, as_geojson
from fieldbook.papers.exports.table_rows import tables_of
from fieldbook.records.loaded_job import LoadedJob

ENDINGS = (".geojson", ".ics")


def write_open(job: LoadedJob, file: Path, today: date, *, over: bool) -> None:
    """Write the as-built (.geojson) or the dates (.ics); raises RefusedError."""
    if file.suffix.lower() == ".ics":
        write_bytes(file, as_calendar(job, today), over=over)
        return
    try:
        document = as_geojson(job)
    except CoordinatesError as error:
        raise RefusedError(str(error)) from error
    text = json.dumps(document, ensure_ascii=False, indent=2) + "\n"
    write_bytes(file, text.encode(), over=over)


def write_tables(job: LoadedJob, folder: Path) -> Iterator[Path]:
    """Write every table that has a row as CSV into a folder, over one of that name.

    Yields the path of each. Raises RefusedError where the disk refuses.
    """
    with disk_errors(folder, "made", "its name"):
        folder.mkdir(parents=True, exist_ok=True)
    for table in tables_of(job):
        path = folder / f"{table.name}.csv"
        write_bytes(path, csv_text(table.headers, table.rows).encode(), over=True)
        yield path
