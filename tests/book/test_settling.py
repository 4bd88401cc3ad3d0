"""Two books after an exchange: the questions, what each answer does, what is refused."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from two_books import TwoBooks, two_books

from fieldbook.actions import cells, rows
from fieldbook.actions.conflicts import settling
from fieldbook.actions.conflicts.question import TWICE, Question
from fieldbook.actions.job_files import export_text
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.finding import CellRef
from fieldbook.jobfile.read import read_job
from fieldbook.records.conflict import BROKEN_LINK, CELL, EVIDENCE, REMOVED
from fieldbook.store.changes import Add


@pytest.fixture
def pair(tmp_path: Path) -> Iterator[TwoBooks]:
    with two_books(tmp_path / "here.sqlite", tmp_path / "there.sqlite") as found:
        yield found


def asked(open_job: OpenJob, kind: str = "") -> list[Question]:
    return [one for one in settling.questions_of(open_job) if kind in ("", one.kind)]


def alike(pair: TwoBooks) -> None:
    """After another exchange both books hold the same, and no question is left."""
    pair.exchange()
    assert pair.here.job.tables() == pair.there.job.tables()
    assert not asked(pair.here) + asked(pair.there)


def test_nothing_is_asked_of_books_that_agree(pair: TwoBooks) -> None:
    pair.enter_apart(pair.static, "62", "62")
    alike(pair)


def test_each_version_names_who_entered_it_when_and_on_which_laptop(pair: TwoBooks) -> None:
    pair.enter_apart(pair.static, "62", "64")
    pair.exchange()
    (question,) = asked(pair.here)
    assert question.title == "Static pressure of the supply"
    assert question.where == "at the street"
    by = {option.words: option.by[0] for option in question.options}
    assert by["62 psi"].startswith("AB, 20")
    assert by["62 psi"].endswith(", this laptop")
    assert f"laptop {pair.there.book.origin[-6:]}" in by["64 psi"]
    assert [one.origin for one in pair.here.job.conflicts[0].versions] != [pair.here.book.origin]


@pytest.mark.parametrize("number", [1, 2])
def test_keeping_a_version_settles_it_on_both_laptops(pair: TwoBooks, number: int) -> None:
    pair.enter_apart(pair.static, "62", "64")
    pair.exchange()
    (question,) = asked(pair.here)
    words = question.options[number - 1].words
    assert settling.choose(pair.here, question, number) == f"Kept {words} as static pressure."
    alike(pair)
    supply = pair.there.job.supply
    assert supply is not None
    assert f"{supply.static_psi:g} psi" == words


def test_another_value_is_typed_as_on_the_sheet(pair: TwoBooks) -> None:
    pair.enter_apart(pair.static, "62", "64")
    pair.exchange()
    (question,) = asked(pair.here)
    for typed, why in (("1-5", "pressure"), ("  ", "Type a value"), ("9000", "goes from")):
        with pytest.raises(RefusedError, match=why):
            settling.answer_typed(pair.here, question, typed)
        assert asked(pair.here) == [question]
    with pytest.raises(RefusedError, match="no 3 to choose"):
        settling.choose(pair.here, question, 3)
    assert settling.answer_typed(pair.here, question, "4.5 bar").startswith("Kept 65.3 psi")
    alike(pair)


def test_colours_ticks_and_links_are_typed_as_on_the_sheet(pair: TwoBooks) -> None:
    box = rows.add_box(pair.here)
    pair.exchange()
    at = CellRef("valve", pair.wire(1).row_id, "box_id")
    pair.enter_apart(pair.wire(1), "red", "blue")
    pair.enter_apart(CellRef("valve", at.row_id, "splice_waterproof"), "yes", "no")
    seed = {"zone_id": pair.zone(1).row_id}
    cells.enter(pair.here, at, box, seed)
    cells.enter(pair.there, at, pair.zone(1).row_id, seed)
    pair.exchange()
    typed = {"colour": "orange", "splice_waterproof": "yes", "box_id": "a"}
    for question in asked(pair.here, CELL):
        with pytest.raises(RefusedError):
            settling.answer_typed(pair.here, question, "q")
        settling.answer_typed(pair.here, question, typed[question.at.column])
    valve = pair.here.job.valve_of(pair.zone(1).row_id)
    assert valve is not None
    assert (valve.colour, valve.splice_waterproof, valve.box_id) == ("orange", True, box)
    alike(pair)


@pytest.mark.parametrize("number", [1, 2])
def test_a_tick_that_differs_is_settled(pair: TwoBooks, number: int) -> None:
    pair.enter_apart(CellRef("valve", pair.wire(1).row_id, "splice_waterproof"), "yes", "no")
    pair.exchange()
    (question,) = asked(pair.here)
    settling.choose(pair.here, question, number)
    alike(pair)


def test_undo_opens_the_question_again_with_its_first_authors(pair: TwoBooks) -> None:
    pair.enter_apart(pair.static, "62", "64")
    pair.exchange()
    before = asked(pair.there)
    settling.choose(pair.there, before[0], 2)
    assert not asked(pair.there)
    assert "static pressure" in pair.there.undo()
    assert asked(pair.there) == before
    pair.there.redo()
    alike(pair)


def removed_and_changed(pair: TwoBooks) -> Question:
    """Zone 2, which has a run, is removed here and given a name there."""
    rows.repeat_run(pair.here, pair.zone(2).row_id)
    pair.exchange()
    there = pair.zone(2)
    rows.remove_row(pair.here, "zone", there.row_id)
    cells.enter_text(pair.there, there, "orchard")
    pair.exchange()
    (question,) = asked(pair.here)
    assert question.kind == REMOVED
    assert question.title == "Zone 2 (orchard)"
    assert "removed by AB" in question.options[1].by[0]
    assert "changed by CD" in question.options[0].by[0]
    return question


def test_keeping_a_removed_zone_restores_its_runs(pair: TwoBooks) -> None:
    question = removed_and_changed(pair)
    assert not pair.here.job.pipe_runs
    settling.choose(pair.here, question, 1)
    assert [run.zone_id for run in pair.here.job.pipe_runs] == [question.at.row_id]
    alike(pair)


def test_removing_the_zone_removes_it_on_both_laptops(pair: TwoBooks) -> None:
    question = removed_and_changed(pair)
    settling.choose(pair.here, question, 2)
    alike(pair)
    assert [zone.number for zone in pair.there.job.zones] == [1, 3]


def left_over(pair: TwoBooks) -> Question:
    """Zone 2, which has a run, is removed here and gets two more runs there."""
    rows.repeat_run(pair.here, pair.zone(2).row_id)
    pair.exchange()
    zone_id = pair.zone(2).row_id
    rows.remove_row(pair.here, "zone", zone_id)
    rows.repeat_run(pair.there, zone_id)
    rows.repeat_run(pair.there, zone_id)
    pair.exchange()
    (question,) = asked(pair.there)
    assert question.kind == BROKEN_LINK
    assert question.title == "What is left of zone 2"
    return question


def test_putting_a_removed_zone_back_restores_all_of_it(pair: TwoBooks) -> None:
    question = left_over(pair)
    settling.choose(pair.there, question, 1)
    assert [zone.name for zone in pair.there.job.zones] == ["lawn", "hedge", "roses"]
    assert len(pair.there.job.runs_of(question_zone(pair))) == 3
    alike(pair)


def test_a_job_with_orphaned_rows_is_exported_only_after_settling(pair: TwoBooks) -> None:
    question = left_over(pair)
    with pytest.raises(RefusedError, match=r"^Lateral run . of that zone and .* with F6 first"):
        export_text(pair.there.book, pair.there.job_id)
    settling.choose(pair.there, question, 1)
    assert read_job(export_text(pair.there.book, pair.there.job_id).encode(), copy=False)


def question_zone(pair: TwoBooks) -> str:
    return pair.there.job.zones[1].id


def test_letting_a_zone_go_removes_its_orphaned_runs(pair: TwoBooks) -> None:
    question = left_over(pair)
    settling.choose(pair.there, question, 2)
    assert not pair.there.job.pipe_runs
    alike(pair)


def test_letting_a_box_go_clears_it_on_its_valve(pair: TwoBooks) -> None:
    box = rows.add_box(pair.here)
    pair.exchange()
    rows.remove_row(pair.here, "valve_box", box)
    at = CellRef("valve", pair.wire(1).row_id, "box_id")
    cells.enter(pair.there, at, box, {"zone_id": pair.zone(1).row_id})
    pair.exchange()
    (question,) = asked(pair.here)
    assert question.title == "What names valve box A, which is gone"
    settling.choose(pair.here, question, 2)
    assert pair.here.job.valves[0].box_id is None
    alike(pair)


def test_a_removed_zone_with_a_sign_off_can_only_be_put_back(pair: TwoBooks) -> None:
    zone_id = pair.zone(2).row_id
    rows.remove_row(pair.here, "zone", zone_id)
    signature = Add("sign_off", "s1", {"kind": "backfill", "zone_id": zone_id, "signed_by": "CD"})
    pair.there.commit([signature], "signed")
    pair.exchange()
    (question,) = asked(pair.here, BROKEN_LINK)
    assert len(question.options) == 1
    assert "evidence" in question.explanation
    settling.choose(pair.here, question, 1)
    alike(pair)


@pytest.mark.parametrize("number", [1, 2])
def test_one_of_two_zones_with_a_number_keeps_it(pair: TwoBooks, number: int) -> None:
    for open_job, name in ((pair.here, "east"), (pair.there, "west")):
        zone_id = rows.add_zone(open_job)
        cells.enter_text(open_job, CellRef("zone", zone_id, "name"), name)
    pair.exchange()
    (question,) = asked(pair.here)
    assert question.kind == TWICE
    assert question.title == "Zone 4, given twice"
    assert "Terminal 4 runs the one" in question.explanation
    done = settling.choose(pair.here, question, number)
    numbers = {zone.name: zone.number for zone in pair.here.job.zones}
    kept, other = ("east", "west") if numbers["east"] == 4 else ("west", "east")
    assert numbers[other] == 5
    assert done == f"Kept 4 for zone 4 ({kept}); zone 4 ({other}) becomes 5."
    alike(pair)


def test_one_of_two_boxes_or_cables_with_a_name_gets_the_next_one(pair: TwoBooks) -> None:
    for open_job in (pair.here, pair.there):
        rows.add_box(open_job)
        rows.add_cable(open_job)
    pair.exchange()
    for question in asked(pair.here):
        assert "of AB" in question.options[0].words
        settling.choose(pair.here, question, 1)
    assert [box.name for box in pair.here.job.valve_boxes] == ["A", "B"]
    assert [cable.name for cable in pair.here.job.cables] == ["1", "2"]
    alike(pair)
    rows.add_box(pair.here)
    assert [box.name for box in pair.here.job.valve_boxes] == ["A", "B", "C"]


def test_a_signature_changed_elsewhere_is_shown_without_a_choice(pair: TwoBooks) -> None:
    row = {"kind": "price", "signed_by": "AB", "signed_at": "2026-05-04T08:00:00-05:00"}
    pair.here.commit([Add("sign_off", "s1", dict(row))], "signed")
    pair.there.commit([Add("sign_off", "s1", {**row, "signed_by": "CD"})], "signed")
    pair.exchange()
    (question,) = asked(pair.here)
    assert question.kind == EVIDENCE
    assert not question.open
    # Two clocks that agree to the second leave open which came first.
    first, other = ("AB", "CD") if pair.here.job.sign_offs[0].signed_by == "AB" else ("CD", "AB")
    assert question.notes[0] == f"signed by {first}, 2026-05-04 08:00"
    assert question.notes[1].startswith(f"changed by {other}, ")
    with pytest.raises(RefusedError, match="no 1 to choose"):
        settling.choose(pair.here, question, 1)
    with pytest.raises(RefusedError, match="Nothing can be typed"):
        settling.answer_typed(pair.here, question, "x")
