"""Visits and signatures: what a visit changes asks for no signature, all else still shows.

The rules are ours: no source says how a record of service relates to the signatures of a job.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, date, datetime
from functools import cache

import pytest
from builders import all_signed, put, row, signed, sound_job, with_rows, without
from hypothesis import given
from hypothesis import strategies as st

from fieldbook.actions.bulk.draft import changed as after
from fieldbook.actions.visits.on_visit import changes_on_visit
from fieldbook.checks.finding import Finding
from fieldbook.checks.progress.before_visits import as_signed
from fieldbook.checks.progress.digests import COVERED_TABLES, changed
from fieldbook.checks.progress.signatures import changed_on_visits, changed_words, check_signatures
from fieldbook.checks.progress.standing import standings
from fieldbook.records.base import facts_of
from fieldbook.records.fact import Fact
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.records.tables.visits import Visit
from fieldbook.store.changes import Add, Change, Put, Remove

HANDED_OVER = "2026-05-04"
VISITED = "2026-05-20"
NOW = datetime(2026, 6, 1, 12, tzinfo=UTC)


@cache
def closed() -> LoadedJob:
    """A sound property with every signature, handed over on the 4th and closed on the 5th."""
    return all_signed(sound_job())


def on(job: LoadedJob, day: str, visit_id: str = "visit-1") -> LoadedJob:
    """The job with a visit of a day under way."""
    return with_rows(job, "visit", (*job.visits, row(Visit, visit_id, held_on=day)))


def act(job: LoadedJob, changes: Sequence[Change], day: str = VISITED) -> LoadedJob:
    """The job after an act on a day: with what the act changed on the visit under way."""
    also = changes_on_visit(job, changes, date.fromisoformat(day))
    for change in (*changes, *also):
        job = after(job, change)
    return job


def outside(job: LoadedJob, changes: Sequence[Change]) -> LoadedJob:
    """The job after changes that no action made, such as those of another program."""
    for change in changes:
        job = after(job, change)
    return job


def words(job: LoadedJob) -> dict[str, list[str]]:
    """What each signature says changed after it, outside of visits."""
    return {row.id: changed_words(job, row, NOW) for row in job.sign_offs}


def words_without_visits(job: LoadedJob) -> dict[str, list[str]]:
    """What each signature would say if nobody looked at visits."""
    return words(without(job, "visit", "visit_change"))


def value_of(fact: Fact) -> st.SearchStrategy[object]:
    """Any value of a column of these kinds."""
    if fact.kind == "amount":
        return st.sampled_from([None, fact.low, fact.high])
    if fact.kind == "tick":
        return st.sampled_from([None, True, False])
    if fact.kind == "choice":
        return st.sampled_from([None, *fact.choices])
    return st.sampled_from(["", "north", "south"])


@st.composite
def changes(draw: st.DrawFn) -> Change:
    """Any change of a row of the closed property: a cell set, the row removed or made anew."""
    held = closed().tables()
    table = draw(st.sampled_from([name for name in COVERED_TABLES if held[name]]))
    some = draw(st.sampled_from(held[table]))
    kinds = ("amount", "tick", "choice", "text")
    columns = [name for name, fact in facts_of(TABLES[table]).items() if fact.kind in kinds]
    kind = draw(st.sampled_from(["put"] * 6 + ["remove", "add"]))
    if kind == "remove" or not columns:
        return Remove(table, some.id)
    column = draw(st.sampled_from(columns))
    value = draw(value_of(facts_of(TABLES[table])[column]))
    if kind == "add" and not TABLES[table].once:
        return Add(table, f"new-{draw(st.integers(1, 2))}", {column: value})  # type: ignore[dict-item]
    return Put(table, some.id, column, value)  # type: ignore[arg-type]


def done(job: LoadedJob, change: Change) -> bool:
    """Whether the book would take a change: a row is made once, and is there to be changed."""
    there = job.row(change.row_id) is not None
    return not there if isinstance(change, Add) else there


def acts(job: LoadedJob, some: Sequence[Change], day: str = VISITED) -> LoadedJob:
    for change in some:
        if done(job, change):
            job = act(job, [change], day)
    return job


@given(some=st.lists(changes(), max_size=6))
def test_whatever_a_visit_changes_every_signature_stands(some: list[Change]) -> None:
    job = acts(on(closed(), VISITED), some)
    assert not any(words(job).values())
    assert all(stands.proven for stands in standings(job, NOW))
    then = closed()
    for sign_off in job.sign_offs:
        before = as_signed(job, sign_off, NOW).job
        for table in COVERED_TABLES:
            rows = {one.id: one.values() for one in before.tables()[table]}
            assert rows == {one.id: one.values() for one in then.tables()[table]}


@given(first=st.lists(changes(), max_size=3), some=st.lists(changes(), max_size=4))
def test_a_change_before_the_visit_still_shows_whatever_the_visit_changes(
    first: list[Change], some: list[Change]
) -> None:
    job = closed()
    for change in first:
        job = outside(job, [change]) if done(job, change) else job
    later = acts(on(job, VISITED), some)
    before, now = words_without_visits(job), words_without_visits(later)
    # A visit may put a cell back to what it was when it was signed over.
    assert words(later) == {row: [one for one in before[row] if one in now[row]] for row in before}


@given(some=st.lists(changes(), max_size=4), last=changes())
def test_a_change_after_the_visit_shows_unless_it_puts_back_what_was(
    some: list[Change], last: Change
) -> None:
    job = acts(on(closed(), VISITED), some)
    if not done(job, last) or (job.row(last.row_id) is None and isinstance(last, Remove)):
        return
    later = outside(job, [last])
    same = all(
        changed(later, one) == changed(job, one)
        and changed(as_signed(later, one, NOW).job, one) == []
        for one in job.sign_offs
    )
    touched = {(one.of_table, one.of_row) for one in job.visit_changes}
    alone = outside(closed(), [last]) if done(closed(), last) else closed()
    if (last.table, last.row_id) not in touched and not isinstance(last, Remove):
        assert words(later) == words_without_visits(alone)
    else:
        # On a cell that the visit changed: the visit's change no longer stands there, so that the
        # cell is held against what was signed over.
        assert same or any(words(later).values())


@given(
    some=st.lists(changes(), min_size=1, max_size=4),
    day=st.sampled_from(["2026-05-03", "2026-05-04", "2025-12-01", "", "no day", "2027-01-01"]),
)
def test_a_visit_dated_before_the_handover_or_not_yet_covers_nothing(
    some: list[Change], day: str
) -> None:
    job = acts(on(closed(), VISITED), some)
    moved = with_rows(job, "visit", (row(Visit, "visit-1", held_on=day),))
    assert words(moved) == words_without_visits(moved)


@given(some=st.lists(changes(), min_size=1, max_size=4))
def test_a_visit_that_is_removed_covers_nothing(some: list[Change]) -> None:
    job = acts(on(closed(), VISITED), some)
    assert words(without(job, "visit")) == words_without_visits(job)
    assert words(without(job, "visit", "visit_change")) == words_without_visits(job)


HEAD = closed().heads[0].id


def replaced(day: str = VISITED, gpm: float = 3.0) -> LoadedJob:
    """The closed property after a visit that gave its first head another nozzle."""
    return act(on(closed(), day, f"visit-{day}"), [Put("head", HEAD, "nozzle_gpm", gpm)], day)


def codes(job: LoadedJob) -> list[str]:
    return [one.code for one in check_signatures(job, NOW) if isinstance(one, Finding)]


def test_a_visit_is_named_by_its_day_instead() -> None:
    job = replaced()
    assert codes(job) == ["changed on a visit"]
    note = next(one for one in check_signatures(job, NOW) if isinstance(one, Finding))
    assert note.severity == "note"
    assert VISITED in note.sentence
    assert "the head of lateral run 1" in note.sentence
    assert note.at.place == "service"
    kinds = {row.kind for row in job.sign_offs if changed_on_visits(job, row, NOW)}
    assert kinds == {"backfill", "handover", "close"}


@pytest.mark.parametrize("day", ["2026-05-03", None])
def test_a_visit_whose_day_is_wrong_is_flagged_beside_the_signatures(day: str | None) -> None:
    job = replaced()
    moved = with_rows(job, "visit", (job.visits[0].with_values(held_on=day),))
    assert set(codes(moved)) == {"changed after sign-off", "visit not after handover"}


def test_without_a_handover_a_visit_covers_nothing() -> None:
    job = all_signed(sound_job(), "in service")
    assert act(on(job, VISITED), [Put("head", HEAD, "nozzle_gpm", 3.0)]).visit_changes == ()
    kept = replace(job, visits=replaced().visits, visit_changes=replaced().visit_changes)
    job = put(kept, "head", HEAD, nozzle_gpm=3.0)
    assert words(job) == words_without_visits(job)
    assert any(words(job).values())


def test_a_handover_that_is_taken_back_covers_nothing_and_a_new_one_covers_what_is_there() -> None:
    job = replaced()
    newest = job.newest_sign_off("handover")
    assert newest is not None
    values = {"state": "withdrawn", "supersedes": newest.id, "signed_at": "2026-05-25T08:00:00Z"}
    gone = newest.with_values(id="taken back", **values)
    back = replace(job, sign_offs=(*job.sign_offs, gone))
    assert any(words(back).values())
    again = signed(back, "handover", "2026-05-26T08:00:00+00:00")
    made = again.sign_offs[-1].with_values(supersedes="taken back")
    again = replace(again, sign_offs=(*back.sign_offs, made))
    assert changed_words(again, made, NOW) == []
    # The visit lies before the new handover, yet it was one to a handed-over property.
    assert all(not changed_words(again, one, NOW) for one in again.sign_offs[:-2])


def test_on_the_day_of_the_handover_a_change_that_was_entered_later_counts() -> None:
    job = replaced(HANDED_OVER)
    for at, covers in (
        ("2026-05-04T07:59:00-05:00", False),
        ("2026-05-04T15:00:00+00:00", True),
        ("", False),
    ):
        stamped = tuple(one.with_values(entered_at=at) for one in job.visit_changes)
        handover = [one for one in job.sign_offs if one.kind == "handover"]
        found = changed_words(replace(job, visit_changes=stamped), handover[0], NOW)
        assert (found == []) is covers


def test_visits_of_several_years_are_taken_back_one_after_the_other() -> None:
    job = closed()
    for day, gpm in (("2026-05-20", 3.0), ("2027-05-20", 2.5), ("2028-05-20", 2.2)):
        job = on(job, day, f"visit-{day}")
        job = act(job, [Put("head", HEAD, "nozzle_gpm", gpm)], day)
    then = datetime(2028, 6, 1, tzinfo=UTC)
    assert all(not changed_words(job, one, then) for one in job.sign_offs)
    without_second = tuple(one for one in job.visits if one.id != "visit-2027-05-20")
    broken = replace(job, visits=without_second)
    assert any(changed_words(broken, one, then) for one in job.sign_offs)


@pytest.mark.parametrize(
    "spoiled",
    [
        {"was": "[]"},
        {"was": '"no number"'},
        {"was": "{"},
        {"became": "3.5"},
        {"of_column": "id"},
        {"of_column": "no column"},
        {"of_row": "no row"},
        {"of_table": "sign_off"},
        {"of_table": "no table"},
        {"visit_id": None},
        {"of_column": "", "was": "", "became": ""},
        {"of_column": "", "became": "", "was": '{"nozzle_gpm": 3}'},
    ],
)
def test_a_change_that_fits_nothing_covers_nothing(spoiled: dict[str, object]) -> None:
    job = replaced()
    made = tuple(one.with_values(**spoiled) for one in job.visit_changes)
    job = replace(job, visit_changes=made)
    assert words(job) == words_without_visits(job)
    assert any(words(job).values())


def test_a_value_that_is_put_back_leaves_no_change_behind() -> None:
    job, was = replaced(), closed().heads[0].nozzle_gpm
    assert len(job.visit_changes) == 1
    job = act(job, [Put("head", HEAD, "nozzle_gpm", 3.5)])
    assert [json.loads(one.became) for one in job.visit_changes] == [3.5]
    assert act(job, [Put("head", HEAD, "nozzle_gpm", was)]).visit_changes == ()


def test_a_row_that_came_on_a_visit_is_one_change_with_all_that_is_entered_in_it() -> None:
    test = {"assembly_id": closed().backflow_assemblies[0].id, "tested_on": VISITED}
    job = act(on(closed(), VISITED), [Add("backflow_test", "retest", test)])
    job = act(job, [Put("backflow_test", "retest", "tester", "T. Tester")])
    (change,) = job.visit_changes
    assert (change.of_column, change.was, change.what) == ("", "", "added")
    assert json.loads(change.became)["tester"] == "T. Tester"
    assert not any(words(job).values())
    assert act(job, [Remove("backflow_test", "retest")]).visit_changes == ()


def test_an_old_handover_covers_the_tables_it_always_covered() -> None:
    """The tables of the record when the first handovers were signed, and no later ones."""
    assert len(COVERED_TABLES) == 30
    apart = {"visit", "visit_step", "visit_change", "note", "attachment", "sign_off", "rule"}
    assert not apart & set(COVERED_TABLES)
    assert set(COVERED_TABLES) <= set(TABLES)
