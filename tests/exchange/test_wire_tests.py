"""Tests of a terminal on two laptops: each is kept, the latest counts, differing ones are asked."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from two_books import TwoBooks, two_books

from fieldbook.actions.log_wires import set_ran
from fieldbook.actions.open_job import OpenJob
from fieldbook.checks.finding import CellRef
from fieldbook.checks.wire.electrics import check_electrics
from fieldbook.checks.wire.wire_evidence import ran_of, reconciled_wire
from fieldbook.records.ids import terminal_id, valve_id
from fieldbook.records.tables.controller import Terminal
from fieldbook.records.values import Value
from fieldbook.store.changes import Put

THREE = ("red", "blue", "green")


@pytest.fixture
def pair(tmp_path: Path) -> Iterator[TwoBooks]:
    """Two books with three zones whose wires are entered at both ends."""
    with two_books(tmp_path / "here.sqlite", tmp_path / "there.sqlite") as found:
        for number, colour in enumerate(THREE, start=1):
            enter(found.here, number, colour)
            zone_id = found.here.job.zones[number - 1].id
            seed: dict[str, Value] = {"zone_id": zone_id}
            put = Put("valve", valve_id(zone_id), "colour", colour, seed)
            found.here.commit([put], "wire")
        found.exchange()
        yield found


def at(laptop: OpenJob, number: int) -> CellRef:
    """The cell of what ran at a terminal."""
    return CellRef("terminal", terminal_id(laptop.job_id, "zone", number), "ran")


def seed_of(number: int) -> dict[str, Value]:
    """What a terminal is made with."""
    return {"role": "zone", "number": number}


def enter(laptop: OpenJob, number: int, colour: str) -> None:
    """Enter the colour under a terminal."""
    cell = at(laptop, number)
    put = Put(cell.table, cell.row_id, "colour", colour, seed_of(number))
    laptop.commit([put], "wire")


def energise(laptop: OpenJob, number: int, ran: str) -> None:
    """Type what ran as a terminal was energised."""
    set_ran(laptop, at(laptop, number), ran, seed_of(number))


def ran(laptop: OpenJob, number: int) -> list[int] | None:
    """The numbers of the zones that count as having run."""
    terminal = laptop.job.row(at(laptop, number).row_id)
    assert isinstance(terminal, Terminal)
    zones = ran_of(laptop.job, terminal)
    if zones is None:
        return None
    return sorted(zone.number or 0 for zone in laptop.job.zones if zone.id in zones)


def flags(laptop: OpenJob) -> set[str]:
    """The flags of tests and meter."""
    found = check_electrics(laptop.job)
    return {one.code for one in found if hasattr(one, "code")}


def test_every_test_is_kept_and_the_latest_counts(pair: TwoBooks) -> None:
    energise(pair.here, 1, "0")
    energise(pair.here, 1, "1")
    assert ran(pair.here, 1) == [1]
    first, second = pair.here.job.wire_tests
    assert (first.ran_nothing, second.after) == (True, first.id)
    energise(pair.here, 1, "")
    assert ran(pair.here, 1) is None
    assert len(pair.here.job.wire_tests) >= 2


def test_two_laptops_with_one_result_agree(pair: TwoBooks) -> None:
    energise(pair.here, 1, "1")
    energise(pair.there, 1, "1")
    pair.exchange()
    assert ran(pair.here, 1) == ran(pair.there, 1) == [1]
    assert "tests disagree" not in flags(pair.here)


def test_two_laptops_with_different_results_are_asked_to_test_again(pair: TwoBooks) -> None:
    energise(pair.here, 2, "2")
    energise(pair.there, 2, "0")
    pair.exchange()
    for laptop in (pair.here, pair.there):
        assert ran(laptop, 2) is None
        assert "tests disagree" in flags(laptop)
        (link,) = [
            one for one in reconciled_wire(laptop.job).links if at(laptop, 2).row_id in one.terminal
        ]
        assert "ran" not in link.basis
    # The next test follows both, on whichever laptop it is made.
    energise(pair.there, 2, "2")
    pair.exchange()
    assert ran(pair.here, 2) == ran(pair.there, 2) == [2]
    assert "tests disagree" not in flags(pair.here)


def test_a_wire_moved_asks_for_just_its_terminals_again(pair: TwoBooks) -> None:
    for number, zone in ((1, "1"), (2, "3"), (3, "2")):
        energise(pair.here, number, zone)
    # Terminals 2 and 3 ran each other's zones: their wires are exchanged, and so are the entries.
    enter(pair.here, 2, "brown")
    enter(pair.here, 3, "blue")
    enter(pair.here, 2, "green")
    assert [ran(pair.here, number) for number in (1, 2, 3)] == [[1], [3], [2]]
    # What the test had shown is now what the colours say: no wire was moved, entries were mended.
    assert "tested before a change" not in flags(pair.here)
    enter(pair.here, 2, "black")
    assert ran(pair.here, 2) is None
    assert "tested before a change" in flags(pair.here)
    energise(pair.here, 2, "2")
    assert ran(pair.here, 2) == [2]
    assert ran(pair.here, 1) == [1]


def test_a_wire_entered_after_its_test_keeps_the_test(pair: TwoBooks) -> None:
    energise(pair.here, 4, "1")
    enter(pair.here, 4, "brown")
    assert ran(pair.here, 4) == [1]


def test_a_result_typed_on_a_laptop_that_keeps_no_tests_is_not_lost(pair: TwoBooks) -> None:
    energise(pair.here, 1, "1")
    cell = at(pair.here, 1)
    zone_id = pair.here.job.zones[1].id
    pair.here.commit([Put(cell.table, cell.row_id, "ran_zone_id", zone_id)], "ran")
    assert ran(pair.here, 1) is None
    assert "tests disagree" in flags(pair.here)
