"""Undo and redo of every entry, across restarts."""

from __future__ import annotations

import json
import tempfile
from contextlib import suppress
from pathlib import Path

import pytest
from examples import examples
from hypothesis import given
from hypothesis import strategies as st

from fieldbook.actions import cells as entering
from fieldbook.actions import log_wires, rows
from fieldbook.actions import signing as proofs
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import bring_back, new_property, remove_property
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.finding import CellRef
from fieldbook.jobfile.write import write_job
from fieldbook.records.ids import once_id, valve_id
from fieldbook.store.book import Book


def begun(book: Book) -> OpenJob:
    """A property with two zones and a cable."""
    open_job = OpenJob(book, new_property(book, "12 Elm Street", "AB"), "AB")
    rows.add_zone(open_job)
    rows.add_zone(open_job)
    log_wires.set_conductors(open_job, rows.add_cable(open_job), "white, red, blue, green")
    return open_job


def state(open_job: OpenJob) -> str:
    """All that was entered, without who and when, and which sign-offs count.

    A sign-off is never taken away: undo adds a row that withdraws it.
    """
    job = open_job.book.load(open_job.job_id)
    held = json.loads(write_job(job))
    kinds = {(one["kind"], one.get("zone_id")) for one in held.pop("sign_offs", [])}
    lines = json.dumps(held, indent=1).splitlines()
    kept = [line for line in lines if '"entered_' not in line and '"signed_at' not in line]
    signed = sorted(f"{kind} {zone}" for kind, zone in kinds if job.signed(kind, zone))
    return "\n".join([*kept, *signed])


def do(open_job: OpenJob, number: int) -> None:
    """Do one of a dozen things that a crew does, chosen by a number."""
    job = open_job.job
    zone = job.zones[number % len(job.zones)] if job.zones else None
    at = CellRef("supply", once_id(open_job.job_id, "supply"), "static_psi")
    choice = number % 12
    if choice == 0:
        entering.enter_text(open_job, at, str(40 + number % 30))
    elif choice == 1:
        rows.add_zone(open_job)
    elif choice == 2 and zone is not None:
        log_wires.log_wire(
            open_job,
            CellRef("valve", valve_id(zone.id), "colour"),
            ("red", "blue", "green")[number % 3],
            job.cables[0].id if job.cables else "",
            {"zone_id": zone.id, "kind": "zone"},
        )
    elif choice == 3 and zone is not None:
        proofs.tick_flush(open_job, zone.id)
    elif choice == 4:
        override = proofs.Override("A. Foreman", "a test")
        proofs.sign_backfill(open_job, zone.id if zone is not None else None, override)
    elif choice in (5, 6):
        rows.repeat_run(open_job, zone.id if zone is not None and choice == 5 else None)
    elif choice == 7 and zone is not None:
        with suppress(RefusedError):  # What was signed over stays.
            rows.remove_row(open_job, "zone", zone.id)
    elif choice == 8 and job.pipe_runs:
        rows.remove_row(open_job, "pipe_run", job.pipe_runs[number % len(job.pipe_runs)].id)
    elif choice == 9 and job.cables:
        log_wires.set_conductors(open_job, job.cables[0].id, "white, red, black")
    elif choice == 10 and job.cables:
        rows.remove_row(open_job, "cable", job.cables[0].id)
    else:
        entering.enter_text(
            open_job, CellRef("job", open_job.job_id, "customer"), f"Customer {number}"
        )


def undo_all(open_job: OpenJob, least: int) -> list[str]:
    """Undo until `least` acts are left; return the state after each."""
    seen = []
    while open_job.book.count_undoable(open_job.job_id) > least:
        open_job.undo()
        seen.append(state(open_job))
    return seen


@examples(12)
@given(st.lists(st.integers(0, 500), max_size=12))
def test_undo_goes_back_through_every_state_and_redo_forward(numbers: list[int]) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "book.sqlite"
        with Book(path) as book:
            open_job = begun(book)
            least = book.count_undoable(open_job.job_id)
            states = [state(open_job)]
            for number in numbers:
                before = book.count_undoable(open_job.job_id)
                do(open_job, number)
                if book.count_undoable(open_job.job_id) > before:
                    states.append(state(open_job))
            job_id = open_job.job_id
        with Book(path) as book:
            open_job = OpenJob(book, job_id, "CD")
            assert undo_all(open_job, least) == states[-2::-1]
            for wanted in states[1:]:
                open_job.redo()
                assert state(open_job) == wanted


def test_undo_and_redo_name_the_entry(book: Book) -> None:
    open_job = begun(book)
    entering.enter_text(
        open_job, CellRef("supply", once_id(open_job.job_id, "supply"), "static_psi"), "62"
    )
    assert open_job.undo() == "static pressure 62 psi"
    assert open_job.job.supply is None
    assert open_job.redo() == "static pressure 62 psi"
    assert open_job.job.supply is not None
    assert open_job.job.supply.static_psi == 62


def test_undo_never_removes_the_property_itself(book: Book) -> None:
    open_job = OpenJob(book, new_property(book, "12 Elm Street", "AB"), "AB")
    with pytest.raises(RefusedError, match="Nothing more to undo"):
        open_job.undo()
    with pytest.raises(RefusedError, match="Nothing to put back"):
        open_job.redo()


def test_a_new_entry_ends_what_can_be_redone(book: Book) -> None:
    open_job = begun(book)
    open_job.undo()
    rows.add_zone(open_job)
    with pytest.raises(RefusedError, match="Nothing to put back"):
        open_job.redo()


def test_undo_of_one_property_leaves_the_other_alone(book: Book) -> None:
    first, second = begun(book), begun(book)
    before = state(first)
    second.undo()
    assert state(first) == before


def test_a_removed_property_comes_back_whole(book: Book) -> None:
    open_job = begun(book)
    before = state(open_job)
    remove_property(book, open_job.job_id, "AB")
    assert book.jobs() == []
    assert bring_back(book, "AB") == open_job.job_id
    assert state(OpenJob(book, open_job.job_id, "AB")) == before
    with pytest.raises(RefusedError, match="No removed property"):
        bring_back(book, "AB")
