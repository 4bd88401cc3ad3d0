"""Visits in the book: started, changed on, undone, removed, exchanged, imported, printed."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import datetime
from pathlib import Path

import pytest
import time_machine
from builders import all_signed, sound_job
from click.testing import CliRunner
from seasons.season_jobs import closed, handed_over
from two_books import all_entries

from fieldbook.actions import cells, rows
from fieldbook.actions.board.board import Board
from fieldbook.actions.conflicts import settling
from fieldbook.actions.job_files import export_text, import_bytes
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.actions.visits import visiting
from fieldbook.checks.common.naming import zone_name
from fieldbook.checks.finding import CellRef
from fieldbook.checks.next_step import next_step
from fieldbook.checks.service.visit_summary import visit_summaries
from fieldbook.cli.main import main
from fieldbook.jobfile.write import write_job
from fieldbook.store.book import Book

CHANGED, ON_A_VISIT = "changed after sign-off", "changed on a visit"
NOT_PROVEN = {CHANGED, "sign-off no longer met", "sign-off unproven"}


@pytest.fixture(autouse=True)
def _a_day_in_july() -> Iterator[None]:
    """Two months after the handover of the builders' property."""
    with time_machine.travel(datetime(2026, 7, 6, 9, 30)):
        yield


def opened(book: Book, by: str = "AB") -> OpenJob:
    """The sound property of the builders, handed over and closed, taken in from its job file."""
    text = write_job(all_signed(sound_job()))
    return OpenJob(book, import_bytes(book, text.encode("utf-8"), by).job_id, by)


def head(job: OpenJob, column: str = "nozzle_gpm") -> CellRef:
    return CellRef("head", job.job.heads[0].id, column)


def flags(job: OpenJob) -> set[str]:
    return {flag.code for flag in job.findings}


def changed(job: OpenJob) -> list[tuple[str, str, str]]:
    """Column, before and after of each change of the newest visit."""
    return [(one.column, one.before, one.after) for one in visit_summaries(job.job)[0].changes]


def test_a_visit_has_its_usual_steps_and_lists_what_is_changed_by_itself(book: Book) -> None:
    job = opened(book)
    visit_id = visiting.start_visit(job, "repair")
    (visit,) = job.job.visits
    assert (visit.id, visit.held_on, visit.reason) == (visit_id, "2026-07-06", "repair")
    assert [step.number for step in job.job.visit_steps] == [1, 2, 3, 4, 5, 6]
    cells.enter_text(job, head(job), "2.5")
    cells.enter_text(job, head(job), "3")
    assert changed(job) == [("Nozzle flow", "2 gpm", "3 gpm")]
    assert not flags(job) & NOT_PROVEN
    assert ON_A_VISIT in flags(job)
    assert "changed on the visit" not in next_step(job.job, job.verdicts).sentence


def test_without_a_visit_the_change_is_one_after_the_sign_off(book: Book) -> None:
    job = opened(book)
    cells.enter_text(job, head(job), "3")
    assert CHANGED in flags(job)
    visiting.start_visit(job, "repair")
    assert CHANGED in flags(job)
    cells.enter_text(job, head(job), "2")
    assert CHANGED not in flags(job)


def test_after_a_visit_has_ended_and_a_week_later_changes_are_of_no_visit(book: Book) -> None:
    job = opened(book)
    visiting.start_visit(job, "repair")
    visiting.end_visit(job)
    with pytest.raises(RefusedError, match="No visit is under way"):
        visiting.end_visit(job)
    cells.enter_text(job, head(job), "3")
    assert CHANGED in flags(job)
    job.undo()
    visiting.start_visit(job, "repair")
    assert len(job.job.visits) == 1
    for day, of_visit in ((13, True), (14, False)):
        with time_machine.travel(datetime(2026, 7, day, 9, 30)):
            cells.enter_text(job, head(job), "3")
            assert (CHANGED not in flags(job)) is of_visit
            job.undo()


def test_undo_takes_back_the_change_and_what_the_visit_kept_of_it(book: Book) -> None:
    job = opened(book)
    visiting.start_visit(job, "repair")
    before = job.job
    cells.enter_text(job, head(job), "3")
    rows.remove_row(job, "pipe_run", job.job.runs_of(job.job.zones[0].id)[-1].id)
    assert len(job.job.visit_changes) > 1
    assert not flags(job) & NOT_PROVEN
    job.undo()
    job.undo()
    assert job.job.visit_changes == ()
    assert [one.nozzle_gpm for one in job.job.heads] == [one.nozzle_gpm for one in before.heads]
    job.redo()
    assert changed(job) == [("Nozzle flow", "2 gpm", "3 gpm")]


