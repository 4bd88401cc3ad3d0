"""A stick that cuts, changes or loses files: what it held is written again, and nobody waits."""

from __future__ import annotations

import random
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner
from examples import few_or_many
from trucks import Truck

from fieldbook.actions.exchange.exchange_report import ExchangeReport
from fieldbook.actions.exchange.folder_exchange import exchange_through_folder
from fieldbook.cli.main import main
from fieldbook.store.exchange.folder import NAME
from fieldbook.store.exchange.folder_state import gaps
from fieldbook.store.places import WrittenBundle

NOTHING = ExchangeReport(0, 0, 0, 0, 0)


@pytest.fixture
def trucks(tmp_path: Path) -> tuple[Truck, Truck, Truck]:
    """Three trucks with empty books."""
    return Truck(tmp_path, "AB"), Truck(tmp_path, "CD"), Truck(tmp_path, "EF")


def through(truck: Truck, stick: Path, *, anew: bool = False) -> ExchangeReport:
    """Exchange a truck's book through the stick."""
    with truck.open() as book:
        return exchange_through_folder(book, stick, lambda _done, _total: None, anew=anew)


def bundles(stick: Path) -> list[Path]:
    """The bundles on the stick, the first entries first."""
    return sorted((stick / NAME).glob("*.gz"), key=lambda path: path.name[37:])


def cut(path: Path) -> None:
    """Cut a file off, as a stick that was pulled out does."""
    held = path.read_bytes()
    path.write_bytes(held[: len(held) // 2])


def flip(path: Path) -> None:
    """Change one bit in the middle, as a worn stick does."""
    held = bytearray(path.read_bytes())
    held[len(held) // 2] ^= 1
    path.write_bytes(held)


def harm(path: Path, pick: random.Random) -> None:
    """Cut the file, change it, lose it, or leave it alone."""
    what = pick.choice((cut, flip, Path.unlink, None, None))
    if what is not None:
        what(path)


def two_bundles(one: Truck, stick: Path) -> list[Path]:
    """A stick with two bundles of one truck."""
    job = one.begin("12 Elm Street")
    through(one, stick)
    one.enter_static(job, "62")
    through(one, stick)
    return bundles(stick)


@pytest.mark.parametrize("which", [0, 1])
def test_a_cut_file_is_written_again_by_its_maker_at_the_next_exchange(
    trucks: tuple[Truck, Truck, Truck], stick: Path, which: int
) -> None:
    one, other, _ = trucks
    files = two_bundles(one, stick)
    before = files[which].read_bytes()
    cut(files[which])
    assert through(one, stick).sent > 0
    assert bundles(stick) == files
    assert files[which].read_bytes() == before
    assert through(other, stick).refused == ()
    assert other.exported() == one.exported()
    assert through(one, stick) == NOTHING


@pytest.mark.parametrize("which", [0, 1])
def test_a_changed_file_is_written_again_once_a_laptop_refused_it(
    trucks: tuple[Truck, Truck, Truck], stick: Path, which: int
) -> None:
    one, other, _ = trucks
    flip(two_bundles(one, stick)[which])
    (said,) = through(other, stick).refused
    assert "refused" in said
    assert through(one, stick).sent > 0
    assert through(other, stick).refused == ()
    assert other.exported() == one.exported()
    assert not list((stick / NAME).glob("*.spoilt"))


def test_anew_finds_a_changed_file_that_nobody_has_read(
    trucks: tuple[Truck, Truck, Truck], stick: Path
) -> None:
    one, other, _ = trucks
    files = two_bundles(one, stick)
    flip(files[0])
    assert through(one, stick) == NOTHING
    words = ["--book", str(one.path), "exchange", "--anew", str(stick)]
    assert CliRunner().invoke(main, words).exit_code == 0
    assert through(other, stick).refused == ()
    assert other.exported() == one.exported()


def test_another_laptop_writes_what_a_spoilt_file_held_while_its_maker_is_away(
    trucks: tuple[Truck, Truck, Truck], stick: Path
) -> None:
    one, other, third = trucks
    files = two_bundles(one, stick)
    through(other, stick)
    flip(files[0])
    assert through(third, stick).refused
    assert through(other, stick).sent > 0
    through(third, stick)
    assert third.exported() == one.exported()


def test_a_mark_on_a_whole_file_is_taken_off(
    trucks: tuple[Truck, Truck, Truck], stick: Path
) -> None:
    one, _, _ = trucks
    first, _ = two_bundles(one, stick)
    first.with_name(f"{first.name}.spoilt").touch()
    assert through(one, stick).sent == 0
    assert not list((stick / NAME).glob("*.spoilt"))


def test_a_file_of_a_newer_fieldbook_is_not_called_spoilt(
    trucks: tuple[Truck, Truck, Truck], stick: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    one, other, _ = trucks
    one.begin("12 Elm Street")
    with monkeypatch.context() as newer:
        newer.setattr("fieldbook.store.exchange.bundle_writer.VERSION", 2)
        through(one, stick)
    (said,) = through(other, stick).refused
    assert "newer fieldbook" in said
    assert not list((stick / NAME).glob("*.spoilt"))


@few_or_many("seeds", 2, 60)
def test_any_harm_to_the_stick_is_healed_by_exchanging_in_turn(tmp_path: Path, seeds: int) -> None:
    for seed in range(seeds):
        pick = random.Random(seed)
        folder = tmp_path / str(seed)
        folder.mkdir()
        crew = [Truck(folder, initials) for initials in ("AB", "CD", "EF")]
        stick = folder / "stick"
        stick.mkdir()
        job = crew[0].begin("12 Elm Street")
        for truck in crew:
            through(truck, stick)
        for round_no in range(4):
            truck = pick.choice(crew)
            truck.enter_static(job, str(50 + round_no))
            through(truck, stick)
            for file in bundles(stick):
                harm(file, pick)
        for truck in crew * 3:
            through(truck, stick)
        # A new laptop is the first to read a file that all the others have had already.
        fourth = Truck(folder, "GH")
        for truck in (fourth, *crew, fourth):
            through(truck, stick)
        for truck in (*crew, fourth):
            assert truck.exported() == crew[0].exported(), seed
        shutil.rmtree(folder)


def test_gaps_between_bundles() -> None:
    assert list(gaps([])) == [(0, None)]
    covered = [WrittenBundle(11, 20, 1), WrittenBundle(1, 5, 1), WrittenBundle(4, 8, 1)]
    assert list(gaps(covered)) == [(8, 10), (20, None)]
