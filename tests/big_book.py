"""Books of thousands of properties filled in one transaction, each as true as a typed one."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from fieldbook.actions.demo import demo_files
from fieldbook.actions.job_files import import_bytes
from fieldbook.store.book import Book

STAMP = {"entered_by": "AB", "entered_at": "2026-01-05T08:00:00+00:00"}
DEMO = "14 Alder Lane"
"""The one property that is whole."""


def address(number: int) -> str:
    """The address of a property that is begun; in the order of their numbers."""
    return f"{number:05} Long Street"


def fill(path: Path, count: int) -> None:
    """Make a book of one whole demo property and so many that are begun that there are `count`."""
    alder = next(one for one in demo_files() if one.stem == "alder_lane").read_bytes()
    with Book(path) as book:
        book.set_initials("AB")
        book.take_rows(_rows(count), "AB")
        import_bytes(book, alder, "AB")


def _rows(count: int) -> dict[str, dict[str, dict[str, Any]]]:
    rows: dict[str, dict[str, dict[str, Any]]] = {"job": {}, "supply": {}, "zone": {}}
    for number in range(1, count):
        job_id = f"p{number:05}"
        told = {"address": address(number), "customer": f"Customer {number}", "units": "us"}
        rows["job"][job_id] = {"id": job_id, **told, **STAMP}
        of_job = {"job_id": job_id, **STAMP}
        supply, zone = f"{job_id}s", f"{job_id}z"
        rows["supply"][supply] = {"id": supply, "static_psi": 60.0, **of_job}
        rows["zone"][zone] = {"id": zone, "number": 1, "name": "lawn", **of_job}
    return rows
