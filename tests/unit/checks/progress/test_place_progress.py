"""How far each place is, what runs out first, and both as the board shows them."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from builders import all_signed, bare_job, checked, put, row, sound_job, sound_up_to
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from fieldbook.actions.board.board_row import STATES, BoardRow, PlaceState, RunsOut
from fieldbook.actions.board.make_row import make_row
from fieldbook.checks.place_progress import place_progress
from fieldbook.checks.progress.deadlines import deadlines, nearest_deadline
from fieldbook.records.base import WORK_PLACES
from fieldbook.records.ids import flush_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.permits import LocateTicket, Permit
from fieldbook.screens.board.columns import heads, row_content
from fieldbook.screens.board.progress_bar import COLUMN_HELP, WIDE_BAR, bar, in_words, runs_out

DAY = date(2026, 5, 10)
ROW = BoardRow("j", "3 Oak Court", "N. Rowe", "", "", 4, 1, "Flush zone 2.", "ground")


def bar_of(job: LoadedJob) -> str:
    """The glyphs of a job's bar."""
    return bar(make_row(job, DAY)).plain.strip()


def ends_of(job: LoadedJob) -> tuple[str, str] | None:
    """What runs out first on a job, and when."""
    found = nearest_deadline(job, DAY)
    return (found.kind, found.on.isoformat()) if found is not None else None


def test_a_new_property_is_begun_nowhere_and_a_finished_one_done_everywhere() -> None:
    new = bare_job()
    assert set(place_progress(new, checked(new)).values()) == {"nothing"}
    closed = all_signed(sound_job())
    assert list(place_progress(closed, checked(closed))) == list(WORK_PLACES)
    assert set(place_progress(closed, checked(closed)).values()) == {"done"}


def test_a_place_is_only_begun_while_a_step_or_a_stop_is_left_there() -> None:
    job = all_signed(sound_job(), "in service")
    assert bar_of(job) == "■■■■▄"
    assert bar_of(put(job, "flush", flush_id("zone-1"), ran_clear=None))[2] == "▄"
    doubled = put(job, "terminal", job.terminals[-1].id, colour=job.terminals[-2].colour)
    assert "stop" in {flag.severity for flag in checked(doubled).flags}
    assert "▄" in bar_of(doubled)[1:4]
    assert bar_of(sound_up_to("lay"))[3] == "·"


def test_the_first_to_run_out_is_named_and_a_newer_ticket_takes_the_place_of_an_older() -> None:
    def ticket(number: str, until: str, **values: object) -> LocateTicket:
        days = {"called_on": "2026-05-01", "clear_on": "2026-05-05", "expires_on": until}
        return row(LocateTicket, number, number=number, **days, **values)

    job = bare_job()
    assert ends_of(job) is None
    first, second = ticket("1", "2026-05-08"), ticket("2", "2026-05-20")
    assert ends_of(replace(job, locate_tickets=(first,))) == ("ticket", "2026-05-08")
    assert ends_of(replace(job, locate_tickets=(first, second))) == ("ticket", "2026-05-20")
    over = ticket("3", "2026-05-08", dug_until="2026-05-07")
    assert ends_of(replace(job, locate_tickets=(over,))) is None
    permit = row(Permit, "p", number="7", kind="irrigation", expires_on="2026-05-12")
    both = replace(job, locate_tickets=(second,), permits=(permit,))
    assert ends_of(both) == ("permit", "2026-05-12")
    assert len(list(deadlines(replace(both, locate_tickets=(first, second)), DAY))) == 3


def test_after_the_handover_only_the_next_test_of_an_assembly_falls_due() -> None:
    job = sound_job()
    permit = row(Permit, "p", number="7", kind="plumbing", expires_on="2026-05-12")
    job = replace(job, permits=(*job.permits, permit))
    assert ends_of(job) == ("permit", "2026-05-12")
    found = nearest_deadline(all_signed(job), DAY)
    assert found is not None
    assert found.kind == "backflow test"
    assert found.on > DAY


@pytest.mark.parametrize(
    ("what", "days", "short", "long"),
    [
        ("ticket", 3, "ticket 3 days", "Ticket runs out in 3 days, 2026-05-13"),
        ("ticket", 1, "ticket 1 day", "Ticket runs out tomorrow, 2026-05-11"),
        ("permit", 0, "permit today", "Permit runs out today, 2026-05-10"),
        ("permit", -1, "permit ran out", "Permit ran out yesterday, 2026-05-09"),
        ("licence", -9, "licence ran out", "Licence ran out 9 days ago, 2026-05-01"),
        ("backflow test", 12, "test 12 days", "Backflow test is due in 12 days, 2026-05-22"),
        ("backflow test", -2, "test overdue", "Backflow test was due 2 days ago, 2026-05-08"),
    ],
)
def test_what_runs_out_is_said_as_of_the_day_it_is_read(
    what: str, days: int, short: str, long: str
) -> None:
    ends = RunsOut(what, DAY + timedelta(days=days))
    assert RunsOut.from_stored(ends.stored) == ends
    assert ends.sentence(DAY) == long
    shown = replace(ROW, runs_out=ends)
    assert runs_out(shown, DAY, named=True)[0] == short
    assert in_words(shown, DAY) == f"{long}."
    later = RunsOut(what, DAY + timedelta(days=days + 400))
    assert runs_out(replace(ROW, runs_out=later), DAY, named=True)[0] == "-"


def test_the_bar_differs_in_glyph_and_is_said_in_words() -> None:
    states: tuple[PlaceState, ...] = ("done", "done", "begun", "nothing", "nothing")
    row_ = replace(ROW, places=states)
    assert bar(row_).plain == "■■▄·· "
    assert bar(row_, WIDE_BAR).plain == "■ ■ ▄ · ·"
    assert in_words(row_, DAY) == "Done: street, boxes. Begun: ground."
    assert bar(replace(row_, known=False)).plain.strip() == "…"
    for state in STATES:
        assert bar(replace(ROW, places=(state,))).plain[0] in COLUMN_HELP


@given(
    room=st.integers(40, 200),
    places=st.lists(st.sampled_from(STATES), min_size=5, max_size=5),
    days=st.integers(-500, 500),
    known=st.booleans(),
)
def test_every_row_is_as_wide_as_its_heads_and_has_its_bar(
    room: int, places: list[PlaceState], days: int, known: bool
) -> None:
    ends = RunsOut("backflow test", date.today() + timedelta(days=days))
    shown = replace(ROW, places=tuple(places), runs_out=ends, stops=2, known=known)
    line = row_content(shown, room).plain
    head = heads(room)
    assert cell_len(line) <= max(room, 58)
    drawn = (bar(shown, WIDE_BAR).plain, bar(shown).plain)
    assert line[head.index("Places") :].startswith(drawn)
    assert all(f"\n{word}: " in f"\n{COLUMN_HELP}" for word in column_names(head))


def column_names(head: str) -> list[str]:
    """The heads of the columns that need an explanation."""
    own = ("Places", "Next", "Runs out", "Flags", "Open", "Flushed")
    return [name for name in own if name in head]
