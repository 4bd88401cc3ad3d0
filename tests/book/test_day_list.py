"""The day list of a property, each line from both sides: there while it is so, gone when not."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import pytest
from builders import all_signed, bare_job, own_values, put, row, sound_job, without
from seasons.season_jobs import planned

from fieldbook.actions.board.day_list import DayList, day_list
from fieldbook.actions.job_files import import_bytes
from fieldbook.jobfile.write import write_job
from fieldbook.records.ids import backfill_id, flush_id, once_id, pressure_test_id, valve_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.permits import Inspection
from fieldbook.store.book import Book

NOW = datetime(2026, 5, 10, 9, 0)


class Days:
    """The day list of one property at a time, each in a book of its own."""

    def __init__(self, folder: Path) -> None:
        self._folder, self._count = folder, 0

    def __call__(
        self, job: LoadedJob, now: datetime = NOW, within: timedelta = timedelta(days=7)
    ) -> DayList:
        """The day list of a book that holds this property alone."""
        self._count += 1
        with Book(self._folder / f"{self._count}.sqlite", scratch=True) as book:
            import_bytes(book, write_job(job).encode(), "AB")
            return day_list(book, now, within)


@pytest.fixture
def day(tmp_path: Path) -> Days:
    """Makes day lists."""
    return Days(tmp_path)


def can(found: DayList) -> str:
    """All that can be done, a line each."""
    return "\n".join(due.words for due in found.can)


def waits(found: DayList) -> str:
    """All that waits, a line each."""
    return "\n".join(due.words for due in found.waits)


def runs_out(found: DayList) -> list[str]:
    """All that runs out."""
    return [due.words for due in found.runs_out]


def not_dug(**ticket: object) -> LoadedJob:
    """A sound property that nobody has dug at yet, its ticket as given."""
    later = ("flush", "backfill", "pressure_test", "valve", "terminal", "backflow_test")
    held: dict[str, object] = {"dug_from": None, "dug_until": None, "called_on": "2026-05-04"}
    return put(without(sound_job(), *later), "locate_ticket", "ticket-1", **{**held, **ticket})


def test_all_that_can_be_done_is_listed_not_only_the_first(day: Days) -> None:
    job = put(sound_job(), "supply", once_id(sound_job().job.id, "supply"), septic=None)
    job = put(job, "flush", flush_id("zone-1"), ran_clear=None)
    job = put(job, "flush", flush_id("zone-2"), ran_clear=None)
    job = put(job, "valve", valve_id("zone-2"), splice_waterproof=None)
    listed = can(day(job))
    for words in (
        "Street: Enter whether there is a septic field.",
        "Ground: Flush zone 1 (lawn 1). Flush zone 2 (lawn 2).",
        "Valve boxes: Check the splice at the valve of zone 2 (lawn 2).",
        "Desk: Sign “What pricing needs is recorded”.",
    ):
        assert words in listed
    for words in ("septic", "Flush", "splice"):
        assert words not in can(day(sound_job()))
    priced = all_signed(sound_job(), "price")
    assert "pricing" not in can(day(priced))


def test_nothing_that_needs_digging_can_be_done_before_digging_may_begin(day: Days) -> None:
    waiting = day(not_dug(clear_on="2026-05-14"))
    assert "Log the wire" not in can(waiting)
    assert "Digging by ticket 260401, 2026-05-14: waits for its clear day" in waits(waiting)
    clear = day(not_dug(clear_on="2026-05-08"))
    assert "Log the wire at the valve of zone 1" in can(clear)
    assert "Digging by ticket" not in waits(clear)
    lapsed = day(not_dug(clear_on="2026-05-06", expires_on="2026-05-09"))
    assert "Have the locate marks renewed" in can(lapsed)
    assert "Have the locate marks renewed" not in can(clear)


def test_every_unsigned_sign_off_that_is_kept_back_waits(day: Days) -> None:
    listed = waits(day(bare_job()))
    for title in ("pricing", "digging", "pressurising", "energising", "service"):
        assert f"“What {title}" in listed
    assert "Handed over" in listed
    assert "The job is closed" in listed
    done = day(all_signed(sound_job()))
    assert (done.can, done.waits) == ((), ())


def test_a_sign_off_waits_for_its_hold_and_can_be_signed_once_that_is_met(day: Days) -> None:
    unsigned = backfill_id(sound_job().job.id, "zone-2")
    met = put(sound_job(), "backfill", unsigned, signed_by="", signed_at="")
    kept = put(met, "backfill", unsigned, cover_in=None)
    assert "Backfill of zone 2 (lawn 2): waits for the cover of zone 2" in waits(day(kept))
    assert "Sign the backfill of zone 2" not in can(day(kept))
    assert "Backfill of zone 2" not in waits(day(met))
    assert "Ground: Sign the backfill of zone 2 (lawn 2)." in can(day(met))


def test_a_sign_off_waits_for_a_stop(day: Days) -> None:
    unsigned = backfill_id(sound_job().job.id, "zone-2")
    met = put(sound_job(), "backfill", unsigned, signed_by="", signed_at="")
    stopped = put(met, "backfill", unsigned, cover_in=2.0)
    assert "the stop “cover too low” at the ground" in waits(day(stopped))
    assert "Sign the backfill of zone 2" not in can(day(stopped))


def test_handing_over_can_be_done_only_when_nothing_is_open(day: Days) -> None:
    ready = all_signed(sound_job(), "in service")
    assert "Desk: Hand over." in can(day(ready))
    still_open = put(ready, "flush", flush_id("zone-1"), let_on_by=None)
    found = day(still_open)
    assert "Hand over" not in can(found)
    assert "“Handed over”: waits for how water was let on" in waits(found)


def test_cement_waits_until_it_has_cured(day: Days) -> None:
    main = pressure_test_id(sound_job().job.id, None)
    fresh: dict[str, object] = {"began_at": None, "ended_at": None, "label_min": 120.0}
    job = put(sound_job(), "pressure_test", main, cemented_at="2026-05-10T08:00", **fresh)
    words = "Pressure test of the mainline, 2026-05-10: waits for cement until 10:00"
    assert words in waits(day(job))
    assert words not in waits(day(job, datetime(2026, 5, 10, 10, 0)))


@pytest.mark.parametrize(
    ("table", "columns", "words"),
    [
        ("permit", {"id": "permit-1", "expires_on": "{}"}, "permit 26-118"),
        ("locate_ticket", {"id": "ticket-1", "expires_on": "{}"}, "marks of ticket 260401"),
        ("crew_member", {"name": "T. Gauge", "expires_on": "{}"}, "licence of T. Gauge"),
    ],
)
def test_what_runs_out_within_a_week_is_listed(
    day: Days, table: str, columns: dict[str, str], words: str
) -> None:
    def listed(on: str) -> list[str]:
        values = {key: text.format(on) for key, text in columns.items()}
        row_id = values.pop("id", "new")
        job = put(sound_job(), "locate_ticket", "ticket-1", dug_until=None)
        if table == "crew_member":
            values.setdefault("role", "irrigator")
        return runs_out(day(put(job, table, row_id, **values)))

    assert f"{words}, 2026-05-17" in listed("2026-05-17")
    assert f"{words}, 2026-05-01" in listed("2026-05-01")
    assert not any(words in line for line in listed("2026-05-18"))


def test_marks_of_a_ticket_no_longer_matter_when_the_digging_is_over(day: Days) -> None:
    assert not any("marks" in line for line in runs_out(day(sound_job())))


def test_an_inspection_is_to_be_held_again_until_it_is_passed(day: Days) -> None:
    failed = row(Inspection, "i-1", kind="final", held_on="2026-05-08", result="to correct")
    job = put(sound_job(), "inspection", "i-1", **own_values(failed))
    words = "inspection final to be held again, 2026-05-08"
    assert words in runs_out(day(job))
    passed = put(job, "inspection", "i-2", kind="final", held_on="2026-05-09", result="passed")
    assert not any("inspection" in line for line in runs_out(day(passed)))


def test_the_next_backflow_test_is_listed_within_a_week_of_its_day(day: Days) -> None:
    words = "next test of the PVB (left of the garage), 2027-05-02"
    assert words not in runs_out(day(sound_job(), datetime(2027, 4, 24, 9, 0)))
    assert words in runs_out(day(sound_job(), datetime(2027, 4, 25, 9, 0)))
    assert words in runs_out(day(all_signed(sound_job()), datetime(2027, 6, 1, 9, 0)))


def test_a_backflow_test_that_failed_or_was_made_before_a_repair_is_listed(day: Days) -> None:
    words = "new test of the PVB (left of the garage), "
    assert not any(line.startswith(words) for line in runs_out(day(sound_job())))
    repaired = put(sound_job(), "backflow_assembly", "backflow-1", repaired_on="2026-05-08")
    assert f"{words}2026-05-08" in runs_out(day(repaired))
    failed = put(sound_job(), "backflow_test", "test-1", check_1_psi=0.2)
    assert f"{words}2026-05-02" in runs_out(day(failed))
    again = put(repaired, "backflow_test", "test-1", tested_on="2026-05-09")
    assert not any(line.startswith(words) for line in runs_out(day(again)))


def test_the_season_and_a_warranty_are_named_within_the_days_asked(day: Days) -> None:
    job = planned(all_signed(sound_job()), frost_on="2026-05-20")
    job = put(job, "warranty", "w", kind="controller", until_on="2026-06-05")
    assert runs_out(day(job)) == []
    assert runs_out(day(job, within=timedelta(days=10))) == [
        "closing before the first frost, 2026-05-20"
    ]
    assert "end of the controller warranty, 2026-06-05" in runs_out(
        day(job, within=timedelta(days=30))
    )
    heading = day(job, within=timedelta(days=30)).sections()[2][0]
    assert heading == "Runs out within 30 days, or has"


def test_a_property_handed_over_years_ago_has_one_line_a_thing_due(day: Days) -> None:
    """Only the test of its assembly is overdue; nothing of the work waits or is asked for."""
    job = planned(all_signed(sound_job(), "handover"), frost_on="2026-10-28")
    job = put(job, "permit", "permit-1", expires_on="2026-08-01")
    job = put(job, "warranty", "w", kind="valve", until_on="2027-01-01")
    found = day(job, datetime(2031, 8, 1, 9))
    assert [line.partition(",")[0] for line in runs_out(found)] == [
        "next test of the PVB (left of the garage)"
    ]
    assert can(found) == "Desk: Close the job."
    assert waits(found) == ""
