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

Outcome = frozenset[str] | None
"""The ids of the zones that ran, none of them if nothing did; None where it was not tested."""


def wire_under(terminal: Terminal | None) -> str:
    """The wire under a terminal, as a test remembers it."""
    if terminal is None:
        return "/"
    return f"{terminal.cable_id or ''}/{terminal.colour or ''}"


def latest_tests(job: LoadedJob, terminal_id: str) -> tuple[WireTest, ...]:
    """The tests of a terminal that no other test follows."""
    tests = [one for one in job.wire_tests if one.terminal_id == terminal_id]
    followed = {name for one in tests for name in one.after.split()}
    return tuple(one for one in tests if one.id not in followed)


def outcome_of(job: LoadedJob, seen: Terminal | WireTest) -> Outcome:
    """What one test showed, or what is in a terminal's own cells.

    None too where both a zone and "nothing ran" are entered, since one of the two is wrong.
    """
    zones = (job.zone(seen.ran_zone_id), job.zone(seen.ran_also_id))
    ran = frozenset(zone.id for zone in zones if zone is not None)
    if ran and seen.ran_nothing:
        return None
    return ran if ran or seen.ran_nothing else None


def outcomes(job: LoadedJob, terminal: Terminal) -> Sequence[Outcome]:
    """The different results that count now; several are laptops that disagree."""
    latest = latest_tests(job, terminal.id)
    own = outcome_of(job, terminal)
    if not latest:
        return [own] if own is not None else []
    found = [outcome_of(job, one) for one in latest if _counts(job, terminal, one)]
    if own is not None and own not in [outcome_of(job, one) for one in latest]:
        # Typed on a laptop that keeps no tests of its own.
        found.append(own)
    return list(dict.fromkeys(one for one in found if one is not None))


def is_of_another_wire(job: LoadedJob, terminal: Terminal) -> bool:
    """Whether a terminal was tested, and its wire was moved since."""
    latest = latest_tests(job, terminal.id)
    tested = [one for one in latest if outcome_of(job, one) is not None]
    return bool(tested) and not any(_counts(job, terminal, one) for one in latest)


def _counts(job: LoadedJob, terminal: Terminal, test: WireTest) -> bool:
    """Whether a test is of the wire that is under the terminal now.

    A wire entered since, or a colour corrected to what the test had shown, is no wire moved.
    """
    cable, _, colour = test.wire.partition("/")
    now = terminal.cable_id or ""
    if colour in ("", terminal.colour) and (cable == now or not cable or not now):
        return True
    wire = next((one for one in joined_wires(job).wires if _is_under(terminal, one)), None)
    return wire is not None and outcome_of(job, test) == frozenset({wire.box.station})


def _is_under(terminal: Terminal, wire: Wire) -> bool:
    return wire.controller.name == f"terminal {terminal.id}"
