"""Notice before digging and the life of a ticket, against what states publish.

The texts are those of the states' notification centres and statutes, as read on 2026-11-26; the
worked days are counted by hand from these texts.
"""

from __future__ import annotations

from datetime import date

import pytest

from fieldbook.trade.rules.editions import LocalRule, resolved
from fieldbook.trade.rules.locating import (
    READ_ON,
    TicketLife,
    first_day_to_dig,
    set_name,
    starter_sets,
)

MONDAY = date(2026, 3, 2)


def rules(state: str) -> dict[str, LocalRule]:
    """All that a job under a state's starter set is held to."""
    return resolved(set_name(state), starter_sets(), READ_ON)


def life(state: str) -> TicketLife:
    """How long a ticket holds in a state."""
    held = rules(state)
    days, count = held["locate_expiry_days"].value, held["locate_expiry_count"].value
    assert isinstance(days, float)
    return TicketLife(
        int(days),
        "working" if count == "working" else "calendar",
        held["locate_expiry_first_day"].value is True,
    )


@pytest.mark.parametrize(
    ("state", "since", "counted_from", "last"),
    [
        # "28 calendar days counting the day of the call": called on the 1st, good until the 28th.
        ("Illinois", date(2026, 4, 1), "call", date(2026, 4, 28)),
        # "21 calendar days from the start".
        ("Michigan", MONDAY, "start", date(2026, 3, 23)),
        # "15 calendar days from the start", in both states.
        ("Tennessee", MONDAY, "start", date(2026, 3, 17)),
        ("Kansas", MONDAY, "start", date(2026, 3, 17)),
        # "17 calendar days from the start".
        ("Nebraska", MONDAY, "start", date(2026, 3, 19)),
        # "14 calendar days from creation".
        ("Utah", MONDAY, "call", date(2026, 3, 16)),
        # "28 calendar days from issue".
        ("California", MONDAY, "call", date(2026, 3, 30)),
        # "20 working days from the start": four weeks of five working days.
        ("Alabama", MONDAY, "start", date(2026, 3, 30)),
    ],
)
def test_a_ticket_holds_as_long_as_its_state_says(
    state: str, since: date, counted_from: str, last: date
) -> None:
    assert rules(state)["locate_expiry_since"].value == counted_from
    assert life(state).last_day(since) == last


@pytest.mark.parametrize(
    ("called", "days", "first"),
    [
        # Florida: "2 full business days, the day of the call not counted".
        (MONDAY, 2, date(2026, 3, 5)),
        # Michigan: "3 full working days".
        (MONDAY, 3, date(2026, 3, 6)),
        # A weekend is no notice: called on Friday, two full working days are Monday and Tuesday.
        (date(2026, 3, 6), 2, date(2026, 3, 11)),
    ],
)
def test_nobody_digs_before_the_full_days_of_notice(called: date, days: int, first: date) -> None:
    assert first_day_to_dig(called, days, "working") == first


def test_there_are_twenty_one_states_and_each_figure_says_what_was_read() -> None:
    assert len(starter_sets()) == 21
    for state in starter_sets():
        assert state.inherits == "generic"
        for rule in state.rules.values():
            assert "2026-11-26" in rule.source
            assert "“" in rule.source


@pytest.mark.parametrize(
    ("state", "inches"),
    # Texas: "hand tools within 18 in". Florida: "24 in from the outer edge". Ohio: "18 in and the
    # width of the line", which makes 38 in of hand digging over a line 2 in wide.
    [("Texas", 18), ("Florida", 24), ("Ohio", 18)],
)
def test_the_width_to_dig_by_hand_is_that_of_the_state(state: str, inches: float) -> None:
    assert rules(state)["tolerance_in"].value == inches


def test_a_state_without_a_life_of_its_own_takes_the_generic_one() -> None:
    assert rules("New York")["locate_expiry_days"].set_name == "generic"
