"""A choice settles a conflict on every laptop; undone, it opens the conflict again everywhere."""

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


def versions_of(laptop: Laptop, table: str, column: str) -> list[tuple[Value, str]]:
    """The values of a cell in conflict and who entered them, the one that is shown first."""
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


def exchange(one: Laptop, other: Laptop) -> None:
    one.receive(other.entries())
    other.receive(one.entries())
    assert one.tables() == other.tables()
    assert one.conflicts() == other.conflicts()


def enter_apart(two: tuple[Laptop, Laptop]) -> tuple[Laptop, Laptop]:
    """Enter 62 on one laptop, then 64 on the other, and exchange."""
    one, other = two
    one.act(JOB, [static(62.0)])
    other.act(JOB, [static(64.0)])
    exchange(one, other)
    assert versions_of(one, "supply", STATIC) == [(64.0, "CD"), (62.0, "AB")]
    return one, other


@pytest.mark.parametrize("psi", [62.0, 64.0, 70.0, None])
def test_an_undone_choice_opens_the_conflict_again(two: tuple[Laptop, Laptop], psi: float) -> None:
    one, other = enter_apart(two)
    before = versions_of(one, "supply", STATIC)
    one.act(JOB, [static(psi)])
    exchange(one, other)
    assert not conflicts(other)
    one.undo(JOB)
    assert versions_of(one, "supply", STATIC) == before
    assert one.row("supply", SUPPLY)[STATIC] == 64.0
    exchange(one, other)
    assert versions_of(other, "supply", STATIC) == before
    other.act(JOB, [static(62.0)])
    exchange(one, other)
    assert not conflicts(one)
    assert one.row("supply", SUPPLY)[STATIC] == 62.0


def test_a_choice_is_not_undone_over_a_later_entry(two: tuple[Laptop, Laptop]) -> None:
    one, other = enter_apart(two)
    one.act(JOB, [static(62.0)])
    exchange(one, other)
    other.act(JOB, [static(66.0)])
    exchange(one, other)
    one.undo(JOB)
    assert one.row("supply", SUPPLY)[STATIC] == 66.0


def test_two_choices_that_differ_are_in_conflict(two: tuple[Laptop, Laptop]) -> None:
    one, other = enter_apart(two)
    one.act(JOB, [static(62.0)])
    other.act(JOB, [static(64.0)])
    exchange(one, other)
    assert {value for value, _ in versions_of(one, "supply", STATIC)} == {62.0, 64.0}
    one.act(JOB, [static(64.0)])
    exchange(one, other)
    assert not conflicts(other)


def removed_and_changed(two: tuple[Laptop, Laptop]) -> tuple[Laptop, Laptop]:
    """One laptop removes the terminal while the other, and a third, give it a colour."""
    one, other = two
    third = Laptop("EF")
    third.receive(one.entries())
    one.act(JOB, [Remove("terminal", TERMINAL)])
    other.act(JOB, [colour("red")])
    third.act(JOB, [colour("blue")])
    other.receive(third.entries())
    exchange(one, other)
    kinds = {key: found.kind for key, found in conflicts(one).items()}
    assert kinds == {("terminal", "_deleted"): REMOVED, ("terminal", "colour"): CELL}
    return one, other


def test_keeping_a_row_leaves_its_cells_in_conflict(two: tuple[Laptop, Laptop]) -> None:
    one, other = removed_and_changed(two)
    colours = versions_of(one, "terminal", "colour")
    one.act(JOB, [Keep("terminal", TERMINAL)])
    exchange(one, other)
    for laptop in (one, other):
        assert list(conflicts(laptop)) == [("terminal", "colour")]
        assert versions_of(laptop, "terminal", "colour") == colours


@pytest.mark.parametrize("change", [Keep("terminal", TERMINAL), Remove("terminal", TERMINAL)])
def test_undoing_keep_or_remove_opens_the_conflict_again(
    two: tuple[Laptop, Laptop], change: Change
) -> None:
    one, other = removed_and_changed(two)
    before = conflicts(one)
    one.act(JOB, [change])
    assert conflicts(one) != before
    one.undo(JOB)
    assert conflicts(one) == before
    exchange(one, other)
    assert conflicts(other) == before


def test_a_row_is_restored_with_the_columns_of_a_newer_fieldbook(
    two: tuple[Laptop, Laptop],
) -> None:
    one, other = two
    newer = next(one for one in other.entries() if one.row_id == TERMINAL)
    content = {key: value for key, value in as_dict(newer).items() if key != "id"}
    more = {"op": "glow", "value": '"green"', "parents": (newer.id,), "seq": 900, "origin": "new"}
    one.receive([make_entry({**content, **more})])
    one.act(JOB, [Remove("terminal", TERMINAL)])
    exchange(one, other)
    assert not one.row("terminal", TERMINAL)
    other.act(JOB, [Restore("terminal", TERMINAL)])
    exchange(one, other)
    assert one.row("terminal", TERMINAL)["number"] == 1
    assert any('"glow":"green"' in entry.value for entry in one.entries() if entry.op == "add")


def test_undo_brings_back_the_value_of_a_newer_fieldbook(
    two: tuple[Laptop, Laptop],
) -> None:
    one, other = two
    latest = [one for one in other.entries() if one.op == STATIC or one.row_id == SUPPLY][-1]
    content = {key: value for key, value in as_dict(latest).items() if key != "id"}
    more = {"op": STATIC, "value": '"low"', "parents": (latest.id,), "seq": 900, "origin": "new"}
    one.receive([make_entry({**content, **more})])
    assert conflicts(one)["supply", STATIC].kind == UNREADABLE
    one.act(JOB, [static(61.0)])
    assert not conflicts(one)
    one.undo(JOB)
    assert [value for value, _ in versions_of(one, "supply", STATIC)] == ["low"]
    assert one.row("supply", SUPPLY)[STATIC] is None
