"""Two trucks and a stick, where one holds chosen properties: nothing is missed, nothing lost."""

from __future__ import annotations

from pathlib import Path

import pytest
from chosen_trucks import Chosen, exported, through
from trucks import Truck

from fieldbook.actions.board.board import Board
from fieldbook.actions.holding.fetch_property import FolderFetch, fetch
from fieldbook.actions.job_files import import_file
from fieldbook.actions.properties import demo_files
from fieldbook.actions.refused import RefusedError
from fieldbook.store.exchange.folder import NAME
from fieldbook.store.mending.verify import verify


def test_what_passes_by_is_a_line_and_comes_when_it_is_fetched(tmp_path: Path, stick: Path) -> None:
    one, two = Truck(tmp_path, "AB"), Chosen(tmp_path, "CD")
    elm, oak = one.begin("12 Elm Street"), one.begin("9 Oak Street")
    through(one, stick)
    own = two.begin("3 Alder Lane")
    assert through(two, stick).received == 0
    assert set(two.lines()) == {"12 Elm Street", "9 Oak Street"}
    two.fetch(elm)
    assert set(two.lines()) == {"9 Oak Street"}
    assert exported(two, elm) == exported(one, elm)
    two.enter_static(elm, "71")
    through(two, stick)
    through(one, stick)
    assert exported(one, elm) == exported(two, elm)
    assert exported(one, own) == exported(two, own)
    one.enter_static(oak, "44")
    one.enter_static(elm, "45")
    through(one, stick)
    assert through(two, stick).received == 1
    assert verify(one.path).wrong == verify(two.path).wrong == ()


def test_a_file_passed_over_is_read_again_once_its_property_is_held(
    tmp_path: Path, stick: Path
) -> None:
    one, three, two = Truck(tmp_path, "AB"), Truck(tmp_path, "EF"), Chosen(tmp_path, "CD")
    second = tmp_path / "second"
    second.mkdir()
    elm = one.begin("12 Elm Street")
    through(one, stick)
    through(three, stick)
    through(two, stick)
    # What is entered now is on the first stick alone, which the chosen laptop passes over.
    one.enter_static(elm, "44")
    through(one, stick)
    through(two, stick)
    through(three, second)
    through(two, second)
    two.fetch_from(second, elm)
    assert exported(two, elm) == exported(three, elm)
    assert through(two, stick).received == 1
    assert exported(two, elm) == exported(one, elm)
    assert through(two, stick).received == 0


def test_a_chosen_laptop_never_lets_a_whole_one_miss_anything(tmp_path: Path, stick: Path) -> None:
    one, two, three = Truck(tmp_path, "AB"), Chosen(tmp_path, "CD"), Truck(tmp_path, "EF")
    second = tmp_path / "second"
    second.mkdir()
    elm, oak = one.begin("12 Elm Street"), one.begin("9 Oak Street")
    through(one, stick)
    through(two, stick)
    two.fetch(elm)
    through(two, second)
    through(three, second)
    with three.open() as book:
        assert [job.id for job in book.jobs()] == [elm]
    through(three, stick)
    assert exported(three, oak) == exported(one, oak)
    assert three.exported() == one.exported()


def test_a_property_that_is_imported_is_no_longer_elsewhere(tmp_path: Path, stick: Path) -> None:
    one, two = Truck(tmp_path, "AB"), Chosen(tmp_path, "CD")
    with one.open() as book:
        imported = import_file(book, demo_files()[0], "AB")
    through(one, stick)
    through(two, stick)
    assert set(two.lines()) == {imported.address}
    with two.open() as book:
        import_file(book, demo_files()[0], "CD")
        assert [row.elsewhere for row in Board(book).all_rows()] == [""]
    assert two.lines() == {}
    # What passed by before comes now: both laptops entered the same property.
    through(two, stick)
    through(one, stick)
    assert one.exported() == two.exported()


def test_without_the_stick_one_sentence_says_what_is_needed(
    tmp_path: Path, stick: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("FIELDBOOK_OFFICE", raising=False)
    one, two = Truck(tmp_path, "AB"), Chosen(tmp_path, "CD")
    elm = one.begin("12 Elm Street")
    through(one, stick)
    through(two, stick)
    stick.rename(tmp_path / "elsewhere")
    with pytest.raises(RefusedError, match="put the stick of"):
        two.fetch(elm)
    assert set(two.lines()) == {"12 Elm Street"}


def test_the_whole_firm_is_held_again_after_the_setting_is_taken_back(
    tmp_path: Path, stick: Path
) -> None:
    one, two = Truck(tmp_path, "AB"), Chosen(tmp_path, "CD")
    one.begin("12 Elm Street")
    through(one, stick)
    through(two, stick)
    with two.open() as book:
        book.keeping.keep_whole()
    through(two, stick)
    assert two.exported() == one.exported()
    assert two.lines() == {}


def test_a_file_that_is_refused_is_named_since_it_may_hold_more(
    tmp_path: Path, stick: Path
) -> None:
    one, two = Truck(tmp_path, "AB"), Chosen(tmp_path, "CD")
    elm = one.begin("12 Elm Street")
    through(one, stick)
    one.enter_static(elm, "44")
    through(one, stick)
    through(two, stick)
    newest = max((stick / NAME).glob("*.gz"))
    newest.write_bytes(newest.read_bytes()[:-9])
    with two.open() as book:
        fetching = FolderFetch(book, stick, elm)
        assert list(fetching.steps())
        report = fetching.report()
    assert report.received > 0
    assert [newest.name[:8] in sentence for sentence in report.refused] == [True]
    assert exported(two, elm) != exported(one, elm)


def test_what_a_command_fetches_is_told_with_what_is_in_doubt(tmp_path: Path, stick: Path) -> None:
    one, two = Truck(tmp_path, "AB"), Chosen(tmp_path, "CD")
    elm = one.begin("12 Elm Street")
    through(one, stick)
    one.enter_static(elm, "44")
    through(one, stick)
    through(two, stick)
    newest = max((stick / NAME).glob("*.gz"))
    newest.write_bytes(newest.read_bytes()[:-9])
    with two.open() as book:
        said = fetch(book, elm, "It", lambda _done, _total: None)
    assert f"came from {stick}." in said
    assert "is refused" in said
