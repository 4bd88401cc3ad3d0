"""Papers as files: the command, the firm's own file, photos, names that every system takes."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from fieldbook.actions.files.attach import attach
from fieldbook.actions.files.file_names import file_stem
from fieldbook.actions.files.firm_file import FIRM_FILE, read_firm
from fieldbook.actions.files.photos import printed_jpeg
from fieldbook.actions.files.write_papers import paper_source, write_papers
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.cli.main import main
from fieldbook.papers.blocks.paper_source import Firm
from fieldbook.papers.contents.catalogue import PAPERS
from fieldbook.papers.printing import pdf_page
from fieldbook.store.book import Book

NOW = datetime(2026, 5, 20, 12, 0, tzinfo=UTC)


def run(alder_book: Path, *arguments: str) -> Result:
    return CliRunner().invoke(main, ["--book", str(alder_book), "papers", *arguments])


def test_every_paper_is_written_as_html_and_pdf(alder_book: Path, tmp_path: Path) -> None:
    folder = tmp_path / "new" / "out"
    result = run(alder_book, "14 Alder Lane", str(folder), "--pdf")
    assert result.exit_code == 0, result.output
    assert {path.name for path in folder.iterdir()} == {
        f"14-alder-lane-{name}.{kind}" for name in PAPERS for kind in ("html", "pdf")
    }
    for path in folder.iterdir():
        begins = path.read_bytes()[:15]
        assert begins.startswith(b"%PDF-" if path.suffix == ".pdf" else b"<!doctype html>")


def test_a_report_of_each_visit_is_written_and_none_where_there_was_no_visit(
    alder_book: Path, tmp_path: Path
) -> None:
    none = run(alder_book, "14 Alder Lane", str(tmp_path / "out"), "--only", "visit-report")
    assert (none.exit_code, "no visit is recorded" in none.output) == (0, True)
    with Book(alder_book) as book:
        job = OpenJob(book, book.jobs()[0].id, "RO")
        for day in ("2026-05-19", "2026-10-28"):
            job.add("visit", {"held_on": day, "reason": "start-up"}, "visit")
    result = run(alder_book, "14 Alder Lane", str(tmp_path / "out"), "--only", "visit-report")
    assert result.exit_code == 0, result.output
    assert {path.name for path in (tmp_path / "out").iterdir()} == {
        "14-alder-lane-visit-report-2026-05-19-start-up.html",
        "14-alder-lane-visit-report-2026-10-28-start-up.html",
    }


def test_one_paper_is_written_by_name_and_over_itself(alder_book: Path, tmp_path: Path) -> None:
    for _ in range(2):
        result = run(alder_book, "14 Alder Lane", str(tmp_path / "out"), "--only", "door-card")
        assert result.exit_code == 0, result.output
    names = [path.name for path in (tmp_path / "out").iterdir()]
    assert names == ["14-alder-lane-door-card.html"]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("14 Alder Lane", "out", "--only", "poster"), "There is no paper poster: choose"),
        (("nowhere", "out"), "nowhere"),
        (("14 Alder Lane", str(Path(__file__) / "x")), "can't be made"),
    ],
)
def test_what_can_not_be_written_is_one_sentence(
    alder_book: Path,
    monkeypatch: pytest.MonkeyPatch,
    tmp_path: Path,
    arguments: tuple[str, ...],
    words: str,
) -> None:
    monkeypatch.chdir(tmp_path)
    result = run(alder_book, *arguments)
    assert result.exit_code == 2
    assert words in result.output
    assert "Traceback" not in result.output


def test_without_typst_the_pdf_is_refused_with_what_to_install(
    alder_book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def missing(*_arguments: object) -> bytes:
        raise pdf_page.NoTypesettingError("PDF needs the package typst: install it.")

    monkeypatch.setattr("fieldbook.actions.files.write_papers.pdf_page", missing)
    result = run(alder_book, "14 Alder Lane", str(tmp_path / "out"), "--pdf")
    assert result.exit_code == 2
    assert "install it" in result.output


def test_the_firm_is_read_from_its_file(alder_book: Path) -> None:
    assert read_firm(alder_book) == Firm()
    file = alder_book.parent / FIRM_FILE
    file.write_text('[firm]\nname = "Nadir and Holt"\nlicence = "LI 4471"\n', "utf-8")
    assert read_firm(alder_book) == Firm("Nadir and Holt", licence="LI 4471")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("[firm", "is not TOML"),
        ("name = 'x'", "no table"),
        ("firm = 3", "no table"),
        ("[firm]\nnam = 'x'", "takes name, address, phone, licence"),
        ("[firm]\nname = 3", 'each as "text"'),
    ],
)
def test_a_fault_in_the_firm_file_is_one_sentence(alder_book: Path, text: str, words: str) -> None:
    (alder_book.parent / FIRM_FILE).write_text(text, "utf-8")
    with pytest.raises(RefusedError, match=words):
        read_firm(alder_book)


def _photo(path: Path) -> Path:
    """A photo of 3,000 by 2,000 pixels that says where it was taken."""
    image = Image.new("RGB", (3000, 2000), "#557744")
    exif = image.getexif()
    exif.get_ifd(0x8825).update({1: "N", 2: (40.0, 42.0, 46.0), 3: "W", 4: (74.0, 0.0, 21.0)})
    image.save(path, exif=exif)
    return path


def test_a_photo_is_printed_small_and_without_where_it_was_taken(
    alder_book: Path, tmp_path: Path
) -> None:
    photo = _photo(tmp_path / "clear.jpg")
    with Book(alder_book) as book:
        job = OpenJob(book, book.jobs()[0].id, "RO")
        attach(job, "flush", job.job.flushes[0].id, str(photo), "ran clear")
        source = paper_source(book, job.job, NOW)
        (jpeg,) = source.photos.values()
        assert b"Exif" in photo.read_bytes()
        assert b"Exif" not in jpeg
        (written,) = write_papers(source, tmp_path / "out", ("work-log",))
    assert "ran clear" in written.read_text("utf-8")


def test_what_is_no_photo_is_not_printed(tmp_path: Path) -> None:
    path = tmp_path / "a.jpg"
    path.write_bytes(b"not a photo")
    assert printed_jpeg(path) is None


@given(st.text(max_size=80))
def test_every_address_is_a_name_that_every_system_takes(address: str) -> None:
    stem = file_stem(address)
    assert stem
    assert len(stem) <= 50
    assert set(stem) <= set("abcdefghijklmnopqrstuvwxyz0123456789-")
    assert stem not in ("con", "nul", "aux", "prn", "com1", "lpt9")


def test_names_that_a_system_keeps_for_itself_are_not_used() -> None:
    assert file_stem("CON") == "property-con"
    assert file_stem("日本") == "property"
