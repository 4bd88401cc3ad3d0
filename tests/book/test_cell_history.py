"""The history of a cell: every old and new value, who, when, on which laptop."""

from __future__ import annotations

from pathlib import Path

import pytest

from fieldbook.actions import cells, log_wires, rows
from fieldbook.actions.cell_history import BLANK, REMOVED, cell_history
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import new_property
from fieldbook.checks.finding import CellRef
from fieldbook.records.ids import once_id, valve_id
from fieldbook.store.book import Book


def turns(open_job: OpenJob, at: CellRef) -> list[tuple[str, str]]:
    return [(one.was, one.became) for one in cell_history(open_job, at)]


@pytest.fixture
def open_job(tmp_path: Path) -> OpenJob:
    book = Book(tmp_path / "book.sqlite")
    book.laptop.set_initials("AB")
    return OpenJob(book, new_property(book, "12 Elm Street", "AB"), "AB")


def static_of(open_job: OpenJob) -> CellRef:
    return CellRef("supply", once_id(open_job.job_id, "supply"), "static_psi")


def test_every_value_is_listed_newest_first_with_the_one_before(open_job: OpenJob) -> None:
    static = static_of(open_job)
    cells.enter_text(open_job, static, "62")
    open_job.by = "CD"
    cells.enter_text(open_job, static, "64")
    open_job.undo()
    told = cell_history(open_job, static)
    assert [(one.was, one.became, one.who) for one in told] == [
        ("64 psi", "62 psi", "CD"),
        ("62 psi", "64 psi", "CD"),
        (BLANK, "62 psi", "AB"),
    ]
    assert {one.laptop for one in told} == {"this laptop"}
    assert all(one.when[4] == "-" and one.when[13] == ":" for one in told)


def test_the_display_units_are_those_of_the_property(open_job: OpenJob) -> None:
    cells.enter_text(open_job, static_of(open_job), "62")
    cells.enter_text(open_job, CellRef("job", open_job.job_id, "units"), "metric")
    assert turns(open_job, static_of(open_job)) == [(BLANK, "4.27 bar")]


def test_a_cell_beside_the_one_that_changed_has_no_history(open_job: OpenJob) -> None:
    cells.enter_text(open_job, static_of(open_job), "62")
    assert (
        turns(open_job, CellRef("supply", once_id(open_job.job_id, "supply"), "meter_size")) == []
    )


def test_a_link_is_named_by_the_row_it_leads_to(open_job: OpenJob) -> None:
    zone = rows.add_zone(open_job)
    box = rows.add_box(open_job)
    at = CellRef("valve", valve_id(zone), "box_id")
    cells.enter(open_job, at, box, {"zone_id": zone, "kind": "zone"})
    assert turns(open_job, at) == [(BLANK, "valve box A")]
    rows.remove_row(open_job, "valve_box", box)
    assert turns(open_job, at)[0] == ("a valve box since removed", BLANK)


def test_a_row_that_was_removed_and_restored(open_job: OpenJob) -> None:
    zone = rows.add_zone(open_job)
    run = rows.repeat_run(open_job, zone)
    at = CellRef("pipe_run", run, "length_ft")
    cells.enter_text(open_job, at, "20")
    rows.remove_row(open_job, "pipe_run", run)
    open_job.undo()
    assert turns(open_job, at) == [(REMOVED, "20 ft"), ("20 ft", REMOVED), (BLANK, "20 ft")]


def test_a_wire_moved_to_another_colour(open_job: OpenJob) -> None:
    zone = rows.add_zone(open_job)
    log_wires.set_conductors(open_job, rows.add_cable(open_job), "white, red, blue")
    at = CellRef("valve", valve_id(zone), "colour")
    for colour in ("red", "blue"):
        log_wires.log_wire(open_job, at, colour, "", {"zone_id": zone, "kind": "zone"})
    assert turns(open_job, at) == [("red", "blue"), (BLANK, "red")]
