"""A choice settles what it saw on every laptop; taken back, it is open again everywhere."""

from __future__ import annotations

import pytest
from laptops import JOBS, Laptop, supply_of, terminal_of

from fieldbook.records.conflict import CELL, REMOVED, UNREADABLE, Conflict
from fieldbook.records.values import Value
from fieldbook.store.changes import Add, Change, Keep, Put, Remove, Restore
from fieldbook.store.journal.entry import as_dict, make_entry
from fieldbook.store.load import load_job

JOB = JOBS[0]
SUPPLY, TERMINAL = supply_of(JOB), terminal_of(JOB, 1)
STATIC = "static_psi"


def static(value: Value) -> Put:
    return Put("supply", SUPPLY, STATIC, value)


def colour(value: Value) -> Put:
    return Put("terminal", TERMINAL, "colour", value)


def conflicts(laptop: Laptop) -> dict[tuple[str, str], Conflict]:
    with laptop.book.begin():
        job = load_job(laptop.book, JOB)
    return {(one.table, one.column): one for one in job.conflicts}


def said(laptop: Laptop, table: str, column: str) -> list[tuple[Value, str]]:
    """The versions of a cell in conflict, the one that is shown first, and who said so."""
    found = conflicts(laptop).get((table, column))
    return [] if found is None else [(one.value, one.who) for one in found.versions]


@pytest.fixture
def two() -> tuple[Laptop, Laptop]:
    """Two laptops that hold the same property."""
    one, other = Laptop("AB"), Laptop("CD", 1)
    one.add_job(JOB)
    one.act(JOB, [Add("terminal", TERMINAL, {"role": "zone", "number": 1}), static(60.0)])
    other.receive(one.entries())
    return one, other


def meet(one: Laptop, other: Laptop) -> None:
    one.receive(other.entries())
    other.receive(one.entries())
    assert one.tables() == other.tables()
    assert one.conflicts() == other.conflicts()


def differ(two: tuple[Laptop, Laptop]) -> tuple[Laptop, Laptop]:
    """62 here, then 64 there."""
    one, other = two
    one.act(JOB, [static(62.0)])
    other.act(JOB, [static(64.0)])
    meet(one, other)
    assert said(one, "supply", STATIC) == [(64.0, "CD"), (62.0, "AB")]
    return one, other


@pytest.mark.parametrize("psi", [62.0, 64.0, 70.0, None])
def test_a_choice_taken_back_is_open_again_on_both(two: tuple[Laptop, Laptop], psi: float) -> None:
    one, other = differ(two)
    before = said(one, "supply", STATIC)
    one.act(JOB, [static(psi)])
    meet(one, other)
    assert not conflicts(other)
    one.undo(JOB)
    assert said(one, "supply", STATIC) == before
    assert one.row("supply", SUPPLY)[STATIC] == 64.0
    meet(one, other)
    assert said(other, "supply", STATIC) == before
    other.act(JOB, [static(62.0)])
    meet(one, other)
    assert not conflicts(one)
    assert one.row("supply", SUPPLY)[STATIC] == 62.0


def test_a_choice_is_not_taken_back_over_what_came_since(two: tuple[Laptop, Laptop]) -> None:
    one, other = differ(two)
    one.act(JOB, [static(62.0)])
    meet(one, other)
    other.act(JOB, [static(66.0)])
    meet(one, other)
    one.undo(JOB)
    assert one.row("supply", SUPPLY)[STATIC] == 66.0


def test_two_choices_that_differ_are_in_conflict(two: tuple[Laptop, Laptop]) -> None:
    one, other = differ(two)
    one.act(JOB, [static(62.0)])
    other.act(JOB, [static(64.0)])
    meet(one, other)
    assert {value for value, _ in said(one, "supply", STATIC)} == {62.0, 64.0}
    one.act(JOB, [static(64.0)])
    meet(one, other)
    assert not conflicts(other)


def removed_and_changed(two: tuple[Laptop, Laptop]) -> tuple[Laptop, Laptop]:
    """Here the terminal is removed; there, and elsewhere, it got a colour."""
    one, other = two
    third = Laptop("EF")
    third.receive(one.entries())
    one.act(JOB, [Remove("terminal", TERMINAL)])
    other.act(JOB, [colour("red")])
    third.act(JOB, [colour("blue")])
    other.receive(third.entries())
    meet(one, other)
    kinds = {key: found.kind for key, found in conflicts(one).items()}
    assert kinds == {("terminal", "_deleted"): REMOVED, ("terminal", "colour"): CELL}
    return one, other


def test_keeping_a_line_leaves_its_cells_to_be_settled(two: tuple[Laptop, Laptop]) -> None:
    one, other = removed_and_changed(two)
    colours = said(one, "terminal", "colour")
    one.act(JOB, [Keep("terminal", TERMINAL)])
    meet(one, other)
    for laptop in (one, other):
        assert list(conflicts(laptop)) == [("terminal", "colour")]
        assert said(laptop, "terminal", "colour") == colours


@pytest.mark.parametrize("change", [Keep("terminal", TERMINAL), Remove("terminal", TERMINAL)])
def test_a_line_kept_or_removed_is_asked_about_again(
    two: tuple[Laptop, Laptop], change: Change
) -> None:
    one, other = removed_and_changed(two)
    before = conflicts(one)
    one.act(JOB, [change])
    assert conflicts(one) != before
    one.undo(JOB)
    assert conflicts(one) == before
    meet(one, other)
    assert conflicts(other) == before


def test_a_line_is_put_back_with_the_columns_of_a_newer_fieldbook(
    two: tuple[Laptop, Laptop],
) -> None:
    one, other = two
    newer = next(one for one in other.entries() if one.row_id == TERMINAL)
    told = {key: value for key, value in as_dict(newer).items() if key != "id"}
    more = {"op": "glow", "value": '"green"', "parents": (newer.id,), "seq": 900, "origin": "new"}
    one.receive([make_entry({**told, **more})])
    one.act(JOB, [Remove("terminal", TERMINAL)])
    meet(one, other)
    assert not one.row("terminal", TERMINAL)
    other.act(JOB, [Restore("terminal", TERMINAL)])
    meet(one, other)
    assert one.row("terminal", TERMINAL)["number"] == 1
    assert any('"glow":"green"' in entry.value for entry in one.entries() if entry.op == "add")


def test_what_a_newer_fieldbook_entered_is_there_again_once_undone(
    two: tuple[Laptop, Laptop],
) -> None:
    one, other = two
    head = [one for one in other.entries() if one.op == STATIC or one.row_id == SUPPLY][-1]
    told = {key: value for key, value in as_dict(head).items() if key != "id"}
    more = {"op": STATIC, "value": '"low"', "parents": (head.id,), "seq": 900, "origin": "new"}
    one.receive([make_entry({**told, **more})])
    assert conflicts(one)["supply", STATIC].kind == UNREADABLE
    one.act(JOB, [static(61.0)])
    assert not conflicts(one)
    one.undo(JOB)
    assert [value for value, _ in said(one, "supply", STATIC)] == ["low"]
    assert one.row("supply", SUPPLY)[STATIC] is None
