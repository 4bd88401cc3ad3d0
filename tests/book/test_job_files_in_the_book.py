"""Job files in and out of the book; the demo properties have exactly the faults they state."""

from __future__ import annotations

import json
from datetime import date, datetime, time
from pathlib import Path

import pytest

from fieldbook.actions import rows
from fieldbook.actions.board.board import Board
from fieldbook.actions.job_files import export_text, import_bytes, import_file
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import demo_files, fill_demo, new_property
from fieldbook.actions.refused import RefusedError, write_new
from fieldbook.actions.signing import sign_off
from fieldbook.checks.next_step import next_step
from fieldbook.checks.progress.deadlines import dates_of
from fieldbook.checks.progress.holds import BACKFILL, SIGN_OFFS
from fieldbook.checks.progress.standing import standings
from fieldbook.checks.registry import verdicts
from fieldbook.jobfile.parse import JobFileError
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.store.book import Book

DAY = date(2026, 11, 26)
"""After the last entry of a demo property, and before a test or paper in it runs out."""
FAULTS = {
    "alder_lane": set(),
    "juniper_court": {
        ("note", "service", "The visit of 2024-07-16 changed what was signed over: "),
        ("note", "service", "The visit of 2026-04-14 changed what was signed over: "),
    },
    "quarry_road": {("stop", "ground", "Zone 2 (orchard) draws 17 gpm, but the velocity limit")},
    "mill_street": {
        ("stop", "controller", "Yellow in cable 1 is used twice at the controller"),
        ("stop", "controller", "Terminals 2 and 3 look swapped"),
    },
    "birch_terrace": {("stop", "street", "The PVB (beside the terrace) stands 150 mm over the")},
    "harbor_view": {
        ("stop", "ground", "The backfill of zone 2 (lee side) is signed, but nothing of its flush"),
        ("stop", "controller", "The controller hangs outdoors but is not made for outdoors"),
        (
            "fix",
            "ground",
            "The backfill of zone 2 (lee side), signed by KD on 2026-10-19, overrid",
        ),
    },
}
"""The faults that the notes of each demo property state, as the checks should find them."""
OPEN = {
    "alder_lane": [],
    "juniper_court": [],
    "quarry_road": [],
    "mill_street": ["ohms of zone 5 (herb beds)"],
    "birch_terrace": [],
    "harbor_view": ["flush of zone 2 (lee side)"],
}
"""What each lacks that is due: only what belongs to its faults."""


def demo_file(name: str) -> Path:
    """One demo file by its stem."""
    return next(path for path in demo_files() if path.stem == name)


def test_there_are_demo_files_at_different_stages() -> None:
    assert {path.stem for path in demo_files()} == set(FAULTS)
    assert len(FAULTS) >= 4


@pytest.mark.parametrize("name", sorted(FAULTS))
def test_a_demo_property_has_exactly_the_faults_it_states(book: Book, name: str) -> None:
    file = import_file(book, demo_file(name), "AB")
    open_job = OpenJob(book, file.job_id, "AB")
    wanted = set(FAULTS[name])
    answers = verdicts(open_job.job, DAY)
    assert [one.thing for one in answers.not_checked] == OPEN[name]
    for flag in answers.flags:
        match = [one for one in wanted if flag.sentence.startswith(one[2])]
        assert match, flag.sentence
        assert (flag.severity, flag.place) == match[0][:2]
        wanted.remove(match[0])
    assert not wanted
    stated = " ".join(note.text for note in open_job.job.notes)
    faulty = any(severity != "note" for severity, _, _ in FAULTS[name])
    assert ("Wrong here:" in stated) == faulty
    assert ("nothing is wrong" in stated) == (not faulty)


@pytest.mark.parametrize("day", [DAY, date(2027, 6, 1), date(2029, 1, 1), date(2030, 12, 31)])
def test_a_property_in_service_stays_quiet_as_years_pass(book: Book, day: date) -> None:
    job = book.load(import_file(book, demo_file("juniper_court"), "AB").job_id)
    at = datetime.combine(day, time(9)).astimezone()
    answers = verdicts(job, at)
    assert {flag.severity for flag in answers.flags} == {"note"}
    assert not answers.not_checked
    kinds = [one.sign_off.kind for one in standings(job, at) if one.proven]
    assert {*SIGN_OFFS, BACKFILL} == set(kinds)
    assert len(kinds) == len(job.sign_offs)
    assert [one.thing for one in dates_of(job, day) if one.on <= day] == []
    step = next_step(job, answers, day)
    assert (step.place, step.sentence) == ("service", "Visit due 2031-06-10, mid-season.")


@pytest.mark.parametrize("name", sorted(FAULTS))
def test_export_import_export_is_the_same_to_the_byte(
    book: Book, tmp_path: Path, name: str
) -> None:
    first = export_text(book, import_file(book, demo_file(name), "AB").job_id)
    with Book(tmp_path / "other.sqlite") as other:
        again = import_bytes(other, first.encode(), "CD")
        assert export_text(other, again.job_id) == first


def test_one_of_the_demo_properties_is_metric(book: Book) -> None:
    fill_demo(book)
    assert {job.units for job in book.jobs()} == {"us", "metric"}
    assert len(Board(book).all_rows()) == len(FAULTS)


