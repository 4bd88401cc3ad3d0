"""The board's rows in the book: in order, read by the page, none missing, none stale for long."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from big_book import address, fill
from builders import bare_job, flushed, put, sound_job, wired_job
from examples import examples
from hypothesis import given
from hypothesis import strategies as st

from fieldbook.actions import cells
from fieldbook.actions.board import board as board_module
from fieldbook.actions.board.board import Board, Listing
from fieldbook.actions.board.board_row import BoardRow, FirstPage, from_stored
from fieldbook.actions.board.make_row import make_row
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import bring_back, new_property, remove_property
from fieldbook.checks.finding import CellRef
from fieldbook.records.ids import flush_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.store.board.stored_row import StoredRow
from fieldbook.store.book import Book
from fieldbook.store.mending.verify import verify

MANY = 300
ADDRESSES = st.lists(st.text("aZäÉß日 1'", min_size=1, max_size=4), min_size=1, max_size=12)


def all_of(listed: Listing, page: int) -> list[BoardRow]:
    """Every row, read page by page."""
    return [row for at in range(0, len(listed), page) for row in listed.window(at, page)]


def raw(book_file: Path, *statements: str) -> None:
    """Write in the book as another program would."""
    with sqlite3.connect(book_file) as other:
        for statement in statements:
            other.execute(statement)
    other.close()


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of a book of some hundred properties, all of whose board rows are stale."""
    folder = tmp_path_factory.mktemp("many")
    fill(folder / "book.sqlite", MANY)
    return folder


@pytest.fixture
def many(filled: Path, book_file: Path) -> Path:
    """A copy of that book."""
    shutil.copytree(filled, book_file.parent)
    return book_file


@given(addresses=ADDRESSES, page=st.integers(1, 5))
@examples(15)
def test_pages_hold_the_rows_in_the_order_of_addresses(
    addresses: list[str], page: int, tmp_path_factory: pytest.TempPathFactory
) -> None:
    with Book(tmp_path_factory.mktemp("pages") / "book.sqlite") as book:
        for one in addresses:
            new_property(book, f"{one}.", "AB")
        board = Board(book)
        rows = board.all_rows()
        assert rows == sorted(rows, key=lambda row: (row.address.casefold(), row.job_id))
        assert sorted(row.address for row in rows) == sorted(job.address for job in book.jobs())
        listed = board.listing()
        assert all_of(listed, page) == rows
        assert [listed.index_of(row.job_id) for row in rows] == list(range(len(rows)))
        assert listed.index_of("nowhere") is None


def test_a_book_filled_at_once_passes_verify(many: Path) -> None:
    assert verify(many).wrong == ()


def test_after_every_act_the_board_equals_one_made_anew(book_file: Path) -> None:
    with Book(book_file) as book:
        board = Board(book)
        job_id = new_property(book, "12 Elm Street", "AB")
        open_job = OpenJob(book, job_id, "AB")
        acts: list[Callable[[], object]] = [
            lambda: new_property(book, "3 Oak Court", "AB"),
            lambda: cells.enter_text(open_job, CellRef("job", job_id, "address"), "1 Ärmel Street"),
            lambda: cells.enter_text(open_job, CellRef("job", job_id, "customer"), "N. Rowe"),
            lambda: cells.enter_text(open_job, CellRef("supply", job_id, "static_psi"), "62"),
            open_job.undo,
            lambda: remove_property(book, job_id, "AB"),
            lambda: bring_back(book, "AB"),
        ]
        for act in acts:
            act()
            shown = all_of(board.listing(), 10)
            assert shown == Board(book).all_rows()
            assert sorted(row.job_id for row in shown) == sorted(job.id for job in book.jobs())
            assert all(row.known for row in shown)


