"""The season as iCalendar that another library reads, as JSON and CSV, and in words to type."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path

import pytest
import vobject
from programmed_jobs import TODAY, odd_home, programmed

from fieldbook.actions.refused import RefusedError
from fieldbook.actions.watering.programme_files import (
    programme_data,
    programme_text,
    season_csv,
    write_programme,
)
from fieldbook.checks.registry import verdicts
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.contents.door_card import door_card
from fieldbook.papers.exports.season_calendar_file import as_season_calendar
from fieldbook.papers.paper import Facts, Table
from fieldbook.records.loaded_job import LoadedJob


def watered(zone_name: str = "front lawn") -> LoadedJob:
    """Two zones twice a week in June 2027; the first has this name."""
    job = odd_home()
    first, second = job.zones
    job = replace(job, zones=(first.with_values(name=zone_name), second))
    return programmed(
        job,
        {1: 20, 2: 25},
        days="Wed Sat",
        starts="05:00, 06:30",
        first_day="2027-06-01",
        last_day="2027-06-30",
    )


def test_another_library_reads_the_season() -> None:
    job = watered()
    raw = as_season_calendar(job, date(2027, 6, 1), date(2027, 6, 30), TODAY).decode()
    events = vobject.readOne(raw).vevent_list
    # Nine Wednesdays and Saturdays, two starts each.
    assert len(events) == 18
    first = min(events, key=lambda event: event.dtstart.value)
    assert first.dtstart.value == datetime(2027, 6, 2, 5, 0)
    assert first.dtend.value == datetime(2027, 6, 2, 5, 45)
    assert first.summary.value == "Programme A, zones 1-2: 12 Elm Street"
    assert "front lawn" in first.description.value
    assert len({event.uid.value for event in events}) == 18
    assert all(event.dtstart.value.weekday() in (2, 5) for event in events)


def test_the_same_season_has_the_same_identifiers() -> None:
    job = watered()
    season = (date(2027, 6, 1), date(2027, 6, 30))
    one, two = (as_season_calendar(job, *season, day) for day in (TODAY, date(2027, 6, 9)))
    ids = [
        sorted(e.uid.value for e in vobject.readOne(raw.decode()).vevent_list) for raw in (one, two)
    ]
    assert ids[0] == ids[1]


def test_a_spreadsheet_runs_nothing_of_the_csv() -> None:
    rows = list(csv.DictReader(io.StringIO(season_csv(watered("=1+1"), TODAY))))
    assert len(rows) == 9 * 4
    assert {row["name"] for row in rows} == {"'=1+1", "lawn 2"}
    assert rows[0]["start"] == "05:00"
    assert {row["verdict"] for row in rows} == {"yes"}


def test_json_holds_programmes_days_and_water() -> None:
    data = json.loads(json.dumps(programme_data(watered(), TODAY)))
    (programme,) = data["programmes"]
    assert programme["minutes"] == {"1": 20.0, "2": 25.0}
    assert programme["starts"] == ["05:00", "06:30"]
    assert len(data["days"]) == 9
    assert data["days"][0]["zones"] == "1-2"
    (june,) = data["gallons_by_month"]
    assert june["given"] == pytest.approx(sum(data["gallons_by_week"].values()))
    assert june["given"] == pytest.approx(sum(day["gallons"] for day in data["days"]))


def test_the_words_name_all_that_a_controller_asks_for() -> None:
    text = "\n".join(programme_text(watered(), TODAY))
    for words in (
        "Wednesday and Saturday",
        "5:00 am, 6:30 am",
        "20 min  terminal 1, zone 1 (front lawn)",
        "June 2027",
        "Runs on 9 days: 9 allowed, 0 barred, 0 not checked.",
    ):
        assert words in text, words
    assert list(programme_text(odd_home(), TODAY)) == [
        "No programme yet: enter it at the controller."
    ]


def test_the_ending_says_what_the_file_is(tmp_path: Path) -> None:
    for name in ("season.ics", "season.json", "season.csv"):
        write_programme(watered(), tmp_path / name, TODAY, over=False)
        assert (tmp_path / name).stat().st_size > 500
    with pytest.raises(RefusedError, match=r"needs one of these endings"):
        write_programme(watered(), tmp_path / "season.txt", TODAY, over=False)
    with pytest.raises(RefusedError, match="No programme yet"):
        write_programme(odd_home(), tmp_path / "none.ics", TODAY, over=False)


def test_the_door_card_has_the_programme() -> None:
    job = watered()
    now = datetime(2027, 6, 1, 12).astimezone()
    blocks = door_card(PaperSource(job, verdicts(job, now.date()), now)).blocks
    facts = [block for block in blocks if isinstance(block, Facts)]
    assert any(("Days", "Wednesday and Saturday") in one.rows for one in facts)
    tables = [block for block in blocks if isinstance(block, Table)]
    assert any(("terminal 1, zone 1 (front lawn)", "20 min") in one.rows for one in tables)
