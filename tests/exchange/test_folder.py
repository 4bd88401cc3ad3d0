"""Exchange through a folder: in any order, any number of times, with a stick pulled out early."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
from pathlib import Path

import pytest
from child_programs import command, exchange_until
from click.testing import CliRunner, Result
from examples import few_or_many
from trucks import Truck

from fieldbook.actions import cells as entering
from fieldbook.actions import signing as proofs
from fieldbook.actions.exchange.exchange_report import ExchangeReport
from fieldbook.actions.exchange.folder_exchange import exchange_through_folder
from fieldbook.actions.files import attach as files
from fieldbook.checks.finding import CellRef
from fieldbook.cli.main import main
from fieldbook.store.attached import attached_path
from fieldbook.store.exchange.folder import NAME
from fieldbook.store.mending.verify import verify
from fieldbook.store.paths import STATE_VARIABLE
from fieldbook.store.sqlite.backup import backup_files


@pytest.fixture
def trucks(tmp_path: Path) -> tuple[Truck, Truck]:
    """Two trucks with empty books."""
    return Truck(tmp_path, "AB"), Truck(tmp_path, "CD")


def through(truck: Truck, stick: Path) -> ExchangeReport:
    """Exchange a truck's book through the stick."""
    with truck.open() as book:
        return exchange_through_folder(book, stick, lambda _done, _total: None)


def command_of(truck: Truck, *words: str) -> Result:
    """Run a command on a truck's book, on its machine."""
    machine = {STATE_VARIABLE: str(truck.state)}
    return CliRunner().invoke(main, ["--book", str(truck.path), *words], env=machine)


def test_two_trucks_come_to_hold_the_same(trucks: tuple[Truck, Truck], stick: Path) -> None:
    one, other = trucks
    job = one.begin("12 Elm Street")
    other.begin("3 Alder Lane")
    for truck in (one, other, one):
        through(truck, stick)
    assert one.exported() == other.exported()
    one.enter_static(job, "62")
    other.enter_static(job, "64")
    for truck in (one, other, one):
        through(truck, stick)
    assert one.exported() == other.exported()
    with one.open_job(job) as open_job:
        flags = {flag.code: flag.sentence for flag in open_job.findings}
    assert "62 psi (AB)" in flags["two versions"]
    assert "64 psi (CD)" in flags["two versions"]
    assert verify(one.path).wrong == verify(other.path).wrong == ()


def test_nothing_is_written_or_received_twice(trucks: tuple[Truck, Truck], stick: Path) -> None:
    one, other = trucks
    job = one.begin("12 Elm Street")
    sent = through(one, stick).sent
    assert through(other, stick).received == sent
    assert through(other, stick) == through(one, stick) == ExchangeReport(0, 0, 0, 0, 0)
    one.enter_static(job, "62")
    assert through(one, stick).sent == 1
    assert through(other, stick).received == 1
    assert len(list((stick / NAME).glob("*.gz"))) == 2


def test_a_third_truck_receives_all_from_a_stick_that_one_truck_wrote(
    trucks: tuple[Truck, Truck], stick: Path, tmp_path: Path
) -> None:
    one, other = trucks
    one.begin("12 Elm Street")
    for truck in (one, other):
        through(truck, stick)
    second = tmp_path / "second stick"
    second.mkdir()
    through(other, second)
    third = Truck(tmp_path, "EF")
    through(third, second)
    assert third.exported() == one.exported()


def test_an_emptied_stick_is_written_again(trucks: tuple[Truck, Truck], stick: Path) -> None:
    one, other = trucks
    one.begin("12 Elm Street")
    sent = through(one, stick).sent
    shutil.rmtree(stick / NAME)
    assert through(one, stick).sent == sent
    assert through(other, stick).received == sent


def test_sign_offs_and_attached_files_travel(
    trucks: tuple[Truck, Truck], stick: Path, tmp_path: Path
) -> None:
    one, other = trucks
    job = one.begin("12 Elm Street")
    photo = tmp_path / "trench.jpg"
    photo.write_bytes(b"not really a photo" * 1000)
    with one.open_job(job) as open_job:
        proofs.sign_off(open_job, "price", proofs.Override("A. Foreman", "a test"))
        files.attach(open_job, "job", job, str(photo))
        sha256 = open_job.job.attachments[0].sha256
    assert through(one, stick).files_sent == 1
    assert through(other, stick).files_received == 1
    assert attached_path(other.path, sha256).read_bytes() == photo.read_bytes()
    with other.open_job(job) as open_job:
        assert open_job.job.signed("price") is not None
        assert not [flag for flag in open_job.findings if flag.code.startswith("file")]
    assert through(other, stick).files_sent == through(one, stick).files_received == 0


def test_an_attached_file_that_was_changed_is_refused(
    trucks: tuple[Truck, Truck], stick: Path, tmp_path: Path
) -> None:
    one, other = trucks
    job = one.begin("12 Elm Street")
    photo = tmp_path / "trench.jpg"
    photo.write_bytes(b"a photo")
    with one.open_job(job) as open_job:
        files.attach(open_job, "job", job, str(photo))
        sha256 = open_job.job.attachments[0].sha256
    through(one, stick)
    (stick / NAME / "files" / sha256[:2] / sha256).write_bytes(b"another")
    found = through(other, stick)
    assert found.received > 0
    assert "not what its hash says" in found.refused[0]
    assert not attached_path(other.path, sha256).exists()