def test_a_row_counts_zones_and_those_flushed_in_every_step() -> None:
    def counted(job: LoadedJob) -> tuple[int, int]:
        row = make_row(job, date(2026, 5, 4))
        return row.zones, row.flushed

    assert counted(bare_job()) == (0, 0)
    assert counted(sound_job(3)) == (3, 3)
    job = wired_job(("red", "blue", "green"), ("red", "green", "blue"), flushes=(flushed(2),))
    assert counted(job) == (3, 1)
    assert counted(put(job, "flush", flush_id("zone-2"), tops_back=False)) == (3, 0)


def test_a_row_stored_by_an_older_fieldbook_is_read() -> None:
    told = (
        '{"job_id": "j", "address": "3 Oak", "customer": "", "phone": "", "access": "", "wired": 3}'
    )
    day = date(2026, 5, 4)
    assert from_stored(StoredRow(1, "j", "2026-05-04", told), day).known
    assert not from_stored(StoredRow(1, "j", "2026-05-03", told), day).known


def test_a_stale_row_shows_address_and_customer(many: Path) -> None:
    with Book(many) as book:
        listed = Board(book).listing()
        rows = listed.window(10, 3)
        assert [(row.address, row.customer) for row in rows] == [
            (address(number), f"Customer {number}") for number in (11, 12, 13)
        ]
        assert not any(row.known for row in rows)
        assert len(listed) == MANY


def test_what_another_program_wrote_is_on_the_board(many: Path) -> None:
    with Book(many) as book:
        Board(book).all_rows()
    raw(
        many,
        "UPDATE job SET address = '0 First Street' WHERE id = 'p00100'",
        "UPDATE zone SET name = 'roses' WHERE job_id = 'p00007'",
        "UPDATE job SET off_board = 1 WHERE id = 'p00001'",
    )
    with Book(many) as book:
        board = Board(book)
        assert board.stale_count() == 2
        listed = board.listing()
        assert len(listed) == MANY - 1
        assert [row.address for row in listed.window(0, 2)] == ["0 First Street", address(2)]
        assert [row.address for row in board.find("roses").window(0, 9)] == [address(7)]


def test_rows_deleted_by_another_program_are_made_again(many: Path) -> None:
    with Book(many) as book:
        before = Board(book).all_rows()
    raw(
        many,
        "DROP TRIGGER board_line_again",
        "DELETE FROM board_line WHERE job_id < 'p00200'",
    )
    with Book(many) as book:
        assert Board(book).all_rows() == before


def test_slices_make_the_rows_in_view_first_and_then_the_others(many: Path) -> None:
    with Book(many) as book:
        board = Board(book)
        board.prepare_first_page()
        listed = board.listing()
        assert all(row.known for row in listed.window(0, 20))
        last = listed.window(MANY - 20, 20)
        assert not any(row.known for row in last)
        while wanted := [row.job_id for row in listed.window(MANY - 20, 20) if not row.known]:
            before = board.stale_count()
            assert board.catch_up(wanted)
            assert board.stale_count() < before
        assert board.stale_count() >= MANY - 40 - 20 - 30
        while board.stale_count():
            assert board.catch_up(())
        assert all_of(listed, 50) == board.all_rows()
        assert not board.catch_up(())


def test_an_entry_between_two_slices_is_shown(many: Path) -> None:
    with Book(many) as book:
        board = Board(book)
        board.catch_up(["p00005"])
        open_job = OpenJob(book, "p00005", "AB")
        cells.enter_text(open_job, CellRef("job", "p00005", "customer"), "Q. Late")
        while board.stale_count():
            board.catch_up(())
        (row,) = board.find("late").window(0, 5)
        assert (row.job_id, row.customer) == ("p00005", "Q. Late")


def test_a_property_with_a_stale_row_is_found_by_address_and_customer(many: Path) -> None:
    with Book(many) as book:
        board = Board(book)
        assert len(board.find("long str")) == MANY - 1
        assert len(board.find("mer 299")) == 1
        found = board.find("lawn")
        assert len(found) == 0
        while board.stale_count():
            board.catch_up(())
        found.renew()
        assert len(found) == len(board.find("lawn")) == MANY


