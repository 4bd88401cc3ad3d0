"""What a cell ever held: old and new, who, when, which laptop; nothing is forgotten."""

from __future__ import annotations

from pathlib import Path

import pytest

from fieldbook.actions import cells as entering
from fieldbook.actions import log_wires, rows
from fieldbook.actions.cell_history import BLANK, REMOVED, cell_history
from fieldbook.actions.open_job import Work
from fieldbook.actions.properties import new_property
from fieldbook.checks.finding import At
from fieldbook.records.loaded_job import once_id, valve_id
from fieldbook.store.book import Book


def turns(work: Work, at: At) -> list[tuple[str, str]]:
    return [(one.was, one.became) for one in cell_history(work, at)]


@pytest.fixture
def work(tmp_path: Path) -> Work:
    book = Book(tmp_path / "book.sqlite")
    book.laptop.set_initials("AB")
    return Work(book, new_property(book, "12 Elm Street", "AB"), "AB")


def static_of(work: Work) -> At:
    return At("supply", once_id(work.job_id, "supply"), "static_psi")


def test_every_value_is_told_newest_first_with_the_one_before(work: Work) -> None:
    static = static_of(work)
    entering.enter_text(work, static, "62")
    work.by = "CD"
    entering.enter_text(work, static, "64")
    work.undo()
    told = cell_history(work, static)
    assert [(one.was, one.became, one.who) for one in told] == [
        ("64 psi", "62 psi", "CD"),
        ("62 psi", "64 psi", "CD"),
        (BLANK, "62 psi", "AB"),
    ]
    assert {one.laptop for one in told} == {"this laptop"}
    assert all(one.when[4] == "-" and one.when[13] == ":" for one in told)


def test_the_display_units_are_those_of_the_property(work: Work) -> None:
    entering.enter_text(work, static_of(work), "62")
    entering.enter_text(work, At("job", work.job_id, "units"), "metric")
    assert turns(work, static_of(work)) == [(BLANK, "4.27 bar")]


def test_a_cell_beside_the_one_that_changed_has_no_history(work: Work) -> None:
    entering.enter_text(work, static_of(work), "62")
    assert turns(work, At("supply", once_id(work.job_id, "supply"), "meter_size")) == []


def test_links_are_told_as_the_line_they_lead_to(work: Work) -> None:
    zone = rows.add_zone(work)
    box = rows.add_box(work)
    at = At("valve", valve_id(zone), "box_id")
    entering.enter(work, at, box, {"zone_id": zone, "kind": "zone"})
    assert turns(work, at) == [(BLANK, "valve box A")]
    rows.remove_row(work, "valve_box", box)
    assert turns(work, at)[0] == ("a valve box since removed", BLANK)


def test_a_line_that_was_removed_and_came_back(work: Work) -> None:
    zone = rows.add_zone(work)
    run = rows.repeat_run(work, zone)
    at = At("pipe_run", run, "length_ft")
    entering.enter_text(work, at, "20")
    rows.remove_row(work, "pipe_run", run)
    work.undo()
    assert turns(work, at) == [(REMOVED, "20 ft"), ("20 ft", REMOVED), (BLANK, "20 ft")]


def test_a_wire_moved_to_another_colour(work: Work) -> None:
    zone = rows.add_zone(work)
    log_wires.set_conductors(work, rows.add_cable(work), "white, red, blue")
    at = At("valve", valve_id(zone), "colour")
    for colour in ("red", "blue"):
        log_wires.log_wire(work, at, colour, "", {"zone_id": zone, "kind": "zone"})
    assert turns(work, at) == [("red", "blue"), (BLANK, "red")]
