"""Tests of a terminal on two laptops: each is kept, the latest counts, differing ones are asked."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from two_books import TwoBooks, two_books

from fieldbook.actions.log_tests import set_ohm, set_ran
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.finding import CellRef
from fieldbook.checks.wire.circuits import reading_of
from fieldbook.checks.wire.electrics import check_electrics
from fieldbook.checks.wire.wire_evidence import reconciled_wire
from fieldbook.checks.wire.wire_tests import ran_at
from fieldbook.papers.wire_test_log import test_log_lines as log_lines
from fieldbook.records.ids import terminal_id, valve_id
from fieldbook.records.tables.controller import Terminal
from fieldbook.records.values import Value
from fieldbook.store.changes import Add, Put

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
    zones = ran_at(laptop.job, terminal)
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


def meter(laptop: OpenJob, number: int, ohms: str, column: str = "now_ohm") -> None:
    """Type the ohms read at a terminal."""
    set_ohm(laptop, replace(at(laptop, number), column=column), ohms, seed_of(number))


def reads(laptop: OpenJob, number: int) -> float | None:
    """The reading of a terminal that counts."""
    terminal = laptop.job.row(at(laptop, number).row_id)
    assert isinstance(terminal, Terminal)
    reading = reading_of(laptop.job, terminal)
    return reading.ohm if reading is not None else None


def test_readings_are_tests_and_leave_what_ran_alone(pair: TwoBooks) -> None:
    energise(pair.here, 1, "1")
    meter(pair.here, 1, "33.8", "day_1_ohm")
    meter(pair.here, 1, "34.1")
    assert (ran(pair.here, 1), reads(pair.here, 1)) == ([1], 34.1)
    assert [one.read_ohm for one in pair.here.job.wire_tests] == [None, 33.8, 34.1]
    meter(pair.here, 1, "")
    assert (ran(pair.here, 1), reads(pair.here, 1)) == ([1], 33.8)
    log = log_lines(pair.here.job)
    assert len(log) == 3
    assert log[0].startswith("Terminal 1: 34.1 ohm, an earlier test (")
    assert log[2].startswith("Terminal 1: zone 1 ran (")
    assert log[2].endswith(" by AB)")


def test_a_reading_of_a_wire_that_was_moved_does_not_count(pair: TwoBooks) -> None:
    meter(pair.here, 1, "33.8")
    enter(pair.here, 1, "brown")
    assert reads(pair.here, 1) is None
    assert "read before a change" in flags(pair.here)
    assert log_lines(pair.here.job)[0].startswith(
        "Terminal 1: 33.8 ohm, before its wire was changed ("
    )
    meter(pair.here, 1, "9999")
    assert reads(pair.here, 1) == 9999
    assert log_lines(pair.here.job)[0].startswith("Terminal 1: over range (")


def test_a_reading_stays_where_a_test_shows_that_only_the_entry_was_mended(pair: TwoBooks) -> None:
    enter(pair.here, 2, "brown")
    energise(pair.here, 2, "2")
    meter(pair.here, 2, "31")
    enter(pair.here, 2, "blue")
    assert (ran(pair.here, 2), reads(pair.here, 2)) == ([2], 31.0)


def test_no_laptop_takes_a_zone_and_nothing_for_one_test(pair: TwoBooks) -> None:
    for typed in ("0 1", "1 0"):
        with pytest.raises(RefusedError, match="Either zones ran or nothing did"):
            energise(pair.here, 1, typed)
    # What another program wrote comes in by exchange, and counts for nothing.
    cell, zone_id = at(pair.there, 1), pair.there.job.zones[0].id
    both: dict[str, Value] = {
        "terminal_id": cell.row_id,
        "wire": "/red",
        "ran_zone_id": zone_id,
        "ran_nothing": True,
    }
    pair.there.commit([Add("wire_test", "00000000-0000-7000-8000-000000000001", both)], "both")
    pair.exchange()
    for laptop in (pair.here, pair.there):
        assert ran(laptop, 1) is None
        assert "test says both" in flags(laptop)
        assert "does not count" in log_lines(laptop.job)[0]
    energise(pair.here, 1, "1")
    assert ran(pair.here, 1) == [1]


def test_cells_that_say_both_count_for_nothing(pair: TwoBooks) -> None:
    cell, zone_id = at(pair.here, 1), pair.here.job.zones[0].id
    puts = [Put(cell.table, cell.row_id, "ran_zone_id", zone_id)]
    pair.here.commit([*puts, Put(cell.table, cell.row_id, "ran_nothing", True)], "both")
    assert ran(pair.here, 1) is None
    assert "test says both" in flags(pair.here)