def test_a_removed_visit_shows_its_changes_as_such_until_undo_brings_it_back(book: Book) -> None:
    job = opened(book)
    visit_id = visiting.start_visit(job, "warranty")
    cells.enter_text(job, head(job), "3")
    held = job.job
    rows.remove_row(job, "visit", visit_id)
    assert (job.job.visits, job.job.visit_steps, job.job.visit_changes) == ((), (), ())
    assert CHANGED in flags(job)
    job.undo()
    assert job.job.visits == held.visits
    assert job.job.visit_steps == held.visit_steps
    assert job.job.visit_changes == held.visit_changes
    assert not flags(job) & NOT_PROVEN


def test_work_that_changes_no_cell_is_noted_on_its_thing(book: Book) -> None:
    job = opened(book)
    valve = job.job.valves[0].id
    with pytest.raises(RefusedError, match="start one at the service"):
        visiting.note_work(job, "valve", valve, "cleaned")
    visit_id = visiting.start_visit(job, "mid-season")
    with pytest.raises(RefusedError, match="Move to the row of a thing"):
        visiting.note_work(job, "visit", visit_id, "cleaned")
    thing = visiting.note_work(job, "valve", valve, "cleaned")
    assert visit_summaries(job.job)[0].changes[0].sentence == f"{thing}: cleaned"
    assert not flags(job) & {*NOT_PROVEN, ON_A_VISIT}


def test_what_another_program_changes_beside_a_visit_still_shows(tmp_path: Path) -> None:
    path = tmp_path / "book.sqlite"
    with Book(path) as book:
        job_id = (job := opened(book)).job_id
        visiting.start_visit(job, "repair")
        cells.enter_text(job, head(job), "3")
        other, mine = job.job.heads[1].id, job.job.heads[0].id
    for row_id, value in ((other, 5.0), (mine, 9.0)):
        with closing(sqlite3.connect(path)) as outside, outside:
            outside.execute("UPDATE head SET nozzle_gpm = ? WHERE id = ?", (value, row_id))
        with Book(path) as book:
            assert CHANGED in flags(OpenJob(book, job_id, "AB"))
        with closing(sqlite3.connect(path)) as outside, outside:
            back = 2.0 if row_id == other else 3.0
            outside.execute("UPDATE head SET nozzle_gpm = ? WHERE id = ?", (back, row_id))
        with Book(path) as book:
            assert not flags(OpenJob(book, job_id, "AB")) & NOT_PROVEN


@pytest.mark.parametrize("copy", [False, True])
def test_visits_come_with_a_job_file_and_cover_what_they_changed_there_too(
    book: Book, tmp_path: Path, copy: bool
) -> None:
    job = opened(book)
    visiting.start_visit(job, "repair")
    cells.enter_text(job, head(job), "3")
    zone, other = job.job.zones
    cells.enter(job, CellRef("valve", job.job.valves[0].id, "box_id"), rows.add_box(job))
    rows.remove_row(job, "pipe_run", job.job.runs_of(zone.id)[-1].id)
    rows.add_row(job, "backflow_test", assembly_id=job.job.backflow_assemblies[0].id)
    visiting.note_work(job, "pipe_run", job.job.runs_of(other.id)[0].id, "repaired")
    assert not flags(job) & NOT_PROVEN
    text = export_text(book, job.job_id).encode("utf-8")
    with Book(tmp_path / "other.sqlite") as there:
        again = OpenJob(there, import_bytes(there, text, "CD", copy=copy).job_id, "CD")
        assert not flags(again) & NOT_PROVEN
        assert ON_A_VISIT in flags(again)
        assert sorted(changed(again)) == sorted(changed(job))
        cells.enter_text(again, head(again), "2.5")
        assert ("Nozzle flow", "2 gpm", "2.5 gpm") in changed(again)
        things = {one.of_row for one in again.job.visit_changes if one.what == "repaired"}
        assert things == {again.job.runs_of(again.job.zones[1].id)[0].id}


def two_laptops(here: Book, there: Book) -> tuple[OpenJob, OpenJob]:
    job = opened(here)
    there.receive(all_entries(here), "here")
    return job, OpenJob(there, job.job_id, "CD")


def exchange(*jobs: OpenJob) -> None:
    for receiver, sender in (jobs, jobs[::-1]):
        receiver.book.receive(all_entries(sender.book), "the other")
        receiver.refresh()


