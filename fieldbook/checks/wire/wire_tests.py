"""The tests of a terminal: which of them count now, and what ran.

Each time that a terminal is energised is a row of its own. The latest tests are those that no other
follows; a test counts while the wire that was under the terminal is still there. In an old book
the terminal's own cells are the first test.
"""

from __future__ import annotations

from collections.abc import Sequence

from fieldbook.checks.wire.ends import joined_wires
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.controller import Terminal, WireTest
from fieldbook.wiring import Wire

ADDRESS = "address"
"""Stands for the cable where a terminal calls a decoder's address."""
Outcome = frozenset[str] | None
"""The ids of the zones that ran, none of them if nothing did; None where it was not tested."""


def wire_under(terminal: Terminal | None) -> str:
    """The wire under a terminal, as a test remembers it."""
    if terminal is None:
        return "/"
    if terminal.address is not None:
        return f"{ADDRESS}/{terminal.address} {terminal.output or ''}".rstrip()
    return f"{terminal.cable_id or ''}/{terminal.colour or ''}"


def latest_tests(job: LoadedJob, terminal_id: str) -> tuple[WireTest, ...]:
    """The times a terminal was energised that no other test follows."""
    return tuple(one for one in _latest(job, terminal_id) if one.read_ohm is None)


def latest_readings(job: LoadedJob, terminal_id: str) -> tuple[WireTest, ...]:
    """The ohm readings of a terminal that no other test follows."""
    return tuple(one for one in _latest(job, terminal_id) if one.read_ohm is not None)


def _latest(job: LoadedJob, terminal_id: str) -> list[WireTest]:
    tests = [one for one in job.wire_tests if one.terminal_id == terminal_id]
    # A reading that was cleared is followed by a row without ohms.
    followed = {name for one in tests for name in one.after.split()}
    return [one for one in tests if one.id not in followed]


def says_both(seen: Terminal | WireTest) -> bool:
    """Whether one test has both a zone that ran and "nothing ran"."""
    return bool(seen.ran_nothing and (seen.ran_zone_id or seen.ran_also_id))


def has_test_with_both(job: LoadedJob, terminal: Terminal) -> bool:
    """Whether the latest tests of a terminal have a zone and "nothing ran" in one.

    Its cells are asked only where it has no tests: two laptops' results are merged in them.
    """
    latest: Sequence[Terminal | WireTest] = latest_tests(job, terminal.id)
    return any(says_both(one) for one in latest or [terminal])


def is_read_before_change(job: LoadedJob, terminal: Terminal) -> bool:
    """Whether every ohm reading of a terminal is of a wire that is no longer under it.

    Readings in the cells of an old book have no test of their own, and count.
    """
    readings = latest_readings(job, terminal.id)
    return bool(readings) and not any(counts(job, terminal, one) for one in readings)


def outcome_of(job: LoadedJob, seen: Terminal | WireTest) -> Outcome:
    """What one test showed, or what is in a terminal's own cells.

    None too where both a zone and "nothing ran" are entered, since one of the two is wrong.
    """
    zones = (job.zone(seen.ran_zone_id), job.zone(seen.ran_also_id))
    ran = frozenset(zone.id for zone in zones if zone is not None)
    if says_both(seen):
        return None
    return ran if ran or seen.ran_nothing else None


def outcomes(job: LoadedJob, terminal: Terminal) -> Sequence[Outcome]:
    """The different results that count now; several are laptops that disagree.

    None counts where one of them has both a zone that ran and "nothing ran".
    """
    latest = latest_tests(job, terminal.id)
    if has_test_with_both(job, terminal):
        return []
    own = outcome_of(job, terminal)
    if not latest:
        return [own] if own is not None else []
    found = [outcome_of(job, one) for one in latest if counts(job, terminal, one)]
    if own is not None and own not in [outcome_of(job, one) for one in latest]:
        # Typed on a laptop that keeps no tests of its own.
        found.append(own)
    return list(dict.fromkeys(one for one in found if one is not None))


def ran_at(job: LoadedJob, terminal: Terminal) -> frozenset[str] | None:
    """The zones that ran when a terminal was energised; None while it was not.

    None too where results disagree, or where the wire was moved since.
    """
    if terminal.role == "common":
        return None
    found = outcomes(job, terminal)
    return found[0] if len(found) == 1 else None


def is_of_another_wire(job: LoadedJob, terminal: Terminal) -> bool:
    """Whether a terminal was tested, and its wire was moved since."""
    latest = latest_tests(job, terminal.id)
    tested = [one for one in latest if outcome_of(job, one) is not None]
    return bool(tested) and not any(counts(job, terminal, one) for one in latest)


def counts(job: LoadedJob, terminal: Terminal, test: WireTest) -> bool:
    """Whether a test is of the wire that is under the terminal now.

    A wire entered since, or a colour corrected to what the test had shown, is no wire moved.
    """
    cable, _, colour = test.wire.partition("/")
    if ADDRESS in (cable, wire_under(terminal).partition("/")[0]):
        return test.wire in ("", "/", wire_under(terminal))
    now = terminal.cable_id or ""
    if colour in ("", terminal.colour) and (cable == now or not cable or not now):
        return True
    if test.read_ohm is not None:
        # A meter shows no colour: a reading stays with the wire that was seen to run.
        ran = [one for one in latest_tests(job, terminal.id) if one.wire == test.wire]
        return any(outcome_of(job, one) and counts(job, terminal, one) for one in ran)
    wire = next((one for one in joined_wires(job).wires if _is_under(terminal, one)), None)
    return wire is not None and outcome_of(job, test) == frozenset({wire.box.station})


def _is_under(terminal: Terminal, wire: Wire) -> bool:
    return wire.controller.name == f"terminal {terminal.id}"
