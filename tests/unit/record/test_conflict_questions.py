"""Questions about a job in memory: words in its units, versions that can't be kept, order."""

from __future__ import annotations

from dataclasses import replace

import pytest
from builders import bare_job, conductors, row, zone

from fieldbook.actions.conflicts.question import TWICE, Question
from fieldbook.actions.conflicts.settling import questions
from fieldbook.actions.rows import free_names
from fieldbook.checks.desk.open_conflicts import NOT_READ
from fieldbook.checks.registry import check
from fieldbook.records.conflict import (
    CELL,
    EVIDENCE,
    UNREADABLE,
    Conflict,
    ConflictKind,
    Version,
)
from fieldbook.records.tables.sign_offs import SignOff
from fieldbook.records.tables.supply import Supply
from fieldbook.records.tables.wires import Cable, ValveBox
from fieldbook.records.values import Value
from fieldbook.screens.pages.question_lines import question_keys, question_lines
from fieldbook.store.changes import Put

OWN = "laptop-own"


def version(value: Value, who: str = "CD", origin: str = "other-3f2a1c") -> Version:
    return Version(value, who, "2026-05-04T08:12:31-05:00", origin)


def ask(*versions: Version, column: str = "static_psi", kind: ConflictKind = CELL) -> Question:
    conflict = Conflict("supply", "s", column, kind, versions)
    job = replace(bare_job(supply=row(Supply, "s")), conflicts=(conflict,))
    (question,) = questions(job, OWN)
    assert check(job)
    return question


def told(question: Question, width: int = 50) -> str:
    return "\n".join(line.plain.rstrip() for line in question_lines(question, width))


def test_versions_with_the_same_value_are_one_option() -> None:
    same = version(62.0), version(64.0), version(62, "AB", OWN)
    question = ask(*same)
    assert [one.words for one in question.options] == ["62 psi", "64 psi"]
    assert question.options[0].by == (
        "CD, 2026-05-04 08:12, laptop 3f2a1c",
        "AB, 2026-05-04 08:12, this laptop",
    )
    assert question.options[0].changes == (Put("supply", "s", "static_psi", 62.0),)


def test_values_are_in_the_units_of_the_property() -> None:
    conflict = Conflict("supply", "s", "static_psi", CELL, (version(62.0), version(None)))
    job = replace(bare_job("metric", supply=row(Supply, "s")), conflicts=(conflict,))
    (question,) = questions(job, OWN)
    assert [one.words for one in question.options] == ["4.27 bar", "blank"]


def test_a_value_that_can_not_be_read_is_no_option_but_a_note() -> None:
    question = ask(version(62.0), version("low"))
    assert [one.words for one in question.options] == ["62 psi"]
    assert question.notes == (f"{NOT_READ}: CD, 2026-05-04 08:12, laptop 3f2a1c",)
    assert "Update fieldbook" in question.explanation
    assert question.typed
    alone = ask(version("lo\x1bw"), kind=UNREADABLE)
    assert not alone.options
    assert alone.typed
    assert alone.notes[0].startswith("“low”")


def test_a_column_of_a_newer_fieldbook_can_not_be_answered() -> None:
    question = ask(version("x"), version("y"), column="glow")
    assert not question.open
    assert "update it here" in question.explanation
    assert len(question.notes) == 2


def test_a_curve_that_can_not_be_read_is_still_asked() -> None:
    conflict = Conflict("backflow_assembly", "b", "loss_curve", CELL, (version("??"), version("")))
    job = replace(bare_job("metric"), conflicts=(conflict,))
    assert questions(job, OWN)
    assert check(job)


def test_questions_that_can_be_answered_come_first() -> None:
    signed = row(SignOff, "o", kind="price", signed_by="AB", signed_at="2026-05-04T08:00:00")
    evidence = Conflict("sign_off", "o", "", EVIDENCE, (version(None), version(None, "AB")))
    job = replace(
        bare_job(zones=(zone(1), row(type(zone(1)), "z", number=1)), sign_offs=(signed,)),
        conflicts=(evidence,),
    )
    assert [one.kind for one in questions(job, OWN)] == [TWICE, EVIDENCE]


def test_two_of_three_rows_with_one_number_get_free_ones() -> None:
    zones = [zone(1), zone(4)] + [row(type(zone(1)), f"z{n}", number=1) for n in (1, 2)]
    (question,) = questions(bare_job(zones=tuple(zones)), OWN)
    assert len(question.options) == 6
    keep, join = question.options[:3], question.options[3:]
    values = [[one.value for one in option.changes if isinstance(one, Put)] for option in keep]
    assert values == [[5, 6]] * 3
    assert all("the same thing: join zone 1" in option.words for option in join)


def test_a_long_answer_is_wrapped_under_its_beginning() -> None:
    question = ask(version("word " * 30), version("[/]"), column="static_where")
    lines = told(question, 40).splitlines()
    assert max(map(len, lines)) <= 40
    first = next(no for no, line in enumerate(lines) if line.startswith("1  word"))
    assert lines[first + 1].startswith("   word")
    assert any(line == "2  [/]" for line in lines)


@pytest.mark.parametrize("typed", [True, False])
def test_only_keys_that_work_are_named(typed: bool) -> None:
    question = replace(ask(version(62.0), version(64.0)), typed=typed)
    words = [word for _, word in question_keys(question, 1, chosen=False)]
    assert words == ["keep", *(["type"] if typed else []), "back"]
    more = [word for _, word in question_keys(question, 2, chosen=True)]
    assert more[-2:] == ["undo", "next"]


@pytest.mark.parametrize(
    ("names", "free"),
    [((), "A"), (("A",), "B"), (("A", "B", "B"), "C"), (("A", "C"), "D"), (("front",), "B")],
)
def test_the_next_letter_of_a_box_is_one_that_no_box_has(names: tuple[str, ...], free: str) -> None:
    boxes = tuple(row(ValveBox, f"b{n}", name=name) for n, name in enumerate(names))
    assert free_names(bare_job(valve_boxes=boxes), "valve_box") == [free]


def test_the_next_name_of_a_cable_and_number_of_a_zone() -> None:
    cables = tuple(row(Cable, f"c{name}", name=name) for name in ("1", "3", "3"))
    assert free_names(bare_job(cables=cables), "cable", 2) == ["4", "5"]
    assert free_names(bare_job(zones=(zone(200), zone(1))), "zone", 2) == [2, 3]
    assert conductors("red")
