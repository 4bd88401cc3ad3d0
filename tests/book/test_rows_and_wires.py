"""Actions on rows, wires, ticks and initials, each through a real book."""

from __future__ import annotations

import pytest

from fieldbook.actions import cells, log_wires, rows, signing
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import new_property, set_initials
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.finding import CellRef
from fieldbook.records.base import new_id
from fieldbook.records.ids import backfill_id, head_id, terminal_id, valve_id
from fieldbook.store.book import Book


@pytest.fixture
def open_job(book: Book) -> OpenJob:
    return OpenJob(book, new_property(book, "12 Elm Street", "AB"), "AB")


def zones(open_job: OpenJob, count: int) -> list[str]:
    """Add zones; returns their ids."""
    return [rows.add_zone(open_job) for _ in range(count)]


def cable(open_job: OpenJob, colours: str) -> str:
    """Add a cable with these colours."""
    cable_id = rows.add_cable(open_job)
    log_wires.set_conductors(open_job, cable_id, colours)
    return cable_id


def test_a_new_zone_has_the_next_number_and_the_head_kind_of_the_last(open_job: OpenJob) -> None:
    (first,) = zones(open_job, 1)
    cells.enter_text(open_job, CellRef("zone", first, "head_kind"), "rotor")
    zones(open_job, 2)
    assert [(zone.number, zone.head_kind) for zone in open_job.job.zones] == [
        (1, "rotor"),
        (2, "rotor"),
        (3, "rotor"),
    ]


def test_boxes_get_the_next_letter_and_cables_the_next_number(open_job: OpenJob) -> None:
    for _ in range(27):
        rows.add_box(open_job)
    rows.add_cable(open_job)
    rows.add_cable(open_job)
    names = [box.name for box in open_job.job.valve_boxes]
    assert names[:2] == ["A", "B"]
    assert names[25:] == ["Z", "27"]
    assert [one.name for one in open_job.job.cables] == ["1", "2"]


def test_a_new_run_copies_the_last_run_and_its_sprinkler_head(open_job: OpenJob) -> None:
    (zone_id,) = zones(open_job, 1)
    run = rows.repeat_run(open_job, zone_id)
    for column, text in (("size", "3/4"), ("pipe_class", "pvc sch 40"), ("length_ft", "12")):
        cells.enter_text(open_job, CellRef("pipe_run", run, column), text)
    head = CellRef("head", head_id(run), "nozzle_gpm")
    cells.enter_text(open_job, head, "1.5", {"run_id": run})
    rows.repeat_run(open_job, zone_id)
    first, second = open_job.job.runs_of(zone_id)
    assert (second.number, second.after) == (2, first.number)
    assert (second.size, second.pipe_class, second.length_ft) == ("3/4", "pvc sch 40", 12.0)
    assert [one.nozzle_gpm for one in open_job.job.heads_of(zone_id)] == [1.5, 1.5]


def test_removing_a_run_connects_the_runs_around_it(open_job: OpenJob) -> None:
    (zone_id,) = zones(open_job, 1)
    for _ in range(3):
        rows.repeat_run(open_job, zone_id)
    middle = open_job.job.runs_of(zone_id)[1]
    rows.remove_row(open_job, "pipe_run", middle.id)
    assert [(run.number, run.after) for run in open_job.job.runs_of(zone_id)] == [(1, None), (3, 1)]


def test_removing_a_zone_removes_what_belongs_to_it_and_undo_restores_it(open_job: OpenJob) -> None:
    first, second = zones(open_job, 2)
    rows.repeat_run(open_job, first)
    signing.tick_flush(open_job, first)
    seed = {"zone_id": first}
    cells.enter(
        open_job, CellRef("backfill", backfill_id(open_job.job_id, first), "cover_in"), 14.0, seed
    )
    log_wires.log_wire(
        open_job, CellRef("valve", valve_id(first), "colour"), "red", "", {"zone_id": first}
    )
    held = {table: len(found) for table, found in open_job.job.tables().items()}
    rows.remove_row(open_job, "zone", first)
    left = {table: found for table, found in open_job.job.tables().items() if found}
    assert set(left) == {"zone"}
    assert [zone.id for zone in open_job.job.zones] == [second]
    open_job.undo()
    assert {table: len(found) for table, found in open_job.job.tables().items()} == held


