"""The palette finds every action and every place by part of its name, whatever was typed ahead."""

from __future__ import annotations

from pathlib import Path

import pytest
from crew import Crew, at_a_new_property, at_the_truck

from fieldbook.actions import rows
from fieldbook.actions.cells import enter_text
from fieldbook.actions.conflicts.settling import NOTHING_DIFFERS
from fieldbook.actions.keymap import offered
from fieldbook.checks.finding import CellRef
from fieldbook.screens.board.board_screen import BoardScreen
from fieldbook.screens.palette.entries import Entry, score
from fieldbook.screens.palette.palette_screen import PaletteScreen


def entry(label: str, not_now: str = "") -> Entry:
    return Entry(label, "", lambda: None, not_now)


@pytest.mark.parametrize(
    ("typed", "first", "second"),
    [
        ("undo", "Undo", "Undo the last entry"),
        ("zone 3", "Zone 3 lawn", "Lateral of zone 3"),
        ("the", "The day", "Go to the street"),
        ("ap", "Wire map", "Caption of it"),
        ("back", "Backfill", "Put back"),
    ],
)
def test_the_better_match_comes_first(typed: str, first: str, second: str) -> None:
    if typed == "ap":
        assert 0 < score(typed, entry(second)) <= score(typed, entry(first))
        return
    assert score(typed, entry(first)) > score(typed, entry(second)) > 0


def test_every_word_must_be_there_and_what_can_be_done_comes_first() -> None:
    assert score("zone 4", entry("Zone 3 lawn")) == 0
    assert score("lawn zone", entry("Zone 3 lawn")) > 0
    assert score("undo", entry("Undo")) > score("undo", entry("Undo", "nothing to undo"))


async def choose(crew: Crew, typed: str) -> None:
    """Open the palette, type, and take the first line, without waiting in between."""
    await crew.press("ctrl+p")
    await crew.type(typed)
    await crew.press("enter")
    await crew.wait_until(lambda: not isinstance(crew.app.screen, PaletteScreen))


async def test_the_palette_runs_actions_and_jumps_to_places(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        for number in range(1, 4):
            zone_id = rows.add_zone(crew.open_job)
            enter_text(crew.open_job, CellRef("zone", zone_id, "name"), f"lawn [/] {number}")
        rows.add_box(crew.open_job)
        crew.place.redraw()
        await choose(crew, "zone 3 lawn")
        assert crew.cell.at.place == "ground"
        assert (crew.at, crew.cell.text) == (("zone", "name"), "lawn [/] 3")
        await choose(crew, "valve box a")
        assert crew.at == ("valve_box", "location")
        await choose(crew, "terminal 2")
        assert crew.at == ("terminal", "colour")
        await choose(crew, "sign-offs")
        assert crew.at == ("sign_off", "sign off")
        await choose(crew, "undo")
        assert crew.said.startswith("Undone: valve box added")
        assert not crew.open_job.job.valve_boxes


async def test_a_flag_is_a_place_to_go(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.enter("92")
        assert "static too high" in crew.flags
        await crew.go("desk")
        await choose(crew, "flag, fix")
        assert crew.place.place == "street"
        assert crew.at == ("supply", "static_psi")


async def test_an_action_that_can_not_be_done_is_listed_with_why(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.press("ctrl+p")
        await crew.type("settle")
        await crew.app.workers.wait_for_complete()
        await crew.pilot.pause()
        assert f"not now: {NOTHING_DIFFERS}" in crew.screen()
        await crew.press("enter")
        await crew.wait_until(lambda: not isinstance(crew.app.screen, PaletteScreen))
        assert crew.said == NOTHING_DIFFERS


async def test_every_action_is_listed_where_it_is_offered(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        labels = {entry.label for entry in crew.place.palette_entries()}
        assert {action.label for action in offered("place")} <= labels
        await crew.press("ctrl+b")
        assert isinstance(crew.app.screen, BoardScreen)
        labels = {entry.label for entry in crew.app.palette_entries(crew.app.screen_stack[-1])}
        assert {action.label for action in offered("board")} <= labels


async def test_a_property_is_found_from_the_board_and_from_another_one(book_file: Path) -> None:
    async with at_a_new_property(book_file, address="1 Oak Lane") as crew:
        await crew.press("ctrl+b")
        await choose(crew, "new property")
        await crew.enter("2 Pine [/] Road")
        assert crew.open_job.job.job.address == "2 Pine [/] Road"
        await choose(crew, "oak")
        assert crew.open_job.job.job.address == "1 Oak Lane"
        assert len(crew.app.screen_stack) == 3
        await crew.press("ctrl+b")
        await choose(crew, "pine")
        assert crew.open_job.job.job.address == "2 Pine [/] Road"


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (60, 18)])
async def test_the_palette_is_legible_at_every_size(size: tuple[int, int]) -> None:
    async with at_the_truck(None, size) as crew:
        await crew.press("ctrl+p")
        await crew.app.workers.wait_for_complete()
        await crew.pilot.pause()
        assert "Open the property" in crew.screen()
        await crew.press("escape")
        assert isinstance(crew.app.screen, BoardScreen)


CELLS = (
    ("ground", "zone", "number"),
    ("ground", "zone", "name"),
    ("ground", "pipe_run", "size"),
    ("ground", "backfill", "sign"),
    ("ground", "backfill", "cover_in"),
    ("controller", "terminal", "colour"),
    ("street", "supply", "none of these"),
    ("street", "job", "phone"),
)


@pytest.mark.parametrize(("place", "table", "column"), CELLS)
async def test_what_the_palette_says_can_not_be_done_is_refused_in_the_same_words(
    book_file: Path, place: str, table: str, column: str
) -> None:
    async with at_a_new_property(book_file) as crew:
        rows.repeat_run(crew.open_job, rows.add_zone(crew.open_job))
        await crew.go(place)
        await crew.stand_on(table, column)
        acts = crew.book.book.count_undoable(crew.open_job.job_id)
        refused = [entry for entry in crew.place.palette_entries() if entry.not_now]
        assert refused
        for entry in refused:
            entry.run()
            await crew.pilot.pause()
            assert crew.said == entry.not_now, entry.label
        assert crew.book.book.count_undoable(crew.open_job.job_id) == acts
