"""Two laptops join two properties at once, or in opposite directions: nothing is lost."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import count

from examples import examples
from hypothesis import given, settings
from hypothesis import strategies as st
from laptops import JOBS, Laptop

from fieldbook.actions.joining.join_properties import (
    TwoProperties,
    join_properties,
    which_stays,
)
from fieldbook.records.ids import head_id, once_id, valve_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.store.changes import Add, Put, Remove
from fieldbook.store.find_neighbours import count_entries, once_had
from fieldbook.store.load import load_job

_THINGS = ("zone", "run", "supply", "note", "photo")
_DEEDS = ("join", "join other way", *_THINGS)


def loaded(laptop: Laptop, job_id: str) -> LoadedJob:
    with laptop.book.begin():
        return load_job(laptop.book, job_id)


def add(laptop: Laptop, job_id: str, thing: str, number: int) -> None:
    """Enter something with a text of its own in a property."""
    text, own = f"{laptop.name} {number}", f"{thing}-{laptop.name}-{number}"
    if thing == "zone":
        seed = {"zone_id": own}
        changes = [Add("zone", own, {"number": number, "name": text})]
        laptop.act(job_id, [*changes, Put("valve", valve_id(own), "make", text, seed)])
    elif thing == "run":
        run = Add("pipe_run", own, {"number": number, "length_ft": float(number)})
        laptop.act(job_id, [run, Add("head", head_id(own), {"run_id": own, "make": text})])
    elif thing == "supply" and loaded(laptop, job_id).supply is None:
        laptop.act(job_id, [Put("supply", once_id(job_id, "supply"), "meter_number", text)])
    elif thing == "note":
        laptop.act(job_id, [Add("note", own, {"text": text})])
    elif thing == "photo":
        photo = {"of_table": "job", "of_row": job_id, "note": text}
        laptop.act(job_id, [Add("attachment", own, photo)])


def texts(job: LoadedJob) -> list[str]:
    """Every text that was entered in a row that may be there more than once."""
    found = [zone.name for zone in job.zones] + [valve.make for valve in job.valves]
    found += [head.make for head in job.heads] + [note.text for note in job.notes]
    found += [file.note for file in job.attachments]
    return found


def join(laptop: Laptop, *, other_way: bool = False) -> bool:
    """Join the two as F6 would, or the other way round; False where one was given up already."""
    one, other = (loaded(laptop, job_id) for job_id in JOBS)
    if one.job.off_board or other.job.off_board:
        return False
    kept, given_up = (other, one) if other_way else (one, other)
    carry_out(laptop, kept, given_up)
    return True


def carry_out(laptop: Laptop, kept: LoadedJob, given_up: LoadedJob) -> None:
    with laptop.book.begin():
        two = TwoProperties(
            kept,
            given_up,
            once_had(laptop.book, kept.job.id),
            count_entries(laptop.book, given_up.job.id),
        )
    laptop.act(kept.job.id, join_properties(two))


def exchange(one: Laptop, other: Laptop) -> None:
    one.receive(other.entries())
    other.receive(one.entries())
    assert one.tables() == other.tables()
    assert one.conflicts() == other.conflicts()


DEEDS = st.lists(st.tuples(st.sampled_from(_DEEDS), st.sampled_from(JOBS)), max_size=4)


@settings(examples(20), deadline=None)
@given(
    st.lists(st.tuples(st.sampled_from(_THINGS), st.sampled_from(JOBS)), max_size=5), DEEDS, DEEDS
)
def test_one_stays_on_the_board_and_comes_to_hold_all(
    before: Sequence[tuple[str, str]],
    here: Sequence[tuple[str, str]],
    there: Sequence[tuple[str, str]],
) -> None:
    one, other = Laptop("AB"), Laptop("CD")
    numbers = count(1)
    for job_id in JOBS:
        one.act(job_id, [Add("job", job_id, {"address": "12 Elm Street"})])
    for thing, job_id in before:
        add(one, job_id, thing, next(numbers))
    other.receive(one.entries())
    for laptop, deeds in ((one, here), (other, there)):
        for thing, job_id in deeds:
            if thing.startswith("join"):
                join(laptop, other_way=thing == "join other way")
            else:
                add(laptop, job_id, thing, next(numbers))
    entered = {
        text for laptop in (one, other) for job_id in JOBS for text in texts(loaded(laptop, job_id))
    }
    exchange(one, other)
    on_board = [job_id for job_id in JOBS if not loaded(one, job_id).job.off_board]
    assert on_board
    # What came to the one that was given up is a flag on the other, until it is brought over.
    for _ in range(3):
        kept, given_up = which_stays(*(loaded(one, job_id) for job_id in JOBS))
        if kept.neighbours:
            carry_out(one, kept, given_up)
    exchange(one, other)
    kept = loaded(one, kept.job.id)
    assert not kept.neighbours
    found = texts(kept)
    assert entered <= set(found)
    # No row was brought over twice, to and fro.
    assert len(kept.zones) == len({zone.name for zone in kept.zones})
    assert len(kept.notes) == len({note.text for note in kept.notes})
    assert not kept.broken_links()


def test_a_row_removed_since_is_not_brought_over_again() -> None:
    one = Laptop("AB")
    for job_id in JOBS:
        one.act(job_id, [Add("job", job_id, {"address": "12 Elm Street"})])
    add(one, JOBS[1], "note", 1)
    join(one)
    (note,) = loaded(one, JOBS[0]).notes
    one.act(JOBS[0], [Remove("note", note.id)])
    add(one, JOBS[1], "note", 2)
    (near,) = loaded(one, JOBS[0]).neighbours
    assert near.later == 1
    carry_out(one, loaded(one, JOBS[0]), loaded(one, JOBS[1]))
    assert [note.text for note in loaded(one, JOBS[0]).notes] == ["AB 2"]
