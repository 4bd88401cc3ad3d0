"""Rule files beside the book, attached files, the day list, the plan: with a real book."""

from __future__ import annotations

import struct
import zlib
from datetime import date, datetime
from pathlib import Path

import pytest
from click.testing import CliRunner
from PIL import Image
from rich.cells import cell_len

from fieldbook.actions import rules
from fieldbook.actions.board.day_list import day_list
from fieldbook.actions.files import attach as files
from fieldbook.actions.files import photos
from fieldbook.actions.files.attached_files import state_of
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import fill_demo, new_property
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.common.job_rules import cover_minimum
from fieldbook.cli.main import main
from fieldbook.papers.site_plan.plan_picture import plan_lines
from fieldbook.papers.site_plan.plan_sheet import plan_svg
from fieldbook.store.attached import attached_path
from fieldbook.store.book import Book

TOWN = """name = "Springfield"
effective = 2026-01-01
[rules."cover_in.mainline"]
value = 20
source = "City code 15.01.840"
[rules."cover_in.lateral"]
value = 10
source = "City code 15.01.840"
[rules."backflow_retest_months"]
value = 36
source = "City code 15.01.850"
"""


@pytest.fixture
def alder(book: Book) -> OpenJob:
    """The sound demo property, open."""
    fill_demo(book)
    job = next(one for one in book.jobs() if "Alder" in one.address)
    return OpenJob(book, job.id, "AB")


def write_rules(book: Book, name: str, text: str) -> None:
    folder = book.path.parent / rules.FOLDER
    folder.mkdir(exist_ok=True)
    (folder / name).write_text(text, "utf-8")


def test_choosing_a_rule_set_copies_its_rules_and_undo_takes_them_back(alder: OpenJob) -> None:
    write_rules(alder.book, "springfield.toml", TOWN)
    own = [(row.key, row.value, row.set_name) for row in alder.job.rules]
    names = rules.known_sets(alder.book.path).names(date(2027, 1, 1))
    assert names[:3] == ["generic", "Springfield", "Alabama, locating only"]
    rules.choose_rules(alder, "Springfield")
    assert cover_minimum(alder.job, mainline=True).value == 20.0
    assert "cover too low" in [flag.code for flag in alder.findings]
    assert any("Springfield: City code" in flag.source for flag in alder.findings)
    assert alder.job.local_rules is not None
    assert alder.job.local_rules.rule_set == "Springfield"
    alder.undo()
    assert [(row.key, row.value, row.set_name) for row in alder.job.rules] == own
    assert alder.findings == ()
    alder.redo()
    rules.choose_rules(alder, "generic")
    assert alder.job.rules == ()


def test_comparing_with_another_rule_set_changes_nothing(alder: OpenJob) -> None:
    write_rules(alder.book, "springfield.toml", TOWN)
    before = alder.job
    found = rules.compare(alder, "Springfield")
    assert {one.label for one in found.differences} == {
        "Cover of the mainline",
        "Cover of laterals",
    }
    assert next((one.here, one.there) for one in found.differences) == ("12 in", "20 in")
    assert {flag.code for flag in found.come} == {"cover too low"}
    assert (found.go, found.opened, found.settled) == ((), (), ())
    assert alder.job is before
    (left,) = rules.compare(alder, "generic").differences
    assert (left.here, left.there) == ("36 months", "12 months")


def test_comparing_names_the_checks_that_another_rule_set_would_open(alder: OpenJob) -> None:
    inspected = '[rules."inspection_before_backfill"]\nvalue = true\nsource = "City code 3"\n'
    write_rules(alder.book, "springfield.toml", TOWN + inspected)
    found = rules.compare(alder, "Springfield")
    assert [one.thing for one in found.opened] == ["inspection before backfill"]
    rules.choose_rules(alder, "Springfield")
    back = rules.compare(alder, "generic")
    assert [one.thing for one in back.settled] == ["inspection before backfill"]
    assert back.opened == ()


def test_a_faulty_rule_file_is_reported_and_the_others_are_used(alder: OpenJob) -> None:
    write_rules(alder.book, "bad.toml", TOWN.replace("value = 20", "value = 900"))
    write_rules(alder.book, "springfield.toml", TOWN)
    known = rules.known_sets(alder.book.path)
    assert "Springfield" in known.names(date(2027, 1, 1))
    assert known.refused == ("bad.toml: Line 3: cover_in.mainline goes from 0 to 72 in, not 900.",)
    with pytest.raises(RefusedError, match="No rule set Shelbyville"):
        rules.choose_rules(alder, "Shelbyville")


def photo(path: Path) -> Path:
    """A photo with a time and a position."""
    image = Image.new("RGB", (64, 48), (200, 60, 40))
    exif = Image.Exif()
    exif.get_ifd(0x8769)[36867] = "2026:05:01 10:30:00"
    gps = exif.get_ifd(0x8825)
    gps.update({1: "N", 2: (40.0, 42.0, 46.08), 3: "W", 4: (74.0, 0.0, 21.6)})
    image.save(path, exif=exif)
    return path


def test_an_attached_photo_is_copied_and_its_time_and_position_are_read(
    alder: OpenJob, tmp_path: Path
) -> None:
    run = alder.job.pipe_runs[0]
    taken = photo(tmp_path / "trench [x].jpg")
    assert files.attach(alder, "pipe_run", run.id, f"'{taken}'") == "trench [x].jpg"
    (file,) = alder.job.attachments
    assert (file.of_table, file.of_row) == ("pipe_run", run.id)
    assert file.taken_at == "2026-05-01 10:30:00"
    assert file.position == "40.71280, -74.00600"
    kept = attached_path(alder.book.path, file.sha256)
    assert kept.read_bytes() == taken.read_bytes()
    assert kept.stat().st_mode & 0o777 == 0o600
    assert alder.findings == ()
    cells = photos.thumbnail(kept, 20, 8)
    assert len(cells) == 8
    assert abs(cells[0][0][0][0] - 200) < 12


