"""Five years of one property: installed, handed over, opened, repaired, closed, tested again.

Nothing that a visit changes asks for a signature of the installation again, and every visit can be
found, read and printed years later. Common practice, no source for the order of the visits.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date, datetime
from pathlib import Path

import time_machine
from builders import all_signed, sound_job
from click.testing import CliRunner
from PIL import Image
from two_books import all_entries

from fieldbook.actions import cells, rows
from fieldbook.actions.board.board import Board
from fieldbook.actions.files.attach import attach
from fieldbook.actions.job_files import export_text, import_bytes
from fieldbook.actions.log_wires import log_wire
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import set_initials
from fieldbook.actions.visits import visiting
from fieldbook.checks.finding import CellRef
from fieldbook.checks.next_step import next_step
from fieldbook.checks.progress.deadlines import nearest_deadline
from fieldbook.checks.progress.standing import standings
from fieldbook.checks.service.visit_summary import visit_summaries
from fieldbook.cli.main import main
from fieldbook.jobfile.write import write_job
from fieldbook.records.ids import season_work_id
from fieldbook.store.book import Book

ASKED_AGAIN = {"changed after sign-off", "sign-off no longer met", "visit not after handover"}


@contextmanager
def on(day: str) -> Iterator[None]:
    """A day's morning."""
    with time_machine.travel(datetime.fromisoformat(f"{day}T09:00:00")):
        yield


def run(book: Path, *words: str) -> str:
    found = CliRunner().invoke(main, ["--book", str(book), *words])
    assert found.exit_code == 0, found.output
    return found.output


def installed(book: Book) -> OpenJob:
    """The property of the builders: every work signed on its day, handed over on 4 May 2026."""
    text = write_job(all_signed(sound_job())).encode("utf-8")
    with on("2026-05-06"):
        job = OpenJob(book, import_bytes(book, text, "AB").job_id, "AB")
        assert all(stands.proven for stands in standings(job.job, datetime.now().astimezone()))
        assert job.job.signed("close") is not None
    return job


class Visit:
    """One visit of the five years: started, worked on, ended."""

    def __init__(self, job: OpenJob, reason: str, found: str, next_due: str = "") -> None:
        self.job, self.id = job, visiting.start_visit(job, reason)
        self.put("visit", self.id, "found", found)
        for step in [one for one in job.job.visit_steps if one.visit_id == self.id]:
            cells.enter(job, CellRef("visit_step", step.id, "done"), True)
        if next_due:
            self.put("visit", self.id, "next_due", next_due)

    def put(self, table: str, row_id: str, column: str, text: str) -> None:
        cells.enter_text(self.job, CellRef(table, row_id, column), text)

    def season(self, *columns: str) -> None:
        """Tick what was shut or opened."""
        row_id = season_work_id(self.id)
        for column in columns:
            at = CellRef("season_work", row_id, column)
            cells.enter(self.job, at, True, {"visit_id": self.id})

    def retest(self) -> None:
        """Test the backflow assembly again, with the readings of its first test."""
        first = self.job.job.backflow_tests[0].values()
        left = ("id", "job_id", "entered_by", "entered_at")
        values = {name: value for name, value in first.items() if name not in left}
        rows.add_row(self.job, "backflow_test", **{**values, "tested_on": date.today().isoformat()})

    def end(self) -> None:
        """End it, and see that it asks for no signature."""
        visiting.end_visit(self.job)
        assert not {flag.code for flag in self.job.findings} & ASKED_AGAIN
        assert all(one.proven for one in standings(self.job.job, datetime.now().astimezone()))


def repaired(job: OpenJob) -> None:
    """The first summer: a head is replaced, and a wire put on another conductor at both ends."""
    visit = Visit(job, "repair", "Heron Lane side: a head leaks, zone 1 does not open")
    head = job.job.heads[0].id
    visit.put("head", head, "nozzle_gpm", "2.2")
    visit.put("head", head, "model", "R-12")
    zone = job.job.zones[0]
    valve = job.job.valve_of(zone.id)
    terminal = next(one for one in job.job.terminals if one.number == zone.number)
    assert valve is not None
    for table, row_id in (("valve", valve.id), ("terminal", terminal.id)):
        log_wire(job, CellRef(table, row_id, "colour"), "green", "")
    assert [one.code for one in job.findings if one.severity == "stop"] == []
    visiting.note_work(job, "valve", valve.id, "cleaned")
    visit.end()


