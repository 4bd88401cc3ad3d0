"""A book with all kinds of entries, for the tests that damage it."""

from __future__ import annotations

from pathlib import Path

import pytest

from fieldbook.actions import cells as entering
from fieldbook.actions import log_wires, rows
from fieldbook.actions import signing as proofs
from fieldbook.actions.files.attach import attach
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import new_property
from fieldbook.checks.finding import CellRef
from fieldbook.records.ids import once_id, valve_id
from fieldbook.store.book import Book


@pytest.fixture
def busy_book(book_file: Path, tmp_path: Path) -> Path:
    """A closed book with entries of all kinds, a signature and an attached paper."""
    paper = tmp_path / "permit.txt"
    paper.write_text("Permit 7, invented", "utf-8")
    with Book(book_file) as book:
        book.laptop.set_initials("AB")
        open_job = OpenJob(book, new_property(book, "12 Elm Street", "AB"), "AB")
        zone = rows.add_zone(open_job)
        log_wires.set_conductors(open_job, rows.add_cable(open_job), "white, red, blue")
        at = CellRef("valve", valve_id(zone), "colour")
        log_wires.log_wire(open_job, at, "red", "", {"zone_id": zone, "kind": "zone"})
        static = CellRef("supply", once_id(open_job.job_id, "supply"), "static_psi")
        entering.enter_text(open_job, static, "62")
        entering.enter_text(open_job, static, "64")
        proofs.sign_off(open_job, "price", proofs.Override("A. Foreman", "a test"))
        attach(open_job, "job", open_job.job_id, str(paper))
    return book_file