def test_a_missing_or_altered_file_is_flagged_and_not_opened(
    alder: OpenJob, tmp_path: Path
) -> None:
    files.attach(alder, "job", alder.job_id, str(photo(tmp_path / "a.jpg")))
    (file,) = alder.job.attachments
    kept = attached_path(alder.book.path, file.sha256)
    kept.write_bytes(b"something else")
    alder.refresh()
    assert [flag.code for flag in alder.findings] == ["file altered"]
    with pytest.raises(RefusedError, match="is altered"):
        files.open_outside(alder.book.path, file)
    kept.unlink()
    alder.refresh()
    assert [flag.code for flag in alder.findings] == ["file missing"]
    assert state_of(alder.book.path, file).wrong == "missing"
    files.attach(alder, "job", alder.job_id, str(photo(tmp_path / "b.jpg")))
    assert alder.findings == ()


@pytest.mark.parametrize("content", [b"", b"no photo", b"\xff\xd8\xff\xe1" + b"\x00" * 50])
def test_a_file_that_is_no_photo_is_attached_without_time_or_position(
    alder: OpenJob, tmp_path: Path, content: bytes
) -> None:
    path = tmp_path / "permit.pdf"
    path.write_bytes(content)
    files.attach(alder, "job", alder.job_id, str(path))
    (file,) = alder.job.attachments
    assert (file.taken_at, file.position, file.size_bytes) == ("", "", len(content))
    assert photos.thumbnail(path, 10, 5) == []


@pytest.mark.parametrize(("width", "too_large"), [(10_000, False), (10_001, True), (65_000, True)])
def test_a_picture_of_too_many_pixels_is_a_sentence_and_never_decoded(
    tmp_path: Path, width: int, *, too_large: bool
) -> None:
    """The size stands in the first bytes of a PNG (RFC 2083, 4.1.1), and costs nothing to claim."""
    head = b"IHDR" + struct.pack(">IIBBBBB", width, 10_000, 8, 2, 0, 0, 0)
    path = tmp_path / "claims.png"
    path.write_bytes(
        b"\x89PNG\r\n\x1a\n"
        + struct.pack(">I", 13)
        + head
        + struct.pack(">I", zlib.crc32(head))
        + struct.pack(">I", 0)
        + b"IDAT"
        + struct.pack(">I", zlib.crc32(b"IDAT"))
    )
    said = photos.why_not_drawn(path)
    assert ("100 million pixels" in said) == too_large
    assert photos.thumbnail(path, 10, 5) == []
    assert photos.printed_jpeg(path) is None


def test_a_missing_file_can_not_be_attached(alder: OpenJob, tmp_path: Path) -> None:
    for typed in (str(tmp_path / "none.jpg"), str(tmp_path), "\x00", "~nobody-here/x"):
        with pytest.raises(RefusedError, match="There is no file"):
            files.attach(alder, "job", alder.job_id, typed)
    assert alder.job.attachments == ()


def test_the_day_list_has_what_can_be_done_what_waits_and_what_runs_out(alder: OpenJob) -> None:
    day = day_list(alder.book, datetime(2026, 10, 25, 8, 0))
    can = {one.address: one.what for one in day.can}
    assert can["14 Alder Lane"] == "Desk: Hand over."
    assert any("Flush zone 2" in one.what for one in day.can)
    assert any(one.what == "“What pricing needs is recorded”" for one in day.waits)
    # Quarry Road has a ticket and nobody has dug there yet; elsewhere the digging is over.
    assert [(one.address, one.on) for one in day.runs_out] == [
        ("208 Quarry Road", date(2026, 9, 30))
    ]
    assert day_list(alder.book, datetime(2026, 4, 1)).runs_out == ()


def test_the_plan_is_drawn_in_characters_and_as_svg(alder: OpenJob) -> None:
    lines = plan_lines(alder.job, 70)
    text = "\n".join(lines)
    assert "out from the wall is down" in text
    assert "garage, left front corner: 0 ft along, 0 ft out" in text
    assert "■ valve box A: 17 ft from corner " in text
    assert all(cell_len(line) <= 70 for line in lines)
    svg = plan_svg(alder.job)
    for words in ("<svg", "Out from the wall", "valve box B", "porch, street corner", "20 ft"):
        assert words in svg
    bare = OpenJob(alder.book, new_property(alder.book, "9 Oak", "AB"), "AB")
    assert "Nothing is tied" in plan_svg(bare.job)
    assert "Nothing is tied" in plan_lines(bare.job, 70)[0]
    assert plan_svg(bare.job).startswith("<svg")


def test_the_commands_of_day_and_plan(alder: OpenJob, tmp_path: Path) -> None:
    path = alder.book.path
    alder.book.close()
    told = CliRunner().invoke(main, ["--book", str(path), "day"])
    assert told.exit_code == 0
    assert "14 Alder Lane: Desk: Hand over." in told.output
    out = tmp_path / "plan.svg"
    assert CliRunner().invoke(main, ["--book", str(path), "plan", "alder", str(out)]).exit_code == 0
    assert out.read_text("utf-8").startswith("<svg")
    printed = CliRunner().invoke(main, ["--book", str(path), "plan", "alder"])
    assert "valve box A" in printed.output