def a_season(job: OpenJob, year: int, opened: str, closed: str) -> None:
    """A year: opened and tested in spring, closed before the frost."""
    with on(f"{year}-04-06"):
        visit = Visit(job, "start-up", f"{opened} at the opening", f"{year}-11-02")
        visit.season("far_open", "filled_slowly", "meter_still")
        visit.retest()
        visit.end()
        assert next_step(job.job, job.verdicts).sentence == f"Visit due {year}-11-02."
    with on(f"{year}-11-02"):
        visit = Visit(job, "winterising", f"{closed} at the closing", f"{year + 1}-04-06")
        visit.season("supply_shut")
        visit.end()


def lived(book: Book, photo: Path) -> OpenJob:
    """The property after all five years."""
    job = installed(book)
    with on("2026-06-10"):
        repaired(job)
    a_season(job, 2027, "quiet", "one lid cracked")
    with on("2028-07-03"):
        visit = Visit(job, "warranty", "coil of zone 2 burnt")
        valve = job.job.valve_of(job.job.zones[1].id)
        assert valve is not None
        visit.put("valve", valve.id, "coil_ohm", "33")
        change = next(one for one in job.job.visit_changes if one.of_column == "coil_ohm")
        cells.enter(job, CellRef("visit_change", change.id, "warranty"), True)
        attach(job, "visit", visit.id, str(photo), "the burnt coil")
        visit.end()
    a_season(job, 2030, "swifts under the eaves", "leaves everywhere")
    with on("2031-06-20"):
        visit = Visit(job, "mid-season", "lawn longer, one more head wanted")
        run_id = rows.repeat_run(job, job.job.zones[0].id)
        visit.put("pipe_run", run_id, "length_ft", "8")
        visit.end()
    return job


def test_five_years_of_one_property(tmp_path: Path) -> None:
    photo, path, out = tmp_path / "coil.png", tmp_path / "book.sqlite", tmp_path / "papers"
    Image.new("RGB", (8, 8), "brown").save(photo)
    with Book(path) as book:
        set_initials(book, "AB")
        job = lived(book, photo)
        with on("2031-06-21"):
            seen_by_the_office(book, job, tmp_path)
    with on("2031-06-21"):
        document = json.loads(run(path, "visits", "Elm", "--all", "--json"))
        assert len(document["visits"]) == 7
        assert [one["date"] for one in document["visits"]][::6] == ["2031-06-20", "2026-06-10"]
        what = {each["what"] for one in document["visits"] for each in one["changed"]}
        assert {"replaced", "re-terminated", "cleaned", "adjusted", "added"} <= what
        run(path, "papers", "Elm", str(out), "--only", "visit-report", "--only", "handover-packet")
    reports = sorted(out.glob("*-visit-report-*.html"))
    assert len(reports) == 7
    assert "Heron Lane" in reports[0].read_text("utf-8")
    packet = next(out.glob("*-handover-packet.html")).read_text("utf-8")
    assert "changed on the visit of 2026-06-10" in packet
    assert "changed since" not in packet


def seen_by_the_office(book: Book, job: OpenJob, tmp_path: Path) -> None:
    """Every visit is found by what was found on it; another laptop and a copy are as quiet."""
    board = Board(book)
    board.all_rows()
    for one in visit_summaries(job.job):
        assert board.find(one.visit.found).window(0, 7)[0].job_id == job.job_id, one.title
    due = nearest_deadline(job.job, date.today())
    assert due is not None
    assert due.on.year >= 2031
    text = export_text(book, job.job_id).encode("utf-8")
    with Book(tmp_path / "other.sqlite") as other, Book(tmp_path / "copy.sqlite") as copied:
        other.receive(all_entries(book), "the other")
        copy_id = import_bytes(copied, text, "CD", copy=True).job_id
        for again in (OpenJob(other, job.job_id, "CD"), OpenJob(copied, copy_id, "CD")):
            assert len(again.job.visits) == 7
            assert not {flag.code for flag in again.findings} & ASKED_AGAIN
            assert all(one.proven for one in standings(again.job, datetime.now().astimezone()))
