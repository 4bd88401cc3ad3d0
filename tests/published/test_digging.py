"""Digging under a locate ticket: each state's days, the answers, the private lines, the permit.

29 CFR 1926.651(b): locate before opening. The states' words are those of `test_locating`. Worked
days are counted by hand from these words; public holidays are not counted.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from builders import (
    codes,
    digging,
    only,
    put,
    row,
    ruled,
    sound_job,
    sound_up_to,
    without,
    words_of,
)

from fieldbook.checks.desk.digging import TicketSpan, digging_lacks, hand_dig_in, ticket_span
from fieldbook.records.base import natural_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.local_rules import RuleRow
from fieldbook.records.tables.permits import LocateTicket
from fieldbook.trade.rules.editions import resolved
from fieldbook.trade.rules.keys import to_text
from fieldbook.trade.rules.locating import READ_ON, set_name, starter_sets

CHECK = "permits and tickets"
MONDAY, FRIDAY = "2026-03-02", "2026-03-06"


def in_state(state: str, **ticket: object) -> LoadedJob:
    """A job under a state's starter set with one ticket."""
    rules = resolved(set_name(state), starter_sets(), READ_ON)
    rows = tuple(
        row(RuleRow, natural_id("r", key), key=key, value=to_text(rule.value), source=rule.source)
        for key, rule in rules.items()
    )
    held = row(LocateTicket, "ticket-1", number="1", **ticket)
    return replace(sound_job(1), rules=rows, locate_tickets=(held,))


def span(state: str, **ticket: object) -> TicketSpan:
    """The days on which the ticket's marks hold."""
    job = in_state(state, **ticket)
    return ticket_span(job, job.locate_tickets[0])


@pytest.mark.parametrize(
    ("state", "ticket", "first", "last"),
    [
        # "2 full business days, the day of the call not counted": Monday's call, dig on Thursday.
        ("Florida", {"called_on": MONDAY}, "2026-03-05", "2026-04-01"),
        # A weekend is no notice: called on Friday, dig on Wednesday.
        ("Florida", {"called_on": FRIDAY}, "2026-03-11", "2026-04-05"),
        # "28 calendar days counting the day of the call": the 1st until the 28th.
        ("Illinois", {"called_on": "2026-04-01"}, "2026-04-07", "2026-04-28"),
        # "3 full working days"; "21 calendar days from the start".
        ("Michigan", {"called_on": MONDAY, "starts_on": FRIDAY}, "2026-03-06", "2026-03-27"),
        # "15 calendar days from the start".
        ("Tennessee", {"called_on": MONDAY, "starts_on": FRIDAY}, "2026-03-06", "2026-03-21"),
        ("Kansas", {"called_on": MONDAY, "starts_on": FRIDAY}, "2026-03-05", "2026-03-21"),
        # "17 calendar days from the start".
        ("Nebraska", {"called_on": MONDAY, "starts_on": FRIDAY}, "2026-03-05", "2026-03-23"),
        # "14 calendar days from creation".
        ("Utah", {"called_on": MONDAY, "starts_on": FRIDAY}, "2026-03-05", "2026-03-16"),
        # "28 calendar days from issue".
        ("California", {"called_on": MONDAY, "starts_on": FRIDAY}, "2026-03-05", "2026-03-30"),
        # "while visible, at most 30 calendar days": from the mark, not from the call.
        ("Colorado", {"called_on": MONDAY, "marked_on": FRIDAY}, "2026-03-05", "2026-04-05"),
        # "20 working days from the start": four weeks of five working days.
        ("Alabama", {"called_on": MONDAY, "starts_on": FRIDAY}, "2026-03-05", "2026-04-03"),
        # "15 working days after the start": three weeks.
        ("South Carolina", {"called_on": MONDAY, "starts_on": FRIDAY}, "2026-03-06", "2026-03-27"),
        # Without the day that the state counts from, the call is the earlier and stricter one.
        ("Michigan", {"called_on": MONDAY}, "2026-03-06", "2026-03-23"),
        # The centre's own days are taken where the ticket names them.
        ("Florida", {"called_on": MONDAY, "clear_on": FRIDAY}, FRIDAY, "2026-04-01"),
        ("Florida", {"called_on": MONDAY, "expires_on": "2026-03-20"}, "2026-03-05", "2026-03-20"),
        # Marks renewed on Friday hold from then on.
        ("Utah", {"called_on": MONDAY, "renewed_on": FRIDAY}, "2026-03-05", "2026-03-20"),
    ],
)
def test_the_days_of_a_ticket_are_counted_as_its_state_says(
    state: str, ticket: dict[str, object], first: str, last: str
) -> None:
    found = span(state, **ticket)
    assert found == TicketSpan(date.fromisoformat(first), date.fromisoformat(last))
    for day in (found.first, found.last):
        assert day is not None
        assert found.covers(day)
    assert not found.covers(date.fromordinal(date.fromisoformat(first).toordinal() - 1))
    assert not found.covers(date.fromordinal(date.fromisoformat(last).toordinal() + 1))


def test_a_ticket_of_which_no_day_is_known_covers_no_day() -> None:
    assert span("Florida") == TicketSpan(None, None)
    assert not span("Florida").covers(date(2026, 3, 5))