def test_two_laptops_that_start_a_visit_on_a_day_hold_one_visit_with_all_of_both(
    tmp_path: Path,
) -> None:
    with Book(tmp_path / "a.sqlite") as a, Book(tmp_path / "b.sqlite") as b:
        here, there = two_laptops(a, b)
        for job, index, gpm in ((here, 0, "3"), (there, 1, "3.5")):
            visiting.start_visit(job, "start-up")
            step = job.job.visit_steps[index].id
            cells.enter(job, CellRef("visit_step", step, "done"), True)
            cells.enter_text(job, CellRef("head", job.job.heads[index].id, "nozzle_gpm"), gpm)
        exchange(here, there)
        for job in (here, there):
            (one,) = visit_summaries(job.job)
            assert one.who == "AB, CD"
            assert (one.steps_done, len(one.steps), len(one.changes)) == (2, 6, 2)
            assert job.job.conflicts == ()
            assert not flags(job) & NOT_PROVEN


@pytest.mark.parametrize("ended", [False, True])
@pytest.mark.parametrize("option", [1, 2])
def test_a_head_that_two_laptops_changed_on_a_visit_is_settled_as_a_change_of_it(
    tmp_path: Path, option: int, ended: bool
) -> None:
    with Book(tmp_path / "a.sqlite") as a, Book(tmp_path / "b.sqlite") as b:
        here, there = two_laptops(a, b)
        for job, gpm in ((here, "3"), (there, "3.5")):
            visiting.start_visit(job, "repair")
            cells.enter_text(job, head(job), gpm)
        exchange(here, there)
        if ended:
            visiting.end_visit(here)
        questions = [one for one in settling.questions_of(here) if one.at.table == "head"]
        settling.choose(here, questions[0], option)
        exchange(here, there)
        for job in (here, there):
            assert job.job.conflicts == ()
            assert not flags(job) & NOT_PROVEN
            assert len(job.job.visit_changes) == 1


def run(path: Path, *options: str) -> str:
    """What the command prints of the property."""
    found = CliRunner().invoke(main, ["--book", str(path), "visits", "Elm", *options])
    assert found.exit_code == 0, found.output
    return found.output


def test_the_command_prints_every_visit_also_as_json(tmp_path: Path) -> None:
    path = tmp_path / "book.sqlite"
    with Book(path) as book:
        job = opened(book)
        visit_id = visiting.start_visit(job, "repair")
        at = CellRef("visit", visit_id, "found")
        cells.enter_text(job, at, "Zone 2 waters the drive")
        cells.enter_text(job, CellRef("visit", visit_id, "next_due"), "2027-04-01")
        cells.enter(job, CellRef("visit", visit_id, "next_reason"), "start-up")
        cells.enter_text(job, head(job), "3")
        cells.enter(job, CellRef("head", head(job).row_id, "regulated_psi"), None)
        assert next_step(job.job, job.verdicts).sentence == "Visit due 2027-04-01, start-up."
        board = Board(book)
        board.all_rows()
        where = board.find("waters drive").where(job.job_id)
        assert where.startswith("visit found: Zone 2 waters the drive")
        # Beside the open book, as beside the open app.
        said = run(path)
    for words in ("2026-07-06, repair", "Found: Zone 2 waters the drive", "2 gpm, then 3 gpm"):
        assert words in said
    document = json.loads(run(path, "--json"))
    assert (document["next_due"], document["left_out"]) == ("2027-04-01", 0)
    (one,) = document["visits"]
    assert (one["date"], one["reason"], one["who"], one["ended"]) == (
        *("2026-07-06", "repair", "AB"),
        False,
    )
    first = next(each for each in one["changed"] if each["column"] == "nozzle_gpm")
    assert (first["what"], first["before"], first["after"]) == ("replaced", "2 gpm", "3 gpm")
    with Book(path) as book:
        job = OpenJob(book, job.job_id, "AB")
        for month in range(1, 7):
            rows.add_row(job, "visit", held_on=f"2027-{month:02}-01")
    few = CliRunner().invoke(main, ["--book", str(path), "visits", "Elm"]).output
    assert "2 older: --all prints every visit." in few
    assert (
        "2026-07-06"
        in CliRunner().invoke(main, ["--book", str(path), "visits", "Elm", "--all"]).output
    )


def test_what_was_closed_is_read_stretch_by_stretch() -> None:
    (visit,) = visit_summaries(closed())
    system, *stretches = visit.readings
    assert system.startswith("the system: Water shut yes, Breaker removed yes, ")
    names = ["the mainline", zone_name(handed_over().zones[0])]
    assert stretches == [f"{name}: Emptied yes" for name in names]
