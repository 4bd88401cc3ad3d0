"""Letters belong to the cells: none of them undoes, signs, jumps or leaves."""

from __future__ import annotations

from pathlib import Path

import pytest
from crew import at_a_new_property, at_the_truck
from textual.events import Key

from fieldbook.actions import rows
from fieldbook.screens.board.board_screen import BoardScreen
from fieldbook.screens.sheets import COUNTS
from fieldbook.screens.widgets.dialogs import AskLine, Choose, Read

LETTERS = "abdfnqstuxyUN07.,:;+-*/=#<@~€é"
"""Without the signs that Textual reports where a terminal sends Alt and a digit, such as "£"."""


@pytest.mark.parametrize("typed", ["about 60", "unknown", "fine", "no gauge", "x"])
async def test_words_in_a_number_cell_are_refused_and_nothing_else_happens(
    book_file: Path, typed: str
) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.enter("62")
        await crew.stand_on("supply", "static_psi")
        acts = crew.book.book.count_undoable(crew.open_job.job_id)
        await crew.enter(typed)
        assert crew.at == ("supply", "static_psi")
        assert "Static pressure" in crew.said
        await crew.press("escape")
        assert crew.open_job.job.supply is not None
        assert crew.open_job.job.supply.static_psi == 62
        assert crew.book.book.count_undoable(crew.open_job.job_id) == acts


@pytest.mark.parametrize("place", ["street", "boxes", "ground", "controller", "desk"])
async def test_no_letter_sign_or_digit_changes_a_place_by_itself(place: str) -> None:
    async with at_the_truck(None) as crew:
        await crew.open("31 Mill Street", place)
        kinds = {(cell.fact.kind, type(cell.press).__name__): cell.at for cell in crew.cells}
        one_key = {("tick", "NoneType"), ("colour", "NoneType")}
        for at in (at for kind, at in kinds.items() if kind not in one_key):
            job, screen = crew.open_job.job, crew.app.screen
            await crew.stand_on(at.table, at.column, at.row_id)
            here = crew.cell.at
            await crew.type(LETTERS)
            if isinstance(crew.app.screen, Choose) or crew.place.sheet.typing:
                await crew.press("escape")
            assert crew.app.screen is screen
            assert crew.place.place == place
            assert crew.cell.at == here
            assert crew.open_job.job == job


async def test_y_and_n_answer_a_tick_and_other_letters_say_so(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.stand_on("supply", "behind_regulator")
        for letter, value in (("y", True), ("n", False), ("u", False), ("7", False)):
            await crew.press(letter)
            assert crew.open_job.job.supply is not None
            assert crew.open_job.job.supply.behind_regulator is value
            assert crew.at == ("supply", "behind_regulator")
        assert "y is yes" in crew.said


async def test_the_question_mark_explains_first_and_is_text_later(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.stand_on("supply", "static_where")
        await crew.press("question_mark")
        assert isinstance(crew.app.screen, Read)
        await crew.press("escape")
        await crew.type("tap?")
        await crew.press("f1")
        assert isinstance(crew.app.screen, Read)
        await crew.press("escape", "enter")
        assert crew.open_job.job.supply is not None
        assert crew.open_job.job.supply.static_where == "tap?"


async def test_a_command_keeps_what_is_being_typed_and_undo_drops_it(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.type("62")
        await crew.press("ctrl+z")
        assert crew.open_job.job.supply is None
        assert "Left as it was" in crew.said
        await crew.type("63")
        await crew.press("alt+4")
        assert crew.place.place == "controller"
        assert crew.open_job.job.supply is not None
        assert crew.open_job.job.supply.static_psi == 63
        await crew.go("street")
        await crew.stand_on("supply", "static_psi")
        await crew.type("about 60")
        await crew.press("alt+4")
        assert crew.place.place == "street"
        assert "about 60" in crew.screen()


async def test_a_click_keeps_what_is_being_typed(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.type("62")
        y = next(no for no, line in enumerate(crew.screen().splitlines()) if "Meter size" in line)
        await crew.pilot.click(offset=(30, y))
        assert crew.at == ("supply", "meter_size")
        assert crew.open_job.job.supply is not None
        assert crew.open_job.job.supply.static_psi == 62


async def test_the_next_open_cell_is_found_across_the_places(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        rows.add_zone(crew.open_job)
        wanting = {place for place, count in COUNTS.items() if count(crew.open_job.job).open}
        wanted = sum(count(crew.open_job.job).open for count in COUNTS.values())
        seen = set()
        for _ in range(wanted):
            await crew.press("ctrl+n")
            assert crew.cell.open
            seen.add((crew.place.place, crew.cell.at))
        assert {place for place, _ in seen} == wanting
        assert len(wanting) > 3
        assert len(seen) == wanted


async def test_a_letter_on_the_board_begins_a_search(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.press("ctrl+b", "x")
        assert isinstance(crew.app.screen, AskLine)
        assert "Find a property" in crew.screen()
        await crew.press("backspace")
        await crew.enter("elm")
        assert isinstance(crew.app.screen, BoardScreen)
        assert "1 found" in crew.screen()
        await crew.press("escape")
        await crew.pilot.press(*"unknown", "enter")
        await crew.pilot.pause()
        assert "No property matches" in crew.screen()


@pytest.mark.parametrize("before", ["escape", "ctrl+f"])
async def test_alt_and_a_digit_as_a_terminal_sends_it_works_from_tabs_and_flags(
    book_file: Path, before: str
) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.press(before, "trade_mark_sign")
        assert crew.place.place == "boxes"
        await crew.press("down")
        assert crew.place.focused is crew.place.sheet


async def test_letters_typed_ahead_of_a_list_narrow_it(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.stand_on("supply", "service_class")
        for letter in "copper l":
            key = "space" if letter == " " else letter
            crew.place.sheet.post_message(Key(key, letter))
        await crew.pilot.pause()
        assert isinstance(crew.app.screen, Choose)
        await crew.press("enter")
        assert crew.open_job.job.supply is not None
        assert crew.open_job.job.supply.service_class == "copper L"