def test_a_property_is_imported_twice_only_as_a_copy(book: Book) -> None:
    path = demo_file("alder_lane")
    first = import_file(book, path, "AB")
    with pytest.raises(RefusedError, match=r"in the book already: import with --copy"):
        import_file(book, path, "AB")
    copy = import_file(book, path, "AB", copy=True)
    assert copy.job_id != first.job_id
    assert len(book.jobs()) == 2
    answers = verdicts(book.load(copy.job_id), DAY)
    assert [flag.code for flag in answers.flags] == ["address twice"]
    assert answers.not_checked == ()


def test_a_property_that_was_handed_over_can_be_imported_again(book: Book, tmp_path: Path) -> None:
    first = import_file(book, demo_file("alder_lane"), "AB")
    open_job = OpenJob(book, first.job_id, "AB")
    for kind in ("handover", "close"):
        assert sign_off(open_job, kind)
    text = export_text(book, first.job_id)
    copy = import_bytes(book, text.encode(), "AB", copy=True)
    with Book(tmp_path / "other.sqlite") as other:
        again = import_bytes(other, text.encode(), "CD")
        for held, job_id, noted in (
            (book, copy.job_id, ["address twice"]),
            (other, again.job_id, []),
        ):
            job = held.load(job_id)
            assert job.signed("handover") is not None
            assert job.signed("close") is not None
            answers = verdicts(job)
            assert [flag.code for flag in answers.flags] == noted
            assert answers.not_checked == ()
        assert export_text(other, again.job_id) == text


def test_a_bad_file_changes_nothing(book: Book) -> None:
    new_property(book, "12 Elm Street", "AB")
    held = json.loads(demo_file("alder_lane").read_text("utf-8"))
    held["heads"][-1]["nozzle_gpm"] = "lots"
    before = book.path.read_bytes()
    with pytest.raises(JobFileError, match=r"heads\[\d+\]\.nozzle_gpm"):
        import_bytes(book, json.dumps(held).encode(), "AB")
    assert book.path.read_bytes() == before


def test_a_file_that_cannot_be_read_is_named(book: Book, tmp_path: Path) -> None:
    with pytest.raises(RefusedError, match=r"nowhere\.json can't be read"):
        import_file(book, tmp_path / "nowhere.json", "AB")
    with pytest.raises(RefusedError, match="can't be read"):
        import_file(book, tmp_path, "AB")
    huge = tmp_path / "huge.json"
    huge.write_bytes(b" " * 50_000_000)
    with pytest.raises(RefusedError, match=r"huge\.json: The file is 50 MB"):
        import_file(book, huge, "AB")


def test_a_file_is_written_whole_and_never_over_another(tmp_path: Path) -> None:
    path = tmp_path / "job.json"
    write_new(path, "one")
    with pytest.raises(RefusedError, match="is there already"):
        write_new(path, "two")
    assert path.read_text() == "one"
    write_new(path, "two", over=True)
    assert path.read_text() == "two"
    assert [one.name for one in tmp_path.iterdir()] == ["job.json"]
    with pytest.raises(RefusedError, match="can't be written"):
        write_new(tmp_path / "no folder" / "job.json", "three")


def test_the_board_is_checked_again_only_after_an_entry(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    fill_demo(book)
    board = Board(book)
    before = {line.address: line for line in board.all_rows()}
    line = before["14 Alder Lane"]
    assert (line.zones, line.flags) == (line.flushed, "-")
    assert before["31 Mill Street"].flags == "2 stops"
    open_job = OpenJob(book, line.job_id, "AB")
    from fieldbook.actions.signing import tick_flush

    tick_flush(open_job, open_job.job.zones[0].id)
    loaded: list[str] = []
    load = book.load

    def counted(job_id: str) -> LoadedJob:
        loaded.append(job_id)
        return load(job_id)

    monkeypatch.setattr(book, "load", counted)
    after = {one.address: one for one in board.all_rows()}
    assert after["14 Alder Lane"].flushed == line.flushed - 1
    assert loaded == [line.job_id]
    assert after["31 Mill Street"] == before["31 Mill Street"]
    assert Board(book).all_rows() == list(after.values())
    assert loaded == [line.job_id]
    assert len(board.find("mill")) == 1
    assert len(board.find("mill alder")) == 0


def test_the_board_shows_a_flag_from_the_day_that_makes_it(book: Book) -> None:
    fill_demo(book)
    job = next(one for one in book.jobs() if "Alder" in one.address)
    open_job = OpenJob(book, job.id, "AB")
    row_id = rows.add_row(open_job, "crew_member", name="T. Gauge", expires_on="2027-03-10")

    def flags(day: date) -> str:
        lines = Board(book).all_rows(day)
        return next(line.flags for line in lines if line.job_id == job.id)

    assert flags(date(2027, 1, 1)) == "-"
    assert flags(date(2027, 3, 2)) == "-"
    assert flags(date(2027, 3, 3)) == "1 note"
    assert flags(date(2027, 3, 10)) == "1 note"
    assert flags(date(2027, 3, 11)) == "1 fix"
    rows.remove_row(open_job, "crew_member", row_id)
    assert flags(date(2027, 3, 11)) == "-"
