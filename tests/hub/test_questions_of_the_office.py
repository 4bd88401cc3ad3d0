"""The office's questions, asked of the demo properties, answer what the checks say in Python."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from datetime import date, timedelta

import psycopg
import pytest
from an_office import Office
from click.testing import CliRunner
from office_trucks import OfficeTruck
from psycopg import sql

from fieldbook.actions.board.day_list import unsigned, waits_of
from fieldbook.actions.exchange.office import refresh_hub
from fieldbook.actions.job_files import import_bytes
from fieldbook.actions.properties import demo_files
from fieldbook.checks.ground.flush import missing_steps
from fieldbook.checks.progress.deadlines import dates_of
from fieldbook.checks.progress.holds import unmet
from fieldbook.checks.registry import instant, verdicts
from fieldbook.cli.main import main
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.job import Job
from fieldbook.store.changes import Add, Put
from fieldbook.store.errors import BookError
from fieldbook.store.office.ask import ask, questions, statement
from fieldbook.store.office.setup import laptop_url

NOW = instant(None)
TODAY = NOW.date()


@pytest.fixture(scope="module")
def jobs(office: Office, tmp_path_factory: pytest.TempPathFactory) -> list[LoadedJob]:
    """The demo properties at the office, two of them with dates that are near and a conflict."""
    folder = tmp_path_factory.mktemp("trucks")
    one, two = OfficeTruck(office, folder, "AB"), OfficeTruck(office, folder, "CD")
    with one.open() as book:
        for file in demo_files():
            import_bytes(book, file.read_bytes(), "AB")
        alder, juniper = (_named(book.jobs(), name) for name in ("Alder", "Juniper"))
        tested = (TODAY - timedelta(days=350)).isoformat()
        test = book.load(alder).backflow_tests[0].id
        book.commit(alder, [Put("backflow_test", test, "tested_on", tested)], by="AB", what="test")
        until = (TODAY + timedelta(days=40)).isoformat()
        ends = Add("warranty", "w", {"kind": "pump", "until_on": until})
        book.commit(juniper, [ends], by="AB", what="warranty")
    for truck in (one, two):
        truck.exchange()
    one.enter(alder, "A. One")
    two.enter(alder, "A. Two")
    for truck in (one, two, one):
        truck.exchange()
    with one.open() as book:
        return [book.load(job.id) for job in book.jobs()]


def _named(jobs: list[Job], name: str) -> str:
    return next(job.id for job in jobs if name in job.address)


def answer(office: Office, question: str) -> list[dict[str, object]]:
    """The rows of an answer; every property is up to date."""
    found = ask(office.url, question)
    rows = [dict(zip(found.columns, row, strict=True)) for row in found.rows]
    assert all(row.pop("up_to_date", True) is True for row in rows)
    return rows


def texts(rows: list[dict[str, object]], *columns: str) -> list[tuple[str, ...]]:
    return sorted(tuple(str(row[column]) for column in columns) for row in rows)


def flags(jobs: list[LoadedJob], severity: str) -> Iterator[tuple[str, str, str]]:
    for job in jobs:
        for flag in verdicts(job, NOW).flags:
            if flag.severity == severity:
                yield job.job.address, flag.sentence, flag.mend


@pytest.mark.parametrize(("question", "severity"), [("open_stops", "stop"), ("fixes", "fix")])
def test_stops_and_fixes_are_those_of_the_checks(
    office: Office, jobs: list[LoadedJob], question: str, severity: str
) -> None:
    wanted = sorted(flags(jobs, severity))
    assert wanted
    assert texts(answer(office, question), "address", "sentence", "mend") == wanted


@pytest.mark.parametrize(
    ("question", "kinds", "days"),
    [("tests_due", ("backflow test", "inspection"), 30), ("warranties_ending", ("warranty",), 90)],
)
def test_dates_are_those_of_the_day_list(
    office: Office, jobs: list[LoadedJob], question: str, kinds: tuple[str, ...], days: int
) -> None:
    wanted = [
        (job.job.address, found.thing, found.on.isoformat())
        for job in jobs
        for found in dates_of(job, TODAY)
        if found.kind in kinds and found.on <= TODAY + timedelta(days=days)
    ]
    assert wanted
    assert texts(answer(office, question), "address", "thing", "on") == sorted(wanted)


def test_every_flush_is_there_with_its_steps_and_who_made_it(
    office: Office, jobs: list[LoadedJob]
) -> None:
    rows = answer(office, "flushes")
    assert len(rows) == sum(len(job.flushes) for job in jobs) > 10
    for job in jobs:
        zones = {zone.id: f"zone {zone.number} {zone.name}" for zone in job.zones}
        for flush in job.flushes:
            named = zones[flush.zone_id] if flush.zone_id else "mainline"
            (row,) = (r for r in rows if (r["address"], r["flushed"]) == (job.job.address, named))
            assert (row["entered_by"], row["entered_at"]) == (flush.entered_by, flush.entered_at)
            steps = ("ran_clear", "bleed_closed", *(("tops_back",) if flush.zone_id else ()))
            done = all(row[step] is True for step in steps)
            assert done == (not missing_steps(flush, flush.zone_id))


def test_what_waits_and_which_hold_points_are_not_met(
    office: Office, jobs: list[LoadedJob]
) -> None:
    waits, holds = [], []
    for job in jobs:
        address = job.job.address
        waits += [(address, d.what, d.waits) for d in waits_of(job, verdicts(job, NOW), NOW)]
        holds += [
            (address, held.hold.title, kind, lack.words)
            for kind, zone_id in unsigned(job)
            for held in unmet(job, kind, zone_id, NOW.replace(tzinfo=None))
            for lack in held.missing
        ]
    assert waits
    assert texts(answer(office, "waiting"), "address", "what", "waits_for") == sorted(waits)
    columns = ("address", "title", "sign_off", "missing")
    assert texts(answer(office, "hold_points"), *columns) == sorted(holds)


def test_zones_over_supply_and_those_whose_water_was_not_checked(
    office: Office, jobs: list[LoadedJob]
) -> None:
    wanted: list[tuple[str, str]] = []
    for job in jobs:
        found = verdicts(job, NOW)
        over = [flag for flag in found.flags if flag.code == "flow over supply"]
        wanted += [(job.job.address, flag.sentence) for flag in over]
        wanted += [
            (job.job.address, f"Not checked: {', '.join(lack.words for lack in one.missing)}.")
            for one in found.not_checked
            if one.check == "hydraulics"
        ]
    assert wanted
    assert texts(answer(office, "zones_over_supply"), "address", "sentence") == sorted(wanted)


def test_what_was_not_checked_is_a_flag_of_its_own(office: Office, jobs: list[LoadedJob]) -> None:
    wanted = sum(verdicts(job, NOW).open_count for job in jobs)
    counted = "SELECT count(*) FROM office.flag WHERE severity = 'not checked' AND up_to_date"
    assert office.ask(counted) == [(wanted,)]
    assert office.ask("SELECT sum(not_checked)::int FROM office.board") == [(wanted,)]


def test_conflicts_and_laptops(office: Office, jobs: list[LoadedJob]) -> None:
    rows = answer(office, "conflicts")
    assert texts(rows, "column", "value") == [("customer", "A. One"), ("customer", "A. Two")]
    (shown,) = (row["value"] for row in rows if row["shown"])
    assert shown in {job.job.customer for job in jobs}
    laptops = answer(office, "laptops")
    assert [(row["last_entry_by"], row["silent"]) for row in laptops] in (
        [("AB", False), ("CD", False)],
        [("CD", False), ("AB", False)],
    )
    office.ask("UPDATE fieldbook.sent_today SET heard = now() - interval '15 days'")
    assert [row["silent"] for row in answer(office, "laptops")] == [True, True]


def test_every_question_shows_a_property_that_is_not_up_to_date(
    office: Office, jobs: list[LoadedJob]
) -> None:
    address = jobs[0].job.address
    office.ask(
        "UPDATE fieldbook.board_line SET until = current_date - 1 WHERE job_id = %s", jobs[0].job.id
    )
    assert answer(office, "not_up_to_date")[0]["why_not"] == f"its flags held until {_yesterday()}"
    for question in questions():
        if question in ("laptops", "not_up_to_date"):
            continue
        found = ask(office.url, question)
        rows = [dict(zip(found.columns, row, strict=True)) for row in found.rows]
        assert {row["address"] for row in rows if not row["up_to_date"]} == {address}, question
    refresh_hub(office.url, lambda *_: None, everything=False)
    assert answer(office, "not_up_to_date") == []


def _yesterday() -> str:
    return (date.today() - timedelta(days=1)).isoformat()


def test_a_reader_at_the_office_asks_them_all(office: Office, jobs: list[LoadedJob]) -> None:
    name = f"reader_{office.name}"
    with psycopg.connect(office.url, autocommit=True) as connection:
        role = sql.Identifier(name)
        making = sql.SQL("CREATE ROLE {} LOGIN PASSWORD 'w' IN ROLE fieldbook_office")
        connection.execute(making.format(role))
        for question in questions():
            assert ask(laptop_url(office.url, name, "w"), question) == ask(office.url, question)
        with pytest.raises(BookError, match="no right"):
            refresh_hub(laptop_url(office.url, name, "w"), lambda *_: None, everything=True)
        connection.execute(sql.SQL("DROP ROLE {}").format(role))


def run_ask(*typed: str) -> str:
    ran = CliRunner().invoke(main, ["hub", "ask", *typed])
    assert ran.exit_code == 0, ran.output
    return ran.output


def test_the_command_lists_asks_and_prints(office: Office, jobs: list[LoadedJob]) -> None:
    listed = run_ask(office.url)
    assert len(listed.splitlines()) == len(questions()) >= 10
    for name, words in questions().items():
        assert words.endswith("?"), name
        assert re.search(rf"^{name} +{re.escape(words)}$", listed, re.MULTILINE)
    assert run_ask(office.url, "open_stops", "--sql") == statement("open_stops")
    rows: list[Mapping[str, object]] = json.loads(run_ask(office.url, "open_stops", "--json"))
    assert len(rows) == len(list(flags(jobs, "stop")))
    assert "Quarry Road" in run_ask(office.url, "open_stops")
    assert run_ask(office.url, "not_up_to_date") == "None.\n"
    with pytest.raises(BookError, match="no question 'x'"):
        ask(office.url, "x")
