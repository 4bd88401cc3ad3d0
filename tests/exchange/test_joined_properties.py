"""Two crews add one property without signal: a flag on both, F6 joins them, undo parts them."""

from __future__ import annotations

from pathlib import Path

import pytest
from trucks import Truck, static

from fieldbook.actions import cells as entering
from fieldbook.actions import rows, signing
from fieldbook.actions.board.board import Board
from fieldbook.actions.conflicts.question import ADDRESS, TWICE, Question
from fieldbook.actions.conflicts.settling import answer_typed, choose, questions_of
from fieldbook.actions.exchange.folder_exchange import exchange_through_folder
from fieldbook.actions.files import attach as files
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import bring_back
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.finding import CellRef
from fieldbook.store.attached import attached_path
from fieldbook.store.errors import BookError
from fieldbook.store.mending.verify import verify


@pytest.fixture
def trucks(tmp_path: Path) -> tuple[Truck, Truck, str, str]:
    """Two trucks that each added the property, and the ids of the two."""
    one, other = Truck(tmp_path, "AB"), Truck(tmp_path, "CD")
    return one, other, one.begin("12 North Elm Street"), other.begin("12 n. elm st")


def exchange(stick: Path, *trucks: Truck) -> None:
    for truck in (*trucks, *trucks):
        with truck.open() as book:
            report = exchange_through_folder(book, stick, lambda _done, _total: None)
            assert not report.refused
    assert trucks[0].exported() == trucks[1].exported()


def asked(open_job: OpenJob) -> Question:
    return next(one for one in questions_of(open_job) if one.kind == ADDRESS)


def board_notes(truck: Truck) -> list[int]:
    with truck.open() as book:
        return [row.notes for row in Board(book).all_rows()]


def test_one_address_is_a_note_on_both_and_on_the_board(
    trucks: tuple[Truck, Truck, str, str], stick: Path
) -> None:
    one, other, first, second = trucks
    before = board_notes(one)
    exchange(stick, one, other)
    assert board_notes(one) == board_notes(other) == [before[0] + 1] * 2
    for job in (first, second):
        with one.open_job(job) as open_job:
            (flag,) = [flag for flag in open_job.findings if flag.code == "address twice"]
            assert "Another property has this address: 12 " in flag.sentence
            assert flag.at == CellRef("job", job, "address")
    with one.open_job(second) as open_job:
        answer_typed(open_job, asked(open_job), "14 N Elm St")
        assert "address twice" not in {flag.code for flag in open_job.findings}
    assert board_notes(one) == before * 2


def test_joined_they_hold_what_both_had_and_undo_parts_them(
    trucks: tuple[Truck, Truck, str, str], stick: Path, tmp_path: Path
) -> None:
    one, other, first, second = trucks
    photo = tmp_path / "box.jpg"
    photo.write_bytes(b"not really a photo")
    with other.open_job(second) as open_job:
        files.attach(open_job, "zone", open_job.job.zones[0].id, str(photo))
        entering.enter_text(open_job, static(second), "64")
        entering.enter_text(open_job, CellRef("job", second, "customer"), "R. Okonjo")
        run = rows.repeat_run(open_job, open_job.job.zones[0].id)
    exchange(stick, one, other)
    before = one.exported()
    with one.open_job(first) as open_job:
        said = choose(open_job, asked(open_job), 1)
        assert "In 1 cell the two differ." in said
        job = open_job.job
        assert [zone.number for zone in job.zones] == [1, 1, 2, 2]
        assert {zone.entered_by for zone in job.zones} == {"AB", "CD"}
        assert job.job.customer == "R. Okonjo"
        (pipe,), (file,) = job.pipe_runs, job.attachments
        assert pipe.id != run
        assert file.of_row == pipe.zone_id
        assert attached_path(open_job.book.path, file.sha256).read_bytes() == photo.read_bytes()
        found = {flag.code for flag in open_job.findings}
        assert {"two versions", "zone twice"} <= found
        assert "address twice" not in found
    exchange(stick, one, other)
    with other.open() as book:
        assert [job.id for job in book.jobs()] == [first]
    assert verify(one.path).wrong == ()
    with one.open_job(first) as open_job:
        open_job.undo()
    with one.open() as book:
        assert {job.id for job in book.jobs()} == {first, second}
    exchange(stick, one, other)
    assert _without_stamps(one.exported()) == _without_stamps(before)
    with one.open_job(first) as open_job:
        open_job.redo()
        assert len(open_job.job.zones) == 4
        for _ in range(2):
            question = next(one for one in questions_of(open_job) if one.kind == TWICE)
            number = next(
                at for at, option in enumerate(question.options, 1) if "same thing" in option.words
            )
            choose(open_job, question, number)
        assert [zone.number for zone in open_job.job.zones] == [1, 2]