def test_a_found_property_stays_when_it_changes_and_goes_when_it_is_removed(
    many: Path,
) -> None:
    with Book(many) as book:
        board = Board(book)
        board.all_rows()
        found = board.find("customer 29")
        assert len(found) == 13
        open_job = OpenJob(book, "p00290", "AB")
        cells.enter_text(open_job, CellRef("job", "p00290", "customer"), "Q. Late")
        remove_property(book, "p00291", "AB")
        found.renew()
        addresses = [row.address for row in found.window(0, 20)]
        assert len(addresses) == len(found) == 12
        assert address(290) in addresses
        assert address(291) not in addresses
        assert len(board.find("customer 29")) == 11


def test_only_what_a_screen_shows_is_read(many: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with Book(many) as book:
        Board(book).all_rows()
    read: list[str] = []

    def counted(kept: StoredRow, day: date) -> BoardRow:
        read.append(kept.job_id)
        return from_stored(kept, day)

    monkeypatch.setattr(board_module, "from_stored", counted)
    with Book(many) as book:
        board = Board(book)
        board.prepare_first_page()
        board.listing().window(200, 20)
        found = board.find("lawn")
        assert len(found) == MANY
        found.window(100, 20)
        assert len(read) == 40


def test_a_new_day_makes_rows_anew_that_were_valid_until_yesterday(
    many: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with Book(many) as book:
        before = Board(book).all_rows()
    raw(many, "UPDATE board_line SET until = '2000-01-01' WHERE job_id > 'p00200'")
    made: list[str] = []
    with Book(many) as book:
        load = book.load

        def counted(job_id: str) -> LoadedJob:
            made.append(job_id)
            return load(job_id)

        monkeypatch.setattr(book, "load", counted)
        board = Board(book)
        assert board.stale_count() == MANY - 1 - 200
        listed = board.listing()
        assert [row.known for row in listed.window(199, 2)] == [True, False]
        assert made == []
        assert Board(book).all_rows() == before
        assert sorted(made) == [f"p{number:05}" for number in range(201, MANY)]
        assert board.stale_count() == 0


def test_a_slice_passes_over_a_job_that_is_gone(
    many: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with Book(many) as book:
        board = Board(book)
        assert board.catch_up(["nowhere"])
        monkeypatch.setattr(book.board, "stale_jobs", lambda day, most: ["nowhere"])
        assert not board.catch_up(())


def test_what_runs_out_counts_from_the_day_the_row_is_read() -> None:
    told = '{"job_id": "j", "address": "3 Oak", "customer": "", "phone": "", "access": ""}'
    stored = StoredRow(1, "j", "9999-01-01", told, "21000", "2026-05-04 ticket")
    words = [from_stored(stored, day).runs_out for day in (date(2026, 5, 3), date(2026, 5, 6))]
    assert [one.when(date(2026, 5, 3)) for one in words if one] == ["1 day", "1 day"]
    row = from_stored(stored, date(2026, 5, 6))
    assert row.places == ("done", "begun", "nothing", "nothing", "nothing")
    assert row.runs_out is not None
    assert row.runs_out.when(date(2026, 5, 6)) == "ran out"


def test_a_board_of_before_the_bar_is_made_anew(many: Path) -> None:
    with Book(many) as book:
        before = Board(book).all_rows()
    assert all(len(row.places) == 5 for row in before)
    raw(many, "ALTER TABLE board_line DROP COLUMN places")
    raw(many, "ALTER TABLE board_line DROP COLUMN runs_out")
    assert len(FirstPage(many)) == 0
    with Book(many) as book:
        board = Board(book)
        assert board.stale_count() == MANY
        assert board.all_rows() == before
    assert [row.places for row in FirstPage(many).window(0, 3)] == [
        row.places for row in before[:3]
    ]
