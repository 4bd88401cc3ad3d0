"""What the README says to do when it goes wrong, run as it stands there after that has happened."""

from __future__ import annotations

import os
import re
import sys
from pathlib import Path

import pytest
from an_office import Office
from exported_jobs import exported
from office_trucks import OfficeTruck
from readme_commands import OFFICE, WHEN_WRONG, in_a_shell, section, shell_lines

from fieldbook.actions import cells as entering
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import new_property
from fieldbook.checks.finding import CellRef
from fieldbook.store.book import Book
from fieldbook.store.mending.verify import verify


def advice() -> dict[str, list[str]]:
    """The command lines under each comment of the section."""
    found: dict[str, list[str]] = {}
    for line in shell_lines(section(WHEN_WRONG)):
        if line.startswith("# "):
            found[line[2:]] = lines = []
        else:
            lines.append(line)
    return found


def lines_for(start: str) -> list[str]:
    """The command lines under the one comment that starts so."""
    (lines,) = [lines for comment, lines in advice().items() if comment.startswith(start)]
    return lines


@pytest.fixture
def book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A closed book with two properties, in the folder where the commands run."""
    monkeypatch.chdir(tmp_path)
    path = tmp_path / "book.sqlite"
    monkeypatch.setenv("FIELDBOOK_BOOK", str(path))
    programs = f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}"
    monkeypatch.setenv("PATH", programs)
    with Book(path) as opened:
        opened.laptop.set_initials("AB")
        new_property(opened, "12 Elm Street", "AB")
        job_id = new_property(opened, "9 Oak Street", "AB")
        enter(opened, job_id, "M. Quill")
    return path


def enter(book: Book, job_id: str, customer: str) -> None:
    open_job = OpenJob(book, job_id, "AB")
    entering.enter_text(open_job, CellRef("job", job_id, "customer"), customer)


def test_each_line_is_short_and_has_a_test() -> None:
    text = section(WHEN_WRONG)
    assert len(text.strip().splitlines()) <= 25
    tested = ("The program", "The book", "The stick", "The laptop is dead", "The laptop is stolen")
    starts = (*tested, "The office")
    assert [next(s for s in starts if comment.startswith(s)) for comment in advice()] == [*starts]
    assert all(advice().values())


def test_a_program_that_fails_keeps_what_was_entered(book: Path) -> None:
    # The program ends without closing anything, as when the power goes.
    ends = (
        "import os, sys; from pathlib import Path; from fieldbook.store.book import Book;"
        "from fieldbook.actions.properties import new_property;"
        "new_property(Book(Path(sys.argv[1])), '3 Ash Street', 'AB'); os._exit(9)"
    )
    assert os.system(f'{sys.executable} -c "{ends}" {book}') != 0
    for line in lines_for("The program"):
        assert "3 Ash Street" in in_a_shell(line)


@pytest.mark.parametrize("damage", ["gone", "spoilt"])
def test_a_damaged_book_is_made_anew(book: Path, damage: str) -> None:
    before = exported(book)
    if damage == "gone":
        book.unlink()
    else:
        book.write_bytes(book.read_bytes()[:5000] + b"?" * 5000)
    for line in lines_for("The book"):
        in_a_shell(line)
    assert exported(book) == before
    assert verify(book).wrong == ()


def test_a_stick_that_was_spoilt_is_whole_again(book: Path, tmp_path: Path) -> None:
    (tmp_path / "stick").mkdir()
    for line in lines_for("The stick"):
        in_a_shell(line)
    (bundle,) = (tmp_path / "stick" / "fieldbook-exchange").glob("*.gz")
    whole = bundle.read_bytes()
    bundle.write_bytes(whole[: len(whole) // 2])
    for line in lines_for("The stick"):
        in_a_shell(line)
    in_a_shell("fieldbook --book other.sqlite exchange stick")
    assert exported(tmp_path / "other.sqlite") == exported(book)


def test_a_new_laptop_gets_all_that_the_dead_one_held(book: Path, tmp_path: Path) -> None:
    (tmp_path / "stick").mkdir()
    in_a_shell("fieldbook exchange stick")
    before = exported(book)
    book.unlink()
    for line in lines_for("The laptop is dead"):
        in_a_shell(line)
    assert exported(tmp_path / "new.sqlite") == before


def in_the_office(lines: list[str], office: Office, laptop: str = "", name: str = "") -> None:
    """Run lines with this office's addresses and laptop in place of the README's."""
    addresses = {"p": office.url, "$": laptop}
    for line in lines:
        with_addresses = OFFICE.sub(lambda found: addresses[found.group()[0]], line)
        in_a_shell(re.sub(r"\btruck-2\b", name, with_addresses))


@pytest.mark.usefixtures("book")
def test_a_stolen_laptop_is_shut_out(office: Office) -> None:
    name = f"truck-{office.new_name()}"
    stolen = office.laptop(name)
    in_a_shell(f'fieldbook exchange "{stolen}"')
    in_the_office(lines_for("The laptop is stolen"), office, name=name)
    with pytest.raises(AssertionError, match="does not let this laptop in"):
        in_a_shell(f'fieldbook exchange "{stolen}"')
    assert office.ask("SELECT count(*) FROM office.job") == [(2,)]


def test_a_restored_office_gets_again_what_its_backup_lacks(
    book: Path, office: Office, tmp_path: Path
) -> None:
    laptop = office.laptop()
    in_a_shell(f'fieldbook exchange "{laptop}"')
    office.ask("SET session_replication_role = replica; DELETE FROM fieldbook.entry WHERE n > 3")
    in_the_office(lines_for("The office"), office, laptop)
    reader = OfficeTruck(office, tmp_path / "reader", "EF")
    reader.exchange()
    assert reader.jobs() == exported(book)
