"""`fieldbook keep`: what is held and why, one fetched, one put away, those not used for a year."""

from __future__ import annotations

import json
from datetime import date, timedelta
from pathlib import Path

from chosen_trucks import Chosen, through
from click.testing import CliRunner, Result
from trucks import Truck

from fieldbook.actions.holding.leave_laptop import put_away_unused
from fieldbook.cli.main import main
from fieldbook.store.paths import STATE_VARIABLE


def command(truck: Truck, *words: str) -> Result:
    """Run a command on a truck's laptop."""
    environment = {STATE_VARIABLE: str(truck.state), "FIELDBOOK_OFFICE": ""}
    return CliRunner(env=environment).invoke(main, ["--book", str(truck.path), *words])


def test_a_property_is_fetched_and_put_away_by_its_address(tmp_path: Path, stick: Path) -> None:
    one, two = Truck(tmp_path, "AB"), Truck(tmp_path, "CD")
    one.begin("12 Elm Street")
    two.begin("9 Oak Street")
    through(one, stick)
    said = command(two, "keep", "--chosen").output
    assert said.startswith("This laptop holds chosen properties: 1 of 1 that it knows of.")
    assert "changed here on" in said
    through(two, stick)
    assert "not here" in command(two, "jobs").output
    refused = command(two, "check", "Elm")
    assert (refused.exit_code, "fieldbook keep --add fetches it" in refused.output) == (2, True)
    assert "came from" in command(two, "keep", "--add", "elm").output
    assert command(two, "check", "Elm").exit_code in (0, 1)
    again = command(two, "keep", "--add", "elm")
    assert (again.exit_code, "on this laptop already" in again.output) == (2, True)
    assert "is put away" in command(two, "keep", "--put-away", "Elm").output
    held = json.loads(command(two, "keep", "--json").output)
    assert [row["address"] for row in held["held"]] == ["9 Oak Street"]
    assert [row["address"] for row in held["elsewhere"]] == ["12 Elm Street"]
    assert held["elsewhere"][0]["put_away"]
    assert "holds 1 of 2 properties" in command(two, "verify").output
    assert "the whole firm" in command(two, "keep", "--whole").output


def test_what_was_not_used_for_a_year_is_put_away_where_it_may_be(
    tmp_path: Path, stick: Path
) -> None:
    one, two = Truck(tmp_path, "AB"), Chosen(tmp_path, "CD")
    elm, oak = one.begin("12 Elm Street"), one.begin("9 Oak Street")
    own = two.begin("3 Alder Lane")
    through(one, stick)
    through(two, stick)
    two.fetch(elm)
    two.fetch(oak)
    with two.open() as book:
        assert put_away_unused(book).startswith("0 properties are put away")
        said = put_away_unused(book, date.today() + timedelta(days=400))
        assert said.startswith("2 properties are put away")
        assert "1 more stay: they are not handed over" in said
        assert book.keeping.held_jobs() == [own]
