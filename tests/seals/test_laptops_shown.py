"""The list of laptops, as the command prints it and as the app shows it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from crew import at_the_truck
from sealed_trucks import laptops, through
from textual.widgets import Static
from trucks import Truck

from fieldbook.cli.main import main
from fieldbook.screens.pages.laptops_page import LaptopsPage
from fieldbook.store.paths import STATE_VARIABLE
from fieldbook.store.seals.key_words import words_of
from fieldbook.store.seals.laptop_key import public_key


def run(truck: Truck, *words: str) -> Result:
    """Run the command on a truck's book, on its machine."""
    machine = {STATE_VARIABLE: str(truck.state)}
    return CliRunner().invoke(main, ["--book", str(truck.path), "laptops", *words], env=machine)


@pytest.fixture
def met(trucks: tuple[Truck, Truck], stick: Path) -> tuple[Truck, Truck]:
    """Two trucks that have exchanged."""
    trucks[0].begin("12 Elm Street")
    for truck in trucks:
        through(truck, stick)
    trucks[1].begin("3 Alder Lane")
    for truck in (*reversed(trucks), trucks[1]):
        through(truck, stick)
    return trucks


def test_the_command_lists_the_laptops(met: tuple[Truck, Truck]) -> None:
    one, other = met
    words = laptops(other)["truck CD"].words
    listed = run(one).output
    assert "truck AB: this laptop." in listed
    assert (
        f"truck CD: not compared.\n  Its four words are {words}.\n  4 entries, signed up to 4;"
        in listed
    )
    document = json.loads(run(one, "--json").output)
    assert document["unsigned"] == {"origins": 0, "entries": 0}
    (there,) = [found for found in document["laptops"] if found["name"] == "truck CD"]
    with other.open():
        assert there["key"] == public_key()
    assert (there["words"], there["state"], there["entries"]) == (words, "not compared", 4)


def test_the_command_marks_a_laptop_by_its_name_or_its_words(met: tuple[Truck, Truck]) -> None:
    one, other = met
    words = laptops(other)["truck CD"].words
    assert run(one, "--compared", "truck cd").output == f"Compared: truck CD ({words}).\n"
    assert "truck CD: compared by AB on " in run(one).output
    assert run(one, "--distrust", words.split()[0]).output == f"Distrusted: truck CD ({words}).\n"
    assert "truck CD: distrusted by AB on " in run(one).output
    assert "Trusted again: truck CD" in run(one, "--trust", "truck CD").output
    assert "truck CD: compared by AB on " in run(one).output
    for wrong in (("--distrust", "truck AB"), ("--compared", "nobody")):
        refused = run(one, *wrong)
        assert refused.exit_code == 2
        assert "Traceback" not in refused.output


def test_a_laptop_is_renamed(met: tuple[Truck, Truck], stick: Path) -> None:
    one, other = met
    assert run(one, "--name", "the red truck").exit_code == 0
    one.begin("9 Oak Street")
    for truck in (one, other):
        through(truck, stick)
    assert "the red truck: not compared." in run(other).output


def test_a_book_that_met_nobody_says_so(tmp_path: Path) -> None:
    assert "No laptop has signed anything here yet" in run(Truck(tmp_path, "AB")).output


async def test_the_page_marks_the_laptop_highlighted(
    met: tuple[Truck, Truck], monkeypatch: pytest.MonkeyPatch
) -> None:
    one, other = met
    monkeypatch.setenv(STATE_VARIABLE, str(one.state))
    async with at_the_truck(one.path, (80, 24)) as crew:
        await crew.press("alt+e")
        page = crew.app.screen
        assert isinstance(page, LaptopsPage)

        def told() -> str:
            return str(page.query_one("#progress", Static).content)

        assert "truck AB: this laptop." in told()
        await crew.press("down")
        assert laptops_words(other) in told()
        await crew.press("c")
        assert "truck CD: compared by AB on " in told()
        await crew.press("d", "down", "enter")
        assert "truck CD: distrusted by AB on " in told()
        await crew.press("t")
        assert "truck CD: compared by AB on " in told()
        await crew.press("up", "d", "down", "enter")
        assert "this laptop's own key" in told()
        await crew.press("escape")
        assert not isinstance(crew.app.screen, LaptopsPage)


def laptops_words(truck: Truck) -> str:
    """The words of a truck's own key."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv(STATE_VARIABLE, str(truck.state))
        return words_of(public_key())
