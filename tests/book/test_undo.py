"""Undo of every entry, put back again, across restarts."""

from __future__ import annotations

import json
import tempfile
from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fieldbook.actions import cells as entering
from fieldbook.actions import log_wires, rows
from fieldbook.actions import signing as proofs
from fieldbook.actions.open_job import RefusedError, Work
from fieldbook.actions.properties import bring_back, new_property, remove_property
from fieldbook.checks.finding import At
from fieldbook.jobfile.write import write_job
from fieldbook.records.loaded_job import once_id, valve_id
from fieldbook.store.book import Book


def begun(book: Book) -> Work:
    """A property with two zones and a cable."""
    work = Work(book, new_property(book, "12 Elm Street", "AB"), "AB")
    rows.add_zone(work)
    rows.add_zone(work)
    log_wires.set_conductors(work, rows.add_cable(work), "white, red, blue, green")
    return work


def state(work: Work) -> str:
    """All that was entered, without who and when, and which sign-offs count.

    A sign-off is never taken away: undo adds a row that withdraws it.
    """
    job = work.book.load(work.job_id)
    held = json.loads(write_job(job))
    kinds = {(one["kind"], one.get("zone_id")) for one in held.pop("sign_offs", [])}
    lines = json.dumps(held, indent=1).splitlines()
    kept = [line for line in lines if '"entered_' not in line and '"signed_at' not in line]
    signed = sorted(f"{kind} {zone}" for kind, zone in kinds if job.signed(kind, zone))
    return "\n".join([*kept, *signed])


def do(work: Work, number: int) -> None:
    """One of a dozen things a crew does, chosen by a number."""
    job = work.job
    zone = job.zones[number % len(job.zones)] if job.zones else None
    at = At("supply", once_id(work.job_id, "supply"), "static_psi")
    choice = number % 12
    if choice == 0:
        entering.enter_text(work, at, str(40 + number % 30))
    elif choice == 1:
        rows.add_zone(work)
    elif choice == 2 and zone is not None:
        log_wires.log_wire(
            work,
            At("valve", valve_id(zone.id), "colour"),
            ("red", "blue", "green")[number % 3],
            job.cables[0].id if job.cables else "",
            {"zone_id": zone.id, "kind": "zone"},
        )
    elif choice == 3 and zone is not None:
        proofs.tick_flush(work, zone.id)
    elif choice == 4:
        override = proofs.Override("A. Foreman", "a test")
        proofs.sign_backfill(work, zone.id if zone is not None else None, override)
    elif choice in (5, 6):
        rows.repeat_run(work, zone.id if zone is not None and choice == 5 else None)
    elif choice == 7 and zone is not None:
        with suppress(RefusedError):  # What was signed over stays.
            rows.remove_row(work, "zone", zone.id)
    elif choice == 8 and job.pipe_runs:
        rows.remove_row(work, "pipe_run", job.pipe_runs[number % len(job.pipe_runs)].id)
    elif choice == 9 and job.cables:
        log_wires.set_conductors(work, job.cables[0].id, "white, red, black")
    elif choice == 10 and job.cables:
        rows.remove_row(work, "cable", job.cables[0].id)
    else:
        entering.enter_text(work, At("job", work.job_id, "customer"), f"Customer {number}")


def undo_all(work: Work, least: int) -> list[str]:
    """Undo until `least` acts are left; the state after each."""
    seen = []
    while work.book.acts(work.job_id) > least:
        work.undo()
        seen.append(state(work))
    return seen


@settings(max_examples=25, deadline=None)
@given(st.lists(st.integers(0, 500), max_size=12))
def test_whatever_was_done_undo_goes_back_through_every_state(numbers: list[int]) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "book.sqlite"
        with Book(path) as book:
            work = begun(book)
            least = book.acts(work.job_id)
            states = [state(work)]
            for number in numbers:
                before = book.acts(work.job_id)
                do(work, number)
                if book.acts(work.job_id) > before:
                    states.append(state(work))
            job_id = work.job_id
        with Book(path) as book:
            work = Work(book, job_id, "CD")
            assert undo_all(work, least) == states[-2::-1]
            for wanted in states[1:]:
                work.redo()
                assert state(work) == wanted


def test_undo_says_what_it_took_back_and_redo_what_it_put_back(book: Book) -> None:
    work = begun(book)
    entering.enter_text(work, At("supply", once_id(work.job_id, "supply"), "static_psi"), "62")
    assert work.undo() == "static pressure 62 psi"
    assert work.job.supply is None
    assert work.redo() == "static pressure 62 psi"
    assert work.job.supply is not None
    assert work.job.supply.static_psi == 62


def test_the_property_itself_is_never_undone_from_inside(book: Book) -> None:
    work = Work(book, new_property(book, "12 Elm Street", "AB"), "AB")
    with pytest.raises(RefusedError, match="Nothing more to undo"):
        work.undo()
    with pytest.raises(RefusedError, match="Nothing to put back"):
        work.redo()


def test_something_new_ends_what_can_be_put_back(book: Book) -> None:
    work = begun(book)
    work.undo()
    rows.add_zone(work)
    with pytest.raises(RefusedError, match="Nothing to put back"):
        work.redo()


def test_undo_of_one_property_leaves_the_other(book: Book) -> None:
    first, second = begun(book), begun(book)
    before = state(first)
    second.undo()
    assert state(first) == before


def test_a_removed_property_comes_back_whole(book: Book) -> None:
    work = begun(book)
    before = state(work)
    said = remove_property(book, work.job_id, "AB")
    assert "12 Elm Street" in said
    assert book.jobs() == []
    assert bring_back(book, "AB") == work.job_id
    assert state(Work(book, work.job_id, "AB")) == before
    with pytest.raises(RefusedError, match="No removed property"):
        bring_back(book, "AB")
