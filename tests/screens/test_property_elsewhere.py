"""The board where not all is listed or here: fetching on opening, putting away, handed over."""

from __future__ import annotations

from pathlib import Path

import pytest
from chosen_trucks import Chosen, through
from crew import at_the_truck
from trucks import Truck

from fieldbook.records.base import new_id
from fieldbook.screens.board.board_screen import BoardScreen
from fieldbook.screens.job.job_screen import JobScreen
from fieldbook.store.changes import Add
from fieldbook.store.paths import OFFICE_VARIABLE, STATE_VARIABLE


@pytest.fixture
def laptop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A book that holds 3 Alder Lane, and has a line of 12 Elm Street from a stick."""
    stick = tmp_path / "stick"
    stick.mkdir()
    one, two = Truck(tmp_path, "AB"), Chosen(tmp_path, "CD")
    one.begin("12 Elm Street")
    two.begin("3 Alder Lane")
    through(one, stick)
    through(two, stick)
    monkeypatch.setenv(STATE_VARIABLE, str(two.state))
    monkeypatch.delenv(OFFICE_VARIABLE, raising=False)
    return two.path


async def test_opening_a_property_that_is_elsewhere_fetches_it(laptop: Path) -> None:
    async with at_the_truck(laptop) as crew:
        assert "(not here)" in crew.screen().splitlines()[2]
        assert "12 Elm Street" in crew.screen().splitlines()[2]
        await crew.press("home")
        assert "Not here: Enter fetches it." in crew.screen()
        await crew.press("enter")
        await crew.wait_until(lambda: isinstance(crew.app.screen, JobScreen))
        await crew.press("ctrl+b")
        assert "(not here)" not in crew.screen().splitlines()[2]


async def test_without_the_stick_nothing_happens_but_a_sentence(
    laptop: Path, tmp_path: Path
) -> None:
    (tmp_path / "stick").rename(tmp_path / "gone")
    async with at_the_truck(laptop) as crew:
        await crew.press("home", "enter")
        assert isinstance(crew.app.screen, BoardScreen)
        assert "put the stick of" in crew.screen()


async def test_a_property_is_put_away_on_the_board(laptop: Path) -> None:
    async with at_the_truck(laptop) as crew:
        await crew.press("home", "enter")
        await crew.wait_until(lambda: isinstance(crew.app.screen, JobScreen))
        await crew.press("ctrl+b")
        await crew.press("alt+h", "down", "enter")
        assert "12 Elm Street is put away" in crew.screen()
        assert "(not here)" in crew.screen().splitlines()[2]


async def test_what_is_handed_over_leaves_the_list_and_is_still_found(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    one = Truck(tmp_path, "AB")
    elm = one.begin("12 Elm Street")
    one.begin("3 Alder Lane")
    signed = {"kind": "handover", "state": "signed", "signed_at": "2026-05-04T10:00:00+00:00"}
    with one.open() as book:
        book.commit(elm, [Add("sign_off", new_id(), signed)], by="AB", what="signed")
    monkeypatch.setenv(STATE_VARIABLE, str(one.state))
    async with at_the_truck(one.path) as crew:
        await crew.wait_for_board()
        assert "12 Elm Street" in crew.screen()
        await crew.press("alt+c")
        assert "12 Elm Street" not in crew.screen()
        assert "Alt+C lists it again" in crew.screen()
    async with at_the_truck(one.path) as crew:
        assert "12 Elm Street" not in crew.screen()
        await crew.type("e")
        await crew.enter("lm")
        assert "12 Elm Street" in crew.screen()
        await crew.press("escape", "alt+c")
        assert "12 Elm Street" in crew.screen()