def test_removing_a_box_clears_it_on_its_valves(open_job: OpenJob) -> None:
    (zone_id,) = zones(open_job, 1)
    box = rows.add_box(open_job)
    seed = {"zone_id": zone_id, "kind": "zone", "box_id": box}
    log_wires.log_wire(open_job, CellRef("valve", valve_id(zone_id), "colour"), "red", "", seed)
    rows.remove_row(open_job, "valve_box", box)
    (valve,) = open_job.job.valves
    assert (valve.colour, valve.box_id) == ("red", None)


@pytest.mark.parametrize(
    ("typed", "colours"),
    [
        ("white, red, blue", ["white", "red", "blue"]),
        ("white red blue", ["white", "red", "blue"]),
        ("red, white blue, unmarked 3", ["red", "white", "blue", "unmarked 3"]),
        ("white, red with black stripe", ["white", "red/black"]),
        ("", []),
    ],
)
def test_the_colours_of_a_cable_are_typed_as_one_list(
    open_job: OpenJob, typed: str, colours: list[str]
) -> None:
    cable_id = cable(open_job, typed)
    assert [one.colour for one in open_job.job.conductors_of(cable_id)] == colours
    common = open_job.job.cables[0].common_colour
    assert common == ("white" if "white" in colours else None)


def test_typing_the_colours_again_keeps_the_rows_of_colours_that_stay(open_job: OpenJob) -> None:
    cable_id = cable(open_job, "white, red, blue")
    red = open_job.job.conductors_of(cable_id)[1].id
    log_wires.set_conductors(open_job, cable_id, "red, white, green")
    now = open_job.job.conductors_of(cable_id)
    assert [one.colour for one in now] == ["red", "white", "green"]
    assert now[0].id == red


def test_a_word_that_is_no_colour_is_named_in_the_refusal(open_job: OpenJob) -> None:
    cable_id = cable(open_job, "white, red")
    with pytest.raises(RefusedError, match="plaid"):
        log_wires.set_conductors(open_job, cable_id, "white, plaid")
    assert len(open_job.job.conductors_of(cable_id)) == 2


def test_only_free_conductors_are_offered_at_each_end(open_job: OpenJob) -> None:
    first, second = zones(open_job, 2)
    cable_id = cable(open_job, "white, red, blue")
    log_wires.log_wire(
        open_job, CellRef("valve", valve_id(first), "colour"), "red", cable_id, seed_of(first)
    )
    assert log_wires.free_at_box(open_job.job, cable_id) == ["blue"]
    assert log_wires.free_at_box(open_job.job, cable_id, but_for=valve_id(first)) == ["red", "blue"]
    assert log_wires.free_at_controller(open_job.job, cable_id) == ["white", "red", "blue"]
    at = CellRef("terminal", terminal_id(open_job.job_id, "zone", 2), "colour")
    log_wires.log_wire(open_job, at, "blue", cable_id, {"role": "zone", "number": 2})
    assert log_wires.free_at_controller(open_job.job, cable_id) == ["white", "red"]
    assert open_job.job.valve_of(second) is None


def seed_of(zone_id: str) -> dict[str, str | int | float | bool | None]:
    """The first columns of a zone's valve."""
    return {"zone_id": zone_id, "kind": "zone"}


@pytest.mark.parametrize(
    ("typed", "colour"), [("r", "red"), ("blu", "blue"), ("yellow", "yellow"), ("bl", None)]
)
def test_a_free_colour_is_typed_by_its_beginning(typed: str, colour: str | None) -> None:
    free = ["red", "blue", "black"]
    if colour is None:
        with pytest.raises(RefusedError, match="free here: red, blue, black"):
            log_wires.colour_seen(typed, free)
    else:
        assert log_wires.colour_seen(typed, free) == colour


def test_a_slip_of_one_key_is_not_taken_for_a_colour() -> None:
    with pytest.raises(RefusedError, match="no conductor listed is free"):
        log_wires.colour_seen("y", [])
    with pytest.raises(RefusedError, match="mauv"):
        log_wires.colour_seen("mauve", ["red"])


