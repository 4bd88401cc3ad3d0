"""Finding a property by any text in it; the index follows every entry and undo."""

from __future__ import annotations

from pathlib import Path

import pytest
from crew import at_the_truck
from examples import examples
from hypothesis import given
from hypothesis import strategies as st

from fieldbook.actions import cells, rows
from fieldbook.actions.board.board import Board
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import fill_demo, new_property, remove_property
from fieldbook.checks.finding import CellRef
from fieldbook.records.ids import head_id, once_id, valve_id
from fieldbook.store.board.search import words_of
from fieldbook.store.book import Book


def noted(book: Book, address: str, note: str) -> OpenJob:
    """A property with a note."""
    open_job = OpenJob(book, new_property(book, address, "AB"), "AB")
    at = CellRef("note", rows.add_row(open_job, "note"), "text")
    cells.enter_text(open_job, at, note)
    return open_job


def found(book: Book, typed: str) -> dict[str, str]:
    """What the board finds, by address."""
    board = Board(book)
    board.all_rows()
    hits = board.find(typed)
    return {line.address: hits.where(line.job_id) for line in hits.window(0, len(hits))}


def test_words_beginnings_accents_and_serials(book_file: Path) -> None:
    with Book(book_file) as book:
        noted(book, "12 Elm Street", "Key under the Blümchen pot, dog bites")
        noted(book, "7 Oak Road", "Pump serial B-1180/4")
        assert found(book, "blumch") == {"12 Elm Street": ""}
        assert list(found(book, "DOG pot")) == ["12 Elm Street"]
        assert found(book, "B-1180") == {"7 Oak Road": "note: Pump serial B-1180/4"}
        assert list(found(book, "elm")) == ["12 Elm Street"]
        assert list(found(book, "treet")) == ["12 Elm Street"]
        assert found(book, "dog oak") == {}
        assert found(book, "  - ") == {}


def test_makes_models_serials_meters_and_plants_are_found(book_file: Path) -> None:
    with Book(book_file) as book:
        open_job = OpenJob(book, new_property(book, "12 Elm Street", "AB"), "AB")
        zone = rows.add_zone(open_job)
        run = rows.repeat_run(open_job, zone)
        at_valve = {"zone_id": zone, "kind": "zone"}
        for table, row_id, column, text, seed in (
            ("job", open_job.job_id, "email", "customer@example.org", {}),
            ("job", open_job.job_id, "billing_address", "Box 7, Springfield", {}),
            ("supply", once_id(open_job.job_id, "supply"), "meter_number", "M-55120", {}),
            ("controller", once_id(open_job.job_id, "controller"), "model", "Ten20", {}),
            ("controller", once_id(open_job.job_id, "controller"), "serial", "C-9981", {}),
            ("valve", valve_id(zone), "model", "V-100", at_valve),
            ("head", head_id(run), "make", "Northwater", {"run_id": run}),
            ("zone", zone, "plants", "boxwood, yarrow", {}),
            ("isolation_valve", rows.add_row(open_job, "isolation_valve"), "shuts", "pool", {}),
        ):
            cells.enter_text(open_job, CellRef(table, row_id, column), text, seed)
        for typed in (
            *("customer@example", "Springfield", "M-55120", "Ten20", "C-9981"),
            *("V-100", "northwater", "yarrow", "pool"),
        ):
            assert list(found(book, typed)) == ["12 Elm Street"], typed


def test_the_search_follows_changes_undo_and_removal(book_file: Path) -> None:
    with Book(book_file) as book:
        open_job = noted(book, "12 Elm Street", "old gate")
        at = CellRef("note", open_job.job.notes[0].id, "text")
        cells.enter_text(open_job, at, "new fence")
        assert (list(found(book, "gate")), list(found(book, "fence"))) == ([], ["12 Elm Street"])
        open_job.undo()
        assert (list(found(book, "gate")), list(found(book, "fence"))) == (["12 Elm Street"], [])
        remove_property(book, open_job.job_id, "AB")
        assert found(book, "gate") == {}


def test_the_index_is_stored_in_the_book(book_file: Path) -> None:
    with Book(book_file) as book:
        noted(book, "12 Elm Street", "gate code 4711")
        Board(book).all_rows()
    with Book(book_file) as book:
        assert len(book.board.find("4711")) == 1


@given(typed=st.text(max_size=20))
@examples(60)
def test_no_typed_text_breaks_the_search(typed: str, demo_book: Book) -> None:
    board = Board(demo_book)
    lines = board.all_rows()
    hits = board.find(typed)
    listed = hits.window(0, len(hits))
    assert len(listed) == len(hits)
    assert set(listed) <= set(lines)
    assert all(isinstance(hits.where(line.job_id), str) for line in listed)
    assert all('"' not in word for word in words_of(typed))


@pytest.fixture(scope="module")
def demo_book(tmp_path_factory: pytest.TempPathFactory) -> Book:
    book = Book(tmp_path_factory.mktemp("demo") / "book.sqlite")
    fill_demo(book)
    return book


async def test_the_board_finds_by_a_serial_and_says_where() -> None:
    async with at_the_truck(None) as crew:
        job = next(
            loaded
            for line in crew.lines
            if (loaded := crew.book.book.load(line.job_id)).backflow_assemblies
            and loaded.backflow_assemblies[0].serial
        )
        serial = job.backflow_assemblies[0].serial
        await crew.press("slash")
        await crew.enter(serial)
        told = crew.screen()
        assert job.job.address in told
        assert serial in told
        assert "Esc shows all" in told
        assert sum(line.address in told for line in crew.lines) == 1
        await crew.press("escape")
        assert all(line.address[:10] in crew.screen() for line in crew.lines)
