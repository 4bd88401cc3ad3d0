"""Two laptops made the same thing: joined, nothing is lost, whatever the other did meanwhile.

What each laptop did is drawn; after the exchange both hold the same, every value that was entered
is shown or in an open question, and no row hangs on a removed one without a flag.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import count

import pytest
from examples import examples
from hypothesis import given, settings
from hypothesis import strategies as st
from laptops import JOBS, Laptop

from fieldbook.actions.conflicts.question import TWICE, Option, Question
from fieldbook.actions.conflicts.settling import questions
from fieldbook.actions.joining.join_rows import BOTH_SIGNED, Pair, join_changes
from fieldbook.records.base import facts_of
from fieldbook.records.conflict import BROKEN_LINK, CELL, REMOVED
from fieldbook.records.ids import flush_id, head_id, terminal_id, valve_id
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.records.values import Value
from fieldbook.store.changes import Add, Change, Put
from fieldbook.store.load import load_job

JOB = JOBS[0]
ZONES = ("zone-of-ab", "zone-of-cd")


def loaded(laptop: Laptop) -> LoadedJob:
    with laptop.book.begin():
        return load_job(laptop.book, JOB)


def asked(laptop: Laptop, kind: str = TWICE) -> list[Question]:
    return [one for one in questions(loaded(laptop), laptop.name) if one.kind == kind]


def joins(laptop: Laptop) -> list[Option]:
    return [
        option
        for question in asked(laptop)
        for option in question.options
        if option.words.startswith("the same thing")
    ]


def exchange(one: Laptop, other: Laptop) -> None:
    one.receive(other.entries())
    other.receive(one.entries())
    assert one.tables() == other.tables()
    assert one.conflicts() == other.conflicts()


def two_laptops() -> tuple[Laptop, Laptop]:
    """Two laptops that hold the same property, each with a zone 3 of its own."""
    one, other = Laptop("AB"), Laptop("CD")
    one.add_job(JOB)
    other.receive(one.entries())
    for laptop, zone in zip((one, other), ZONES, strict=True):
        laptop.act(JOB, [Add("zone", zone, {"number": 3, "name": "roses"})])
    return one, other


def hung_on(zone: str, number: int, who: str) -> dict[str, list[Change]]:
    """Rows that hang on a zone, with texts of their own, by a word for them."""
    run, own, text = f"run-{who}-{number}", f"{who}-{number}", f"{who} {number}"
    seed: dict[str, Value] = {"zone_id": zone}
    length = 10.0 + number
    photo: dict[str, Value] = {"of_table": "zone", "of_row": zone, "note": text}
    return {
        "run": [
            Add("pipe_run", run, {**seed, "number": number % 3 + 1, "length_ft": length}),
            Add("head", head_id(run), {"run_id": run, "make": text}),
        ],
        "valve": [Put("valve", valve_id(zone), "make", text, seed)],
        "flush": [Put("flush", flush_id(zone), "discharged", text, seed)],
        "photo": [Add("attachment", f"photo-{own}", photo)],
        "measured": [Add("zone_measurement", f"measured-{own}", seed)],
        "cans": [Add("catch_audit", f"audit-{own}", {"zone_2_id": zone})],
        "punch": [Add("punch_item", f"punch-{own}", seed)],
    }


KINDS = sorted(hung_on("z", 1, "w"))


def values_of(job: LoadedJob) -> set[tuple[str, str, Value]]:
    """Every value that somebody entered, as table, column and value, also those in question."""
    found: set[tuple[str, str, Value]] = set()
    for table, rows in job.tables().items():
        for row in rows:
            for column, fact in facts_of(TABLES[table]).items():
                held = getattr(row, column)
                if (
                    held not in (None, "")
                    and not fact.links_to
                    and fact.kind not in ("hidden", "when")
                ):
                    found.add((table, column, held))
    for conflict in job.conflicts:
        if conflict.kind == CELL:
            found |= {(conflict.table, conflict.column, one.value) for one in conflict.versions}
    return {one for one in found if one[1] != "number"}


def hanging(job: LoadedJob) -> Iterator[str]:
    """Rows that name a row that is gone, with no flag on it."""
    flagged = {one.row_id for one in job.conflicts if one.kind == BROKEN_LINK}
    for link in job.broken_links():
        if link.row_id not in flagged:
            yield f"{link.table} {link.row_id}.{link.column}"
    for file in job.attachments:
        if job.row(file.of_row) is None and file.id not in flagged:
            yield f"attachment {file.id}"


def check(one: Laptop, other: Laptop, before: set[tuple[str, str, Value]]) -> None:
    exchange(one, other)
    job = loaded(one)
    assert before <= values_of(job)
    assert not list(hanging(job))


@dataclass(frozen=True)
class Deed:
    """What a laptop does after the exchange: `what` names it."""

    what: str
    kind: str = "run"


DEEDS = st.builds(
    Deed,
    st.sampled_from(("join", "join other way", "join, own runs", "renumber", "add", "nothing")),
    st.sampled_from(KINDS),
)


def do(laptop: Laptop, deed: Deed, numbers: Iterator[int]) -> None:
    """Carry out a deed where it can be done; values added are new ones."""
    job = loaded(laptop)
    here = [zone.id for zone in job.zones if zone.id in ZONES]
    if deed.what == "add" and here:
        changes = hung_on(here[-1], next(numbers), laptop.name)[deed.kind]
        # To enter another value in the same cell would replace the first on purpose.
        if all(job.row(change.row_id) is None for change in changes):
            laptop.act(JOB, changes)
    elif deed.what == "renumber" and here:
        laptop.act(JOB, [Put("zone", here[-1], "number", 10 + next(numbers))])
    elif deed.what.startswith("join") and len(here) == 2:
        kept, other = reversed(here) if deed.what == "join other way" else here
        own = deed.what == "join, own runs"
        laptop.act(JOB, join_changes(job, Pair("zone", kept, other), own_runs=own))


@settings(examples(25), deadline=None)
@given(
    st.lists(st.sampled_from(KINDS), max_size=6),
    st.lists(st.sampled_from(KINDS), max_size=6),
    st.lists(DEEDS, min_size=1, max_size=3),
    st.lists(DEEDS, min_size=1, max_size=3),
)
def test_nothing_is_lost_whatever_both_do(
    first: Sequence[str], second: Sequence[str], here: Sequence[Deed], there: Sequence[Deed]
) -> None:
    one, other = two_laptops()
    numbers = count(1)
    for laptop, zone, kinds in ((one, ZONES[0], first), (other, ZONES[1], second)):
        for kind in kinds:
            laptop.act(JOB, hung_on(zone, next(numbers), laptop.name)[kind])
    exchange(one, other)
    for laptop, deeds in ((one, here), (other, there)):
        for deed in deeds:
            do(laptop, deed, numbers)
    before = values_of(loaded(one)) | values_of(loaded(other))
    check(one, other, before)
    # What is left can be settled: join what is still twice, then follow what was joined.
    for _ in range(4):
        left = [*joins(one), *(q.options[0] for q in asked(one, BROKEN_LINK))]
        if left:
            one.act(JOB, left[0].changes)
    check(one, other, before)
    assert not joins(one)
    assert not asked(one, BROKEN_LINK)


def test_undo_gives_everything_back() -> None:
    one, other = two_laptops()
    for number, (laptop, zone) in enumerate(zip((one, other, one, other), ZONES * 2, strict=True)):
        for changes in hung_on(zone, number, laptop.name).values():
            laptop.act(JOB, changes)
    exchange(one, other)
    before = one.tables(), {key: found[:4] for key, found in enumerate(sorted(one.conflicts()))}
    for option in range(2):
        one.act(JOB, joins(one)[option].changes)
        assert len(loaded(one).zones) == 1
        one.undo(JOB)
        assert without_stamps(one.tables()) == without_stamps(before[0])
    exchange(one, other)


def without_stamps(tables: dict[str, list[dict[str, object]]]) -> object:
    return {
        table: [
            {name: held for name, held in row.items() if name not in ("entered_by", "entered_at")}
            for row in rows
        ]
        for table, rows in tables.items()
    }


def test_equal_cells_stay_blank_ones_are_filled_and_others_are_asked() -> None:
    one, other = two_laptops()
    seed = {"zone_id": ZONES[0]}, {"zone_id": ZONES[1]}
    for laptop, zone, own in zip((one, other), ZONES, seed, strict=True):
        laptop.act(JOB, [Put("valve", valve_id(zone), "make", "same make", own)])
    one.act(JOB, [Put("valve", valve_id(ZONES[0]), "colour", "red")])
    other.act(JOB, [Put("valve", valve_id(ZONES[1]), "colour", "blue")])
    other.act(JOB, [Put("valve", valve_id(ZONES[1]), "coil_ohm", 24.0)])
    exchange(one, other)
    (option,) = joins(one)
    assert (
        option.done
        == "Joined zone 3 (roses) of CD with zone 3 (roses) of AB. In 1 cell the two differ."
    )
    one.act(JOB, option.changes)
    exchange(one, other)
    job = loaded(other)
    (valve,) = job.valves
    assert (valve.make, valve.colour, valve.coil_ohm) == ("same make", "red", 24.0)
    (conflict,) = job.conflicts
    assert (conflict.column, conflict.kind) == ("colour", CELL)
    # Each value with whoever saw it, not with whoever joined.
    assert [(one.value, one.who) for one in conflict.versions] == [("red", "AB"), ("blue", "CD")]


def test_a_signed_zone_stays_and_two_signed_ones_are_not_joined() -> None:
    one, other = two_laptops()
    other.act(JOB, [Add("sign_off", "signed-cd", {"kind": "backfill", "zone_id": ZONES[1]})])
    exchange(one, other)
    one.act(JOB, joins(one)[0].changes)
    assert [zone.id for zone in loaded(one).zones] == [ZONES[1]]
    one.undo(JOB)
    one.act(JOB, [Add("sign_off", "signed-ab", {"kind": "backfill", "zone_id": ZONES[0]})])
    (question,) = asked(one)
    assert [option.words[:4] for option in question.options] == ["keep", "keep"]
    assert BOTH_SIGNED in question.notes[0]


def test_a_signature_made_meanwhile_is_never_moved() -> None:
    one, other = two_laptops()
    exchange(one, other)
    one.act(JOB, joins(one)[0].changes)
    other.act(JOB, [Add("sign_off", "signed-cd", {"kind": "backfill", "zone_id": ZONES[1]})])
    exchange(one, other)
    job = loaded(one)
    assert [row.zone_id for row in job.sign_offs] == [ZONES[1]]
    (question,) = asked(one, BROKEN_LINK)
    assert [option.words for option in question.options] == [
        "put zone 3 back, with what went with it"
    ]
    one.act(JOB, question.options[0].changes)
    assert len(loaded(one).zones) == 2


def test_joined_in_opposite_directions_both_stay_and_are_asked_about() -> None:
    one, other = two_laptops()
    exchange(one, other)
    one.act(JOB, join_changes(loaded(one), Pair("zone", *ZONES)))
    other.act(JOB, join_changes(loaded(other), Pair("zone", *reversed(ZONES))))
    exchange(one, other)
    kinds = [(found.kind, found.row_id) for found in loaded(one).conflicts]
    assert kinds == [(REMOVED, ZONES[0]), (REMOVED, ZONES[1])]
    first = questions(loaded(one), "AB")[0]
    assert first.kind == TWICE
    one.act(JOB, joins(one)[0].changes)
    exchange(one, other)
    assert len(loaded(other).zones) == 1
    assert not loaded(other).conflicts


@pytest.mark.parametrize("runs", [True, False])
def test_runs_with_the_same_numbers_are_one_or_keep_their_order(runs: bool) -> None:
    one, other = two_laptops()
    for laptop, zone in zip((one, other), ZONES, strict=True):
        for number in (1, 2, 3):
            after = number - 1 or None
            values = {"zone_id": zone, "number": number, "after": after, "length_ft": 5.0}
            laptop.act(JOB, [Add("pipe_run", f"{laptop.name}-{number}", values)])
    exchange(one, other)
    one.act(JOB, joins(one)[0 if runs else 1].changes)
    found = [(run.number, run.after) for run in loaded(one).pipe_runs]
    own = [(1, None), (2, 1), (3, 2)]
    assert found == (own if runs else [*own, (4, None), (5, 4), (6, 5)])


def test_a_joined_controller_has_each_terminal_once_and_its_tests_follow() -> None:
    one, other = Laptop("AB"), Laptop("CD")
    one.add_job(JOB)
    other.receive(one.entries())
    for number, laptop in enumerate((one, other)):
        own = f"controller-{number}"
        laptop.act(JOB, [Add("other_controller", own, {"name": "Controller B" if number else "b"})])
        terminal = terminal_id(JOB, "zone", 1, own)
        values: dict[str, Value] = {"role": "zone", "number": 1, "controller_id": own}
        laptop.act(JOB, [Add("terminal", terminal, values)])
        laptop.act(JOB, [Add("wire_test", f"test-{number}", {"terminal_id": terminal})])
        laptop.act(JOB, [Add("programme", f"programme-{number}", {"name": "A", **_of(own)})])
    exchange(one, other)
    one.act(JOB, joins(one)[0].changes)
    exchange(one, other)
    job = loaded(other)
    (controller,) = job.other_controllers
    (joined,) = job.terminals
    (programme,) = job.programmes
    assert {test.terminal_id for test in job.wire_tests} == {joined.id}
    assert len(job.wire_tests) == 2
    assert joined.controller_id == programme.controller_id == controller.id
    assert not job.conflicts


def _of(controller: str) -> dict[str, Value]:
    return {"controller_id": controller, "days": "Mon"}


def test_a_joined_cable_has_each_colour_once() -> None:
    one, other = Laptop("AB"), Laptop("CD")
    one.add_job(JOB)
    other.receive(one.entries())
    for laptop, colours in ((one, ("white", "red")), (other, ("white", "red", "blue"))):
        cable = f"cable-{laptop.name}"
        laptop.act(JOB, [Add("cable", cable, {"name": "2"})])
        for position, colour in enumerate(colours, start=1):
            values: dict[str, Value] = {"cable_id": cable, "position": position, "colour": colour}
            laptop.act(JOB, [Add("conductor", f"{cable}-{position}", values)])
        laptop.act(JOB, [Add("splice", f"splice-{laptop.name}", {"cable_id": cable})])
    exchange(one, other)
    one.act(JOB, joins(one)[0].changes)
    job = loaded(one)
    assert [wire.colour for wire in job.conductors] == ["white", "red", "blue"]
    assert {splice.cable_id for splice in job.splices} == {job.cables[0].id}
    assert not job.conflicts


def test_one_joins_while_the_other_renumbers_keep_parts_them_again() -> None:
    one, other = two_laptops()
    for number, (laptop, zone) in enumerate(zip((one, other), ZONES, strict=True)):
        for changes in hung_on(zone, number, laptop.name).values():
            laptop.act(JOB, changes)
    exchange(one, other)
    before = {row.id: row.values() for rows in loaded(one).tables().values() for row in rows}
    one.act(JOB, joins(one)[0].changes)
    other.act(JOB, [Put("zone", ZONES[1], "number", 4)])
    exchange(one, other)
    (question,) = asked(one, REMOVED)
    assert not asked(one)
    one.act(JOB, question.options[0].changes)
    exchange(one, other)
    job = loaded(other)
    assert [zone.number for zone in job.zones] == [3, 4]
    # What hung on it hangs on it again.
    for run in job.pipe_runs:
        assert run.zone_id == before[run.id]["zone_id"]
    assert {valve.zone_id for valve in job.valves} == set(ZONES)
    assert {file.of_row for file in job.attachments} == set(ZONES)
    assert not list(hanging(job))