def _without_stamps(exported: list[tuple[str, list[str]]]) -> list[list[str]]:
    return [[line for line in text.splitlines() if '"entered_' not in line] for text, _ in exported]


def test_both_join_at_once_and_one_goes_on_entering(
    trucks: tuple[Truck, Truck, str, str], stick: Path
) -> None:
    one, other, first, second = trucks
    exchange(stick, one, other)
    for truck in (one, other):
        with truck.open_job(first) as open_job:
            choose(open_job, asked(open_job), 1)
    exchange(stick, one, other)
    with one.open_job(first) as open_job:
        assert len(open_job.job.zones) == 4
        assert not open_job.job.neighbours
    # A third laptop, which has not heard of it, enters in the one that was given up.
    with other.open_job(second) as open_job:
        entering.enter_text(open_job, CellRef("job", second, "access"), "gate code 4")
        rows.add_zone(open_job)
    exchange(stick, one, other)
    with one.open_job(first) as open_job:
        (flag,) = [flag for flag in open_job.findings if flag.code == "joined property changed"]
        assert "F6 brings them over" in flag.mend
        assert sum(row.fixes for row in Board(open_job.book).all_rows()) > 0
        choose(open_job, asked(open_job), 1)
        assert open_job.job.job.access == "gate code 4"
        assert len(open_job.job.zones) == 5
        assert not open_job.job.neighbours
    exchange(stick, one, other)


def test_a_signed_property_stays_and_two_signed_ones_are_not_joined(
    trucks: tuple[Truck, Truck, str, str], stick: Path
) -> None:
    one, other, first, second = trucks
    override = signing.Override("A. Foreman", "a test")
    with other.open_job(second) as open_job:
        signing.sign_off(open_job, "price", override)
    exchange(stick, one, other)
    with one.open_job(first) as open_job:
        said = choose(open_job, asked(open_job), 1)
        assert said.startswith("Joined: open 12 n. elm st")
        assert open_job.job.job.off_board
    with one.open_job(second) as open_job:
        assert len(open_job.job.zones) == 4
        (signature,) = open_job.job.sign_offs
        assert signature.signed_by
        open_job.undo()
    with one.open_job(first) as open_job:
        signing.sign_off(open_job, "price", override)
        question = asked(open_job)
        assert not question.options
        assert "give one another address" in question.notes[0]
        with pytest.raises(RefusedError):
            choose(open_job, question, 1)


def test_the_given_up_one_is_brought_back_without_taking_back_later_entries(
    trucks: tuple[Truck, Truck, str, str], stick: Path
) -> None:
    one, other, first, second = trucks
    exchange(stick, one, other)
    with one.open_job(first) as open_job:
        choose(open_job, asked(open_job), 1)
        entering.enter_text(open_job, CellRef("job", first, "access"), "key")
        book = open_job.book
        with pytest.raises(BookError, match="undo that first"):
            book.undo(second, by="AB")
        assert bring_back(book, "AB") == second
        open_job.refresh()
        assert open_job.job.job.access == "key"
        assert len(open_job.job.zones) == 4
        assert {job.id for job in book.jobs()} == {first, second}
