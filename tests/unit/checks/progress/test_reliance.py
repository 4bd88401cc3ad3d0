"""A stop stops: every pair of a check and a sign-off, against the table of what relies on what."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

import pytest
from builders import CABLE, JOB, TODAY, checked, put, sound_job

from fieldbook.actions.signing import why_not
from fieldbook.checks.progress.holds import BACKFILL, SIGN_OFFS
from fieldbook.checks.progress.reliance import RELIES_ON, stops_against
from fieldbook.checks.registry import CHECKS, verdicts
from fieldbook.records.ids import backfill_id, flush_id, pressure_test_id, terminal_id, valve_id
from fieldbook.records.loaded_job import LoadedJob

ZONE = "zone-1"
AT = datetime(2026, 5, 3, 10, 0)


def swapped(job: LoadedJob) -> LoadedJob:
    """The job with the wires of zones 1 and 2 crossed at the controller."""
    one, two = (next(t for t in job.terminals if t.number == n).colour for n in (1, 2))
    job = put(job, "terminal", terminal_id(JOB, "zone", 1), colour=two)
    return put(job, "terminal", terminal_id(JOB, "zone", 2), colour=one)


STOPS: dict[str, Callable[[LoadedJob], LoadedJob]] = {
    "hydraulics": lambda job: put(job, "zone", ZONE, design_flow_gpm=400.0),
    "backflow height": lambda job: put(
        job, "backflow_assembly", "backflow-1", critical_level_ft=-5.0
    ),
    "backflow kind": lambda job: put(job, "backflow_assembly", "backflow-1", kind="DC"),
    "backflow tests": lambda job: put(
        job, "backflow_assembly", "backflow-1", back_pressure=True
    ),
    "wire map": swapped,
    "electrics": lambda job: put(job, "terminal", terminal_id(JOB, "zone", 1), day_1_ohm=2.0),
    "flush": lambda job: put(job, "flush", flush_id(ZONE), ran_clear=False),
    "backfill": lambda job: put(job, "backfill", backfill_id(JOB, ZONE), cover_in=2.0),
    "pressure test": lambda job: put(
        job, "pressure_test", pressure_test_id(JOB, None), water_only=False
    ),
    "controller": lambda job: put(
        job, "controller", job.controller.id if job.controller else "", outdoors=True,
        outdoor_model=False,
    ),
    "permits and tickets": lambda job: put(
        job, "locate_ticket", "ticket-1", dug_from="2026-04-01", clear_on="2026-06-01"
    ),
}  # fmt: skip
"""A stop of each check that has stops, made in a sound job."""
NO_STOPS = {
    *("supply", "sign-offs", "positions", "conflicts", "attached files"),
    *("change orders", "punch list", "owner's walk-through", "warranties", "watering"),
    "programmes",
    *("commissioning", "catch-can audit"),
}
"""Checks that only have fixes and notes."""
AFTER_HANDOVER = {"season"}
"""Checks of what is done after the handover, whose stops no sign-off covers."""


def test_every_check_is_either_stopped_here_or_known_to_have_no_stops() -> None:
    assert {one.name for one in CHECKS} == set(STOPS) | NO_STOPS | AFTER_HANDOVER
    relied_on = {name for names in RELIES_ON.values() for name in names}
    assert set(STOPS) <= relied_on


@pytest.mark.parametrize("kind", [*SIGN_OFFS, BACKFILL])
@pytest.mark.parametrize("check", STOPS)
def test_a_stop_stands_against_exactly_the_sign_offs_that_rely_on_its_check(
    check: str, kind: str
) -> None:
    job = STOPS[check](sound_job())
    answers = verdicts(job, TODAY).answers
    stops = [
        flag
        for answer in answers
        if answer.check == check
        for flag in answer.flags
        if flag.severity == "stop"
    ]
    assert stops, check
    # The stop on the pressure test is the mainline's, every other stop on the ground zone 1's.
    zone_id = None if kind != BACKFILL or check == "pressure test" else ZONE
    against = stops_against(job, answers, kind, zone_id)
    assert (stops[0] in against) == (check in RELIES_ON[kind])


@pytest.mark.parametrize(
    ("kind", "zone_id", "spoil"),
    [
        ("energise", None, STOPS["electrics"]),
        ("energise", None, STOPS["pressure test"]),
        ("energise", None, STOPS["wire map"]),
        ("handover", None, STOPS["wire map"]),
        (
            "wire backfill",
            None,
            lambda job: put(job, "valve", valve_id("zone-2"), colour=job.valve_of(ZONE).colour),
        ),
        ("price", None, STOPS["hydraulics"]),
        (BACKFILL, ZONE, STOPS["hydraulics"]),
        ("dig", None, lambda job: put(job, "locate_ticket", "ticket-1", clear_on="2026-06-01")),
        (BACKFILL, ZONE, STOPS["backfill"]),
    ],
)
def test_a_sign_off_with_a_stop_on_it_is_refused_and_says_why(
    kind: str, zone_id: str | None, spoil: Callable[[LoadedJob], LoadedJob]
) -> None:
    assert why_not(sound_job(), kind, zone_id, AT) == "" or kind in ("handover", "dig")
    said = why_not(spoil(sound_job()), kind, zone_id, AT)
    assert said.startswith(("A stop stands on it: ", "Hold "))
    assert len(said) <= 400


def test_a_stop_on_one_zone_does_not_hold_back_another() -> None:
    for check in ("hydraulics", "flush", "backfill"):
        job = STOPS[check](sound_job())
        answers = verdicts(job, TODAY).answers
        assert stops_against(job, answers, BACKFILL, ZONE)
        assert stops_against(job, answers, BACKFILL, "zone-2") == []


def test_the_cable_of_the_test_job_is_the_one_the_wires_are_in() -> None:
    assert [cable.id for cable in sound_job().cables] == [CABLE]


def test_what_zones_draw_together_stops_the_backfill_of_each() -> None:
    job = put(sound_job(3), "zone", "zone-1", runs_with="zone-2")
    job = put(job, "zone", "zone-2", design_flow_gpm=40.0)
    answers = checked(job).answers
    held = {no: stops_against(job, answers, BACKFILL, f"zone-{no}") for no in (1, 2, 3)}
    assert [[stop.code for stop in held[no]] for no in (1, 2, 3)] == [
        ["flow over supply"],
        ["flow over supply"],
        [],
    ]