@pytest.mark.parametrize("harm", ["cut", "flipped", "renamed", "empty"])
def test_a_damaged_bundle_is_refused_and_the_others_received(
    trucks: tuple[Truck, Truck], stick: Path, harm: str
) -> None:
    one, other = trucks
    job = one.begin("12 Elm Street")
    through(one, stick)
    (first,) = (stick / NAME).glob("*.gz")
    one.enter_static(job, "62")
    through(one, stick)
    whole = first.read_bytes()
    if harm == "cut":
        first.write_bytes(whole[:-30])
    elif harm == "flipped":
        first.write_bytes(whole[:200] + bytes([whole[200] ^ 4]) + whole[201:])
    elif harm == "empty":
        first.write_bytes(b"")
    else:
        first.rename(first.with_name(first.name.replace(first.name[-20:-12], "0" * 8)))
    found = through(other, stick)
    assert (found.received, found.waiting, len(found.refused)) == (1, 1, 1)
    assert "refused" in found.refused[0]
    for broken in (stick / NAME).glob("*.gz"):
        if broken.name[:47] in found.refused[0]:
            broken.unlink()
    first.write_bytes(whole)
    assert through(other, stick).refused == ()
    assert other.exported() == one.exported()


def test_other_files_in_the_folder_are_left_alone(trucks: tuple[Truck, Truck], stick: Path) -> None:
    one, _ = trucks
    one.begin("12 Elm Street")
    through(one, stick)
    other_file = stick / NAME / "readme.txt"
    other_file.write_text("mine")
    assert through(one, stick).refused == ()
    assert other_file.read_text() == "mine"


def test_the_book_is_backed_up_before_the_first_exchange_of_a_day(
    trucks: tuple[Truck, Truck], stick: Path
) -> None:
    one, other = trucks
    one.begin("12 Elm Street")
    through(one, stick)
    for copy in backup_files(other.path):
        copy.unlink()
    with other.open() as book:
        exchange_through_folder(book, stick, lambda _done, _total: None)
        assert [copy.stem.endswith("before-exchange") for copy in backup_files(other.path)] == [
            True
        ]


def test_a_restored_book_starts_an_origin_and_receives_its_own_entries_again(
    trucks: tuple[Truck, Truck], stick: Path
) -> None:
    one, other = trucks
    job = one.begin("12 Elm Street")
    early = one.path.read_bytes()
    one.enter_static(job, "62")
    through(one, stick)
    one.path.write_bytes(early)
    one.enter_static(job, "65")
    with one.open() as book:
        assert book.count_undoable(job) == 4
    for truck in (one, other, one):
        through(truck, stick)
    assert one.exported() == other.exported()
    with one.open_job(job) as open_job:
        flags = [flag.sentence for flag in open_job.findings if flag.code == "two versions"]
    assert "62 psi" in flags[0]
    assert "65 psi" in flags[0]
    assert verify(one.path).wrong == ()


def test_a_book_copied_with_its_machine_starts_an_origin_when_they_exchange(
    tmp_path: Path, stick: Path
) -> None:
    one = Truck(tmp_path, "AB")
    job = one.begin("12 Elm Street")
    shutil.copytree(tmp_path / "AB", tmp_path / "copy")
    copy = Truck.__new__(Truck)
    copy.path, copy.who = tmp_path / "copy" / "book.sqlite", "AB"
    copy.state = tmp_path / "copy" / "state"
    one.enter_static(job, "62")
    copy.enter_static(job, "65")
    for truck in (one, copy, one, copy, one):
        through(truck, stick)
    assert one.exported() == copy.exported()
    with one.open() as book, pytest.MonkeyPatch.context():
        origin = book.origin
    with copy.open() as book:
        assert book.origin != origin


def test_the_command_says_what_came_and_went(trucks: tuple[Truck, Truck], stick: Path) -> None:
    one, other = trucks
    one.begin("12 Elm Street")
    run = command_of(one, "exchange", str(stick))
    assert (run.exit_code, run.output) == (0, "0 entries came, 4 went.\n")
    run = command_of(other, "exchange", str(stick))
    assert run.output == "4 entries came.\n"
    run = command_of(one, "exchange", str(stick / "none"))
    assert run.exit_code == 2
    assert "put the stick in" in run.output
    (file,) = (stick / NAME).glob("*.gz")
    third = Truck(stick.parent, "EF")
    file.write_bytes(b"x" * 400)
    run = command_of(third, "exchange", str(stick))
    assert run.exit_code == 2
    assert "is refused" in run.output
    assert "Traceback" not in run.output


def test_a_full_stick_is_one_sentence(
    trucks: tuple[Truck, Truck], stick: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    one, _ = trucks
    one.begin("12 Elm Street")

    def full(*_: object) -> str:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("fieldbook.store.exchange.folder.write_bundle", full)
    run = CliRunner().invoke(main, ["--book", str(one.path), "exchange", str(stick)])
    assert run.exit_code == 2
    assert "takes no more" in run.output


@few_or_many("steps", (1, 4), tuple(range(1, 40)))
def test_an_exchange_that_is_killed_goes_on_where_it_was(
    trucks: tuple[Truck, Truck], stick: Path, steps: tuple[int, ...]
) -> None:
    one, other = trucks
    job = one.begin("12 Elm Street")
    for psi in range(61, 66):
        one.enter_static(job, str(psi))
        through(one, stick)
    mine = other.begin("3 Alder Lane")
    for step in steps:
        exchanging = command(exchange_until, other.path, stick, step)
        struck = subprocess.run(exchanging, capture_output=True, check=False)
        assert struck.returncode == -signal.SIGKILL, step
        cut_off = os.path.exists(f"{other.path}-journal")
        # The text journal gets an entry after it is committed: it may be behind until the opening.
        assert cut_off or all("text journal" in said for said in verify(other.path).wrong)
        with other.open_job(mine) as open_job:
            entering.enter_text(open_job, CellRef("job", mine, "customer"), f"C {step}")
    for truck in (other, one, other):
        through(truck, stick)
    assert one.exported() == other.exported()
    assert verify(other.path).wrong == ()