def test_all_steps_of_a_flush_are_ticked_or_cleared_at_once(open_job: OpenJob) -> None:
    (zone_id,) = zones(open_job, 1)
    assert signing.tick_flush(open_job, zone_id)
    assert signing.flushed(open_job.job, zone_id)
    assert not signing.tick_flush(open_job, zone_id)
    assert not signing.flushed(open_job.job, zone_id)
    open_job.undo()
    assert signing.flushed(open_job.job, zone_id)


def test_a_signature_records_who_and_when_and_can_be_withdrawn(open_job: OpenJob) -> None:
    (zone_id,) = zones(open_job, 1)
    proven(open_job, zone_id)
    assert signing.sign_backfill(open_job, zone_id)
    signed = open_job.job.backfill_of(zone_id)
    assert signed is not None
    assert (signed.id, signed.signed_by) == (backfill_id(open_job.job_id, zone_id), "AB")
    assert signed.signed_at
    assert not signing.sign_backfill(open_job, zone_id)
    assert [one.state for one in open_job.job.sign_offs] == ["signed", "withdrawn"]
    assert open_job.findings == ()


def proven(open_job: OpenJob, zone_id: str) -> None:
    """Record everything that the backfill of a zone waits for."""
    signing.tick_flush(open_job, zone_id)
    row_id = backfill_id(open_job.job_id, zone_id)
    cells.enter(open_job, CellRef("backfill", row_id, "cover_in"), 14.0, {"zone_id": zone_id})
    cells.enter(open_job, CellRef("backfill", row_id, "rock_free"), True, {"zone_id": zone_id})


def test_a_zone_with_a_sign_off_can_not_be_removed(open_job: OpenJob) -> None:
    (zone_id,) = zones(open_job, 1)
    proven(open_job, zone_id)
    signing.sign_backfill(open_job, zone_id)
    with pytest.raises(RefusedError, match="sign-offs are evidence"):
        rows.remove_row(open_job, "zone", zone_id)


def test_a_refused_value_leaves_the_old_one(open_job: OpenJob) -> None:
    at = CellRef("supply", new_id(), "static_psi")
    cells.enter_text(open_job, at, "62")
    for typed in ("high", "1-5", "9000", "62 gpm", "nan"):
        with pytest.raises(RefusedError, match=r"\.$"):
            cells.enter_text(open_job, at, typed)
    assert cells.value_at(open_job, at) == 62.0
    cells.enter_text(open_job, at, "")
    assert cells.value_at(open_job, at) is None


def test_a_tick_goes_through_yes_no_and_not_looked_at(open_job: OpenJob) -> None:
    box = rows.add_box(open_job)
    at = CellRef("valve_box", box, "on_base")
    assert [cells.turn_tick(open_job, at) for _ in range(4)] == [True, False, None, True]


def test_a_new_property_is_shown_in_the_units_of_the_last(book: Book) -> None:
    first = OpenJob(book, new_property(book, "12 Elm Street", "AB"), "AB")
    cells.enter_text(first, CellRef("job", first.job_id, "units"), "metric")
    assert OpenJob(book, new_property(book, "14 Elm Street", "AB"), "AB").system == "metric"


@pytest.mark.parametrize("typed", ["", "   ", "\x1b\u202e", "TOOLONGINITIALS", "∞¢f"])
def test_initials_must_be_letters_or_digits(book: Book, typed: str) -> None:
    with pytest.raises(RefusedError, match="initials"):
        set_initials(book, typed)
    assert book.laptop.initials() == "AB"


def test_initials_are_stored_in_capitals(book: Book) -> None:
    assert set_initials(book, " j k ") == "JK"
    assert book.laptop.initials() == "JK"


@pytest.mark.parametrize("address", ["", "  ", "\u202e\x00"])
def test_a_property_without_an_address_is_refused(book: Book, address: str) -> None:
    with pytest.raises(RefusedError, match="address"):
        new_property(book, address, "AB")
    assert book.jobs() == []
