"""Derived rows tell when they are old, and a false one is put right and does no other harm."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import psycopg
import pytest
from an_office import Office
from made_entries import entry
from office_trucks import OfficeTruck
from psycopg import errors

from fieldbook.actions.board.derived_facts import derived_facts
from fieldbook.actions.exchange.office import refresh_hub
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.store.journal.entry import Entry
from fieldbook.store.office.ask import ask, questions
from fieldbook.store.office.derived import derived_sql
from fieldbook.store.office.derived.derived_rows import Derived
from fieldbook.store.office.derived.refresh import Refreshed, refresh
from fieldbook.store.office.push import insert_entries
from fieldbook.store.office.setup import make_hub, remove_laptop

VIEWS = ("board", "job", "flag", "waiting", "due", "hold_point")
_PUT = "SELECT fieldbook.put_derived(%s, %s, %s::json)"
_STATE = "SELECT digest FROM fieldbook.job_state WHERE job_id = %s"


@pytest.fixture
def office(server: str) -> Iterator[Office]:
    """A hub for one test."""
    made = Office(server)
    yield made
    made.drop()


def refreshed(office: Office, *, everything: bool = False) -> int:
    return refresh_hub(office.url, lambda *_: None, everything=everything).made


def outdated(office: Office, view: str) -> list[tuple[object, ...]]:
    """The addresses of the properties that a view shows as not up to date."""
    shown = office.ask(f"SELECT DISTINCT address FROM office.{view} WHERE NOT up_to_date")
    return sorted(shown, key=str)


def name_of(url: str) -> str:
    return url.partition("//")[2].partition(":")[0]


def insert(office: Office, *entries: Entry) -> None:
    with psycopg.connect(office.url, autocommit=True) as connection:
        insert_entries(connection, entries)


def put(office: Office, url: str, job_id: str, **made: object) -> object:
    """Put derived rows at the office as a laptop with SQL of its own; returns the answer."""
    ((digest,),) = office.ask(_STATE, job_id)
    whole = {
        "rows": [],
        "conflicts": [],
        "facts": [],
        "line": {},
        "as_of": "2026-01-01",
        "until": "9998-12-31",
    }
    ((answer,),) = office.ask(_PUT, job_id, digest, json.dumps({**whole, **made}), url=url)
    return answer


def test_a_laptop_makes_the_rows_of_what_it_sends_and_names_itself(
    office: Office, tmp_path: Path
) -> None:
    truck = OfficeTruck(office, tmp_path, "AB")
    job_id = truck.add("12 Elm Street", 2)
    truck.exchange()
    of_job = "SELECT made_from, made_by FROM fieldbook.board_line WHERE job_id = %s"
    newest = office.ask("SELECT max(n) FROM fieldbook.entry")[0][0]
    assert office.ask(of_job, job_id) == [(newest, name_of(truck.url))]
    assert all(outdated(office, view) == [] for view in VIEWS)
    assert office.ask("SELECT customer FROM office.job") == [("AB 1",)]
    assert office.ask("SELECT customer, why_not FROM office.board") == [("AB 1", "")]


def test_rows_are_old_in_every_view_until_they_are_made_anew(
    office: Office, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    truck = OfficeTruck(office, tmp_path, "AB")
    elm, oak = truck.add("12 Elm Street"), truck.add("9 Oak Street")
    truck.exchange()
    truck.enter(elm, "new")
    new = truck.add("14 Elm Street")
    with monkeypatch.context() as older:
        # An older fieldbook exchanges entries and knows nothing of derived rows.
        older.setattr(
            "fieldbook.store.office.office_exchange.send_derived", lambda _session, _derive: None
        )
        truck.exchange()
    for view in VIEWS:
        assert outdated(office, view) == [("12 Elm Street",), ("14 Elm Street",)], view
    why = office.ask("SELECT job_id, why_not FROM office.board WHERE NOT up_to_date")
    assert set(why) == {(elm, "entries are newer"), (new, "nothing is worked out")}
    customers = "SELECT customer FROM office.job WHERE id = %s"
    assert office.ask(customers, elm) == [("",)]
    severities = "SELECT DISTINCT severity FROM office.flag WHERE job_id = %s"
    assert office.ask(severities, new) == [("not up to date",)]
    assert refreshed(office) == 2
    assert all(outdated(office, view) == [] for view in VIEWS)
    assert office.ask(customers, elm) == [("new",)]
    assert refreshed(office) == 0
    assert refreshed(office, everything=True) == 3
    assert office.ask("SELECT up_to_date FROM office.board WHERE job_id = %s", oak) == [(True,)]


def test_a_laptop_makes_anew_what_its_broken_exchange_left(office: Office, tmp_path: Path) -> None:
    truck = OfficeTruck(office, tmp_path, "AB")
    truck.add("12 Elm Street")
    truck.exchange()
    office.ask("DELETE FROM fieldbook.board_line")
    assert outdated(office, "board") == [("12 Elm Street",)]
    assert truck.exchange().sent == 0
    assert outdated(office, "board") == []


def test_a_book_with_other_entries_than_the_hub_leaves_its_rows(
    office: Office, tmp_path: Path
) -> None:
    one, two = OfficeTruck(office, tmp_path, "AB"), OfficeTruck(office, tmp_path, "CD")
    job_id = one.add("12 Elm Street")
    one.exchange()
    with one.open() as book:
        # No office can hold such a number.
        value = f'{{"job_id":"{job_id}","number":1e999}}'
        strange = entry(origin="o", job_id=job_id, row_id="z", value=value)
        book.receive([strange], "a folder")
    one.enter(job_id, "new")
    one.exchange()
    assert outdated(office, "board") == [("12 Elm Street",)]
    two.exchange()
    two.enter(job_id, "newer")
    two.exchange()
    assert outdated(office, "board") == []
    assert office.ask("SELECT customer FROM office.job") == [("newer",)]


def test_false_rows_of_a_stolen_laptop_name_it_and_are_put_right(
    office: Office, tmp_path: Path
) -> None:
    truck, thief = OfficeTruck(office, tmp_path, "AB"), office.laptop()
    job_id = truck.add("12 Elm Street", 1)
    truck.exchange()
    false = {"table": "job", "row_id": job_id, "cells": {"address": "12 Elm Street", "units": 7}}
    assert put(office, thief, job_id, rows=[false]) is True
    assert office.ask("SELECT customer, up_to_date FROM office.job") == [("", True)]
    assert office.ask("SELECT made_by FROM office.board") == [(name_of(thief),)]
    assert refreshed(office, everything=True) == 1
    assert office.ask("SELECT customer FROM office.job") == [("AB 0",)]
    put(office, thief, job_id, rows=[false])
    remove_laptop(office.url, name_of(thief))
    assert outdated(office, "flag") == [("12 Elm Street",)]
    assert office.ask("SELECT why_not FROM office.board") == [
        ("made by a laptop that was removed",)
    ]
    assert refreshed(office) == 1
    assert office.ask("SELECT customer FROM office.job") == [("AB 0",)]


def test_rows_of_another_day_are_not_up_to_date(office: Office, tmp_path: Path) -> None:
    truck = OfficeTruck(office, tmp_path, "AB")
    job_id = truck.add("12 Elm Street")
    truck.exchange()
    row = {"table": "job", "row_id": job_id, "cells": {"address": "12 Elm Street"}}
    for day, why in (
        ({"until": "2026-01-01"}, "its flags held until 2026-01-01"),
        ({"as_of": "2999-01-01"}, "made by a clock that is ahead"),
    ):
        put(office, truck.url, job_id, rows=[row], **day)
        assert office.ask("SELECT why_not FROM office.board") == [(why,)]
        # The rows themselves follow from the entries alone.
        assert (outdated(office, "flag"), outdated(office, "job")) == ([("12 Elm Street",)], [])
        assert refreshed(office) == 1


def test_a_laptop_that_sleeps_over_derived_rows_is_removed_at_once(
    office: Office, tmp_path: Path
) -> None:
    truck, thief = OfficeTruck(office, tmp_path, "AB"), office.laptop()
    job_id = truck.add("12 Elm Street")
    truck.exchange()
    put(office, thief, job_id)
    ((digest,),) = office.ask(_STATE, job_id)
    made = '{"rows":[],"line":{},"as_of":"2026-01-01","until":"2026-01-01"}'
    sleeper = psycopg.connect(thief)
    sleeper.execute(_PUT, (job_id, digest, made))
    remove_laptop(office.url, name_of(thief))
    with pytest.raises(psycopg.OperationalError):
        sleeper.execute("SELECT 1")
    assert outdated(office, "board") == [("12 Elm Street",)]


def test_a_property_of_which_no_row_is_put_there_does_not_vanish(
    office: Office, tmp_path: Path
) -> None:
    truck = OfficeTruck(office, tmp_path, "AB")
    job_id = truck.add("12 Elm Street", 1)
    truck.exchange()
    put(office, office.laptop(), job_id)
    assert all(outdated(office, view) == [("12 Elm Street",)] for view in VIEWS)
    assert office.ask("SELECT why_not FROM office.board") == [("nothing is worked out",)]
    assert refreshed(office) == 1
    assert office.ask("SELECT customer, up_to_date FROM office.job") == [("AB 0", True)]


def cell(value: object) -> dict[str, Any]:
    return {"kind": "flag", "cells": {"severity": value, "sentence": value, "on": value}}


@pytest.mark.parametrize(
    "made",
    [
        {"line": {"content": {"stops": "x", "zones": 1e300, "next": {"a": 1}}}},
        {"line": [1]},
        {"facts": [cell("stop"), cell({"a": 1}), cell(1e300), {"kind": "due", "cells": [1]}]},
        {"facts": [{"kind": "due", "cells": {"kind": "backflow test", "on": "2026-99-99"}}]},
        {"rows": [{"table": "zone", "row_id": "z", "cells": [1, 2]}]},
        {"rows": [{"table": "job", "row_id": "x", "cells": {"address": 5, "off_board": "?"}}]},
        {
            "conflicts": [
                {"table": "a", "row_id": "b", "column": "c", "kind": "cell", "heads": ["x"]}
            ]
        },
        {"as_of": "0001-01-01", "until": "9999-12-31"},
    ],
)
def test_whatever_a_laptop_puts_there_breaks_no_view(
    office: Office, tmp_path: Path, made: dict[str, object]
) -> None:
    truck, thief = OfficeTruck(office, tmp_path, "AB"), office.laptop()
    job_id = truck.add("12 Elm Street")
    truck.exchange()
    assert put(office, thief, job_id, **made) is True
    for view in (*VIEWS, "zone", "conflict", "history", "laptop"):
        office.ask(f"SELECT * FROM office.{view}")
    for question in questions():
        ask(office.url, question)
    truck.exchange()
    assert refreshed(office, everything=True) == 1
    assert office.ask("SELECT address FROM office.job") == [("12 Elm Street",)]


@pytest.mark.parametrize(
    ("made", "error"),
    [
        ({"until": "infinity"}, errors.CheckViolation),
        ({"as_of": "4000-01-01 BC"}, errors.CheckViolation),
        ({"rows": 7}, errors.InvalidParameterValue),
        ({"rows": [{"table": "job", "row_id": "x"}]}, errors.NotNullViolation),
        ({"facts": [{"cells": {}}]}, errors.NotNullViolation),
        ({"line": None, "rows": [{"table": None, "row_id": "x"}]}, errors.NotNullViolation),
    ],
)
def test_what_is_no_set_of_derived_rows_changes_nothing(
    office: Office, tmp_path: Path, made: dict[str, object], error: type[psycopg.Error]
) -> None:
    truck = OfficeTruck(office, tmp_path, "AB")
    job_id = truck.add("12 Elm Street", 1)
    truck.exchange()
    with pytest.raises(error):
        put(office, truck.url, job_id, **made)
    assert office.ask("SELECT customer, up_to_date FROM office.job") == [("AB 0", True)]


def test_rows_are_taken_only_for_the_entries_that_the_hub_has_and_within_the_quota(
    office: Office, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    truck = OfficeTruck(office, tmp_path, "AB")
    job_id = truck.add("12 Elm Street")
    truck.exchange()
    for job, digest in ((job_id, "0" * 64), (job_id, ""), ("nobody's", "0" * 64)):
        assert office.ask(_PUT, job, digest, "{}", url=truck.url) == [(False,)]
    large = "x" * derived_sql.LARGEST_DERIVED
    assert put(office, truck.url, job_id, facts=[cell(large)]) is False
    name = name_of(truck.url)
    office.ask("UPDATE fieldbook.laptop SET daily_mb = 0 WHERE name = %s", name)
    with pytest.raises(errors.ConfigurationLimitExceeded):
        put(office, truck.url, job_id)
    office.ask("UPDATE fieldbook.laptop SET daily_mb = 9 WHERE name = %s", name)
    assert put(office, truck.url, job_id) is True


def test_an_entry_that_names_another_property_makes_that_of_its_row_old_too(
    office: Office,
) -> None:
    def job(name: str) -> Entry:
        value = json.dumps({"address": name})
        return entry(origin=name, table="job", row_id=name, job_id=name, value=value)

    zone = entry(origin="z", job_id="a", row_id="z", value='{"job_id":"a","name":"lawn"}')
    insert(office, job("a"), job("b"), zone)
    assert refreshed(office) == 2
    forged = entry(
        origin="f", job_id="b", row_id="z", op="name", value='"beds"', clock=9, parents=(zone.id,)
    )
    insert(office, forged)
    assert outdated(office, "board") == [("a",), ("b",)]
    assert refreshed(office) == 2
    # As in a book, which merges all entries of a row.
    assert office.ask("SELECT job_id, name FROM office.zone") == [("a", "beds")]


def test_a_property_that_changes_while_it_is_worked_out_is_left(office: Office) -> None:
    insert(office, entry(table="job", row_id="j", value='{"address":"12 Elm Street"}'))
    seq = 1

    def derive_late(job: LoadedJob) -> Derived:
        nonlocal seq
        seq += 1
        insert(office, entry(seq=seq, table="note", row_id=f"n{seq}", value='{"job_id":"j"}'))
        return derived_facts(job)

    assert refresh(office.url, derive_late, lambda *_: None) == Refreshed(0, 1)
    assert outdated(office, "board") == [("12 Elm Street",)]
    assert refreshed(office) == 1
    assert len(office.ask("SELECT FROM office.note WHERE up_to_date")) == seq - 1


def test_what_this_fieldbook_does_not_know_is_kept_for_one_that_does(office: Office) -> None:
    value = '{"job_id":"j","not_known_yet":5}'
    insert(
        office,
        entry(table="job", row_id="j", value='{"address":"12 Elm Street"}'),
        entry(seq=2, row_id="z", value=value),
        entry(seq=3, table="not_known_yet", row_id="n", value=value),
    )
    assert refreshed(office) == 1
    query = "SELECT cells -> 'not_known_yet' FROM fieldbook.row WHERE row_id IN ('z', 'n')"
    assert office.ask(query) == [(5,), (5,)]


def test_an_older_hub_loses_its_merge_and_keeps_what_was_built_on_its_views(
    office: Office, tmp_path: Path
) -> None:
    truck = OfficeTruck(office, tmp_path, "AB")
    job_id = truck.add("12 Elm Street", 1)
    truck.exchange()
    _make_old(office)
    make_hub(office.url)
    left = "SELECT proname FROM pg_proc WHERE pronamespace = 'fieldbook'::regnamespace"
    assert not {"bring_came", "bring_row", "in_order"} & {row[0] for row in office.ask(left)}
    built = "SELECT address, customer FROM office.built_on_it"
    assert office.ask(built) == [("12 Elm Street", "AB 0")]
    assert outdated(office, "board") == [("12 Elm Street",)]
    truck.enter(job_id, "new")
    truck.exchange()
    assert outdated(office, "board") == []
    assert office.ask(built) == [("12 Elm Street", "new")]


def test_a_laptop_exchanges_with_a_hub_that_is_older(office: Office, tmp_path: Path) -> None:
    one, two = OfficeTruck(office, tmp_path, "AB"), OfficeTruck(office, tmp_path, "CD")
    _make_old(office)
    one.add("12 Elm Street")
    assert one.exchange().sent == 1
    assert two.exchange().received == 1


def _make_old(office: Office) -> None:
    """Take from a hub what it did not have while it merged entries in SQL."""
    office.ask(
        "DROP TRIGGER count_came ON fieldbook.entry;"
        "DROP FUNCTION fieldbook.put_derived, fieldbook.outdated, fieldbook.count_came;"
        "DROP FUNCTION fieldbook.count_job, fieldbook.entries_of;"
        "DROP SCHEMA office CASCADE; DROP VIEW fieldbook.freshness CASCADE;"
        "DROP TABLE fieldbook.board_line, fieldbook.job_state, fieldbook.shared_row,"
        "  fieldbook.derived;"
        "ALTER TABLE fieldbook.row DROP CONSTRAINT row_pkey,"
        '  ADD CONSTRAINT row_pkey PRIMARY KEY ("table", row_id);'
        "ALTER TABLE fieldbook.conflict DROP CONSTRAINT conflict_pkey,"
        '  ADD CONSTRAINT conflict_pkey PRIMARY KEY ("table", row_id, "column");'
        "CREATE FUNCTION fieldbook.bring_row(of_table text, of_row text) RETURNS void"
        "  LANGUAGE plpgsql AS $$ BEGIN END $$;"
        "CREATE FUNCTION fieldbook.in_order(of_table text, of_row text, OUT ids text[],"
        "  OUT ops text[], OUT before varbit[]) LANGUAGE plpgsql AS $$ BEGIN END $$;"
        "CREATE FUNCTION fieldbook.bring_came() RETURNS trigger"
        "  LANGUAGE plpgsql AS $$ BEGIN RETURN NULL; END $$;"
        "CREATE TRIGGER bring_came AFTER INSERT ON fieldbook.entry"
        "  REFERENCING NEW TABLE AS came FOR EACH STATEMENT"
        "  EXECUTE FUNCTION fieldbook.bring_came();"
        "CREATE SCHEMA office; CREATE VIEW office.job AS SELECT row_id AS id,"
        "  coalesce(cells ->> 'address', '') AS address, coalesce(cells ->> 'customer', '')"
        "  AS customer FROM fieldbook.row WHERE \"table\" = 'job';"
        "CREATE VIEW office.built_on_it AS SELECT address, customer FROM office.job;"
    )