@pytest.mark.parametrize(
    ("dug_from", "dug_until", "expected"),
    [
        ("2026-04-20", "2026-04-27", []),
        ("2026-04-19", "2026-04-27", ["dug before clear"]),
        # 14 calendar days, the call of the 14th being the first: the marks hold until the 27th.
        ("2026-04-20", "2026-04-28", ["dug after marks lapsed"]),
    ],
)
def test_digging_only_while_the_marks_hold(
    dug_from: str, dug_until: str, expected: list[str]
) -> None:
    """29 CFR 1926.651(b): locate before opening."""
    days = {"dug_from": dug_from, "dug_until": dug_until}
    assert codes(put(sound_job(1), "locate_ticket", "ticket-1", **days)) == expected


def test_digging_under_a_ticket_that_is_not_clear_is_a_stop() -> None:
    job = put(sound_job(1), "locate_ticket", "ticket-1", clear_on=None, called_on=None)
    assert only(job, "dug before clear").severity == "stop"
    later = put(job, "locate_ticket", "ticket-1", clear_on="2026-05-20")
    assert only(later, "dug before clear").severity == "stop"
    past = put(job, "locate_ticket", "ticket-1", clear_on="2026-04-21")
    assert only(past, "dug before clear").severity == "fix"
    assert "24 in" in only(past, "dug before clear").mend


@pytest.mark.parametrize("answer", [None, "no answer yet"])
def test_digging_before_every_utility_answered_is_a_stop(answer: str | None) -> None:
    """Arizona: "all must answer"; Georgia: "all coded first"."""
    job = put(sound_job(1), "utility_answer", "answer-1", answer=answer)
    early = only(job, "dug before answers")
    assert (early.severity, "Power" in early.sentence) == ("stop", True)
    for settled in ("clear", "marked"):
        assert codes(put(job, "utility_answer", "answer-1", answer=settled)) == []
    nobody_dug = put(job, "locate_ticket", "ticket-1", dug_from=None, dug_until=None)
    assert codes(nobody_dug) == []
    assert words_of(nobody_dug, CHECK) == {"not checked"}


def test_digging_without_any_answer_on_record_is_a_stop() -> None:
    job = without(sound_job(1), "utility_answer")
    assert only(job, "dug before answers").severity == "stop"
    not_asked = ruled(job, "locate_answers_required", value=False)
    assert codes(not_asked) == []


def test_an_answer_that_came_after_the_digging_stays_a_fix() -> None:
    job = put(sound_job(1), "utility_answer", "answer-1", answered_on="2026-04-20")
    assert codes(job) == []
    late = put(job, "utility_answer", "answer-1", answered_on="2026-04-21")
    assert only(late, "dug before answers").severity == "fix"


@pytest.mark.parametrize(
    ("table", "row_id", "column", "words"),
    [
        ("locate_ticket", "ticket-1", "private_lines", "private lines"),
        ("utility_answer", "answer-2", "answer", "the answer of gas"),
        ("permit", "permit-1", "number", "the permit's number"),
        ("locate_ticket", "ticket-1", "number", "the locate ticket"),
    ],
)
def test_what_digging_needs_is_not_sound_while_any_of_it_is_missing(
    table: str, row_id: str, column: str, words: str
) -> None:
    """NC811: members do not mark lines past the meter, so somebody asks for private ones."""
    job = put(sound_job(1), "locate_ticket", "ticket-1", dug_from=None, dug_until=None)
    on = date(2026, 4, 20)
    assert list(digging_lacks(job, on)) == []
    job = put(job, table, row_id, **{column: "" if column == "number" else None})
    said = [one.words for one in digging_lacks(job, on)]
    assert any(words in one for one in said)


def test_a_new_property_is_not_asked_for_its_ticket() -> None:
    """Common practice, no source: digging is not due before somebody is about to dig."""
    assert words_of(without(sound_up_to("design"), *TABLES), CHECK) == {"not due"}
    assert words_of(sound_up_to("dig"), CHECK) == {"sound"}
    assert set(digging()) == {"permits", "locate_tickets", "utility_answers"}


TABLES = ("permit", "locate_ticket", "utility_answer", "crew_member")


@pytest.mark.parametrize(
    ("state", "line_in", "inches"),
    # Ohio: "18 in and the width of the line": 38 in over a line 2 in wide. South Carolina: "24 in
    # from the edge of the mark", so that 20 in from it lies within. Texas: "within 18 in".
    [("Ohio", 2.0, 38.0), ("South Carolina", 0.0, 48.0), ("Texas", 0.0, 36.0)],
)
def test_the_width_to_dig_by_hand(state: str, line_in: float, inches: float) -> None:
    assert hand_dig_in(in_state(state), line_in) == inches


def test_a_ticket_is_not_clear_before_it_was_called_for() -> None:
    job = sound_up_to("dig")
    ticket = job.locate_tickets[0]
    job = put(job, "locate_ticket", ticket.id, clear_on="2026-04-01", dug_from="2026-04-02")
    first = ticket_span(job, job.locate_tickets[0]).first
    assert first is not None
    assert first > date(2026, 4, 14)
    assert "dug before clear" in codes(job)


def test_marks_that_lapsed_before_they_were_renewed_do_not_hold_in_between() -> None:
    """A ticket of 14 calendar days from the call (Mississippi), renewed four weeks too late."""
    job = ruled(ruled(sound_job(1), "locate_expiry_days", 14.0), "locate_expiry_since", "call")
    job = ruled(job, "locate_expiry_first_day", False)
    job = put(job, "locate_ticket", "ticket-1", renewed_on="2026-05-26")
    days = ticket_span(job, job.locate_tickets[0])
    assert [days.covers(date(2026, 4, day)) for day in (20, 28, 29)] == [True, True, False]
    assert [days.covers(date(2026, 5, day)) for day in (25, 26)] == [False, True]
