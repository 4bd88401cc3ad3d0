"""What a key does, the mouse does: cells, tabs, flags, lists, the keys at the foot."""

from __future__ import annotations

from pathlib import Path

import pytest
from crew import at_a_new_property, at_the_truck, click_on

from fieldbook.actions.keymap import ACTIONS, key_name, key_named
from fieldbook.records.base import PLACES
from fieldbook.screens.board.board_screen import BoardScreen
from fieldbook.screens.job.flags import FlagList
from fieldbook.screens.pages.picture_page import PicturePage
from fieldbook.screens.palette.palette_screen import PaletteScreen
from fieldbook.screens.widgets.dialogs import AskLine, Choose, Read


async def test_a_cell_is_ticked_chosen_and_typed_into_by_a_second_click(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.enter("62")
        await crew.stand_on("supply", "static_psi")
        await click_on(crew, "Gauge behind", right=28)
        assert crew.at == ("supply", "behind_regulator")
        assert crew.open_job.job.supply is not None
        assert crew.open_job.job.supply.behind_regulator is None
        await click_on(crew, "Gauge behind", right=28)
        assert crew.open_job.job.supply.behind_regulator is True
        await click_on(crew, "Meter size", right=28, times=2)
        assert isinstance(crew.app.screen, Choose)
        await click_on(crew, "5/8 x 3/4")
        assert crew.open_job.job.supply.meter_size == "5/8 x 3/4"
        await click_on(crew, "Static pressure", right=28, times=2)
        assert crew.place.sheet.typing


async def test_a_click_on_a_sign_off_asks_and_signs_nothing_by_itself() -> None:
    async with at_the_truck(None) as crew:
        await crew.open("14 Alder Lane", "desk")
        job = crew.open_job.job
        await crew.stand_on("sign_off", "sign off", "handover")
        await click_on(crew, "Handed over", right=36)
        assert isinstance(crew.app.screen, Choose)
        await click_on(crew, "Not now")
        assert crew.open_job.job == job


async def test_a_wire_is_taken_by_a_click_on_its_words() -> None:
    async with at_the_truck(None) as crew:
        await crew.open("208 Quarry Road", "boxes")
        await crew.stand_on("valve", "colour")
        await click_on(crew, "red RD")
        assert [valve.colour for valve in crew.open_job.job.valves if valve.colour] == ["red"]


async def test_a_plus_row_is_added_by_a_second_click(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.go("ground")
        await crew.stand_on("zone", "add zone")
        await click_on(crew, "+ a zone")
        assert len(crew.open_job.job.zones) == 1


async def test_places_and_flags_are_clicked() -> None:
    async with at_the_truck(None) as crew:
        await crew.open("31 Mill Street", "street")
        names = ("Street", "Boxes", "Ground", "Contr.", "Desk", "Service")
        for name, place in reversed(list(zip(names, PLACES, strict=True))):
            y = crew.screen().splitlines()[1].index(name)
            await crew.pilot.click(offset=(y, 1))
            await crew.pilot.pause()
            assert crew.place.place == place
        await click_on(crew, "not checked |")
        assert crew.app.screen.focused is crew.place.query_one(FlagList)
        await crew.pilot.click("#flags", offset=(5, 0))
        await crew.pilot.pause()
        assert not crew.place.has_class("flags-open")
        first = crew.open_job.findings[0]
        assert crew.cell.at.row_id == first.at.row_id


async def test_the_keys_at_the_foot_are_clicked(book_file: Path) -> None:
    async with at_a_new_property(book_file, (160, 40)) as crew:
        await crew.enter("62")
        await click_on(crew, "Ctrl+Z undo")
        assert crew.open_job.job.supply is None
        await click_on(crew, "F2 wire map")
        assert isinstance(crew.app.screen, PicturePage)
        await click_on(crew, "Esc close")
        await crew.press("f1")
        assert isinstance(crew.app.screen, Read)
        await crew.press("escape", "ctrl+b")
        assert isinstance(crew.app.screen, BoardScreen)
        await click_on(crew, "Ins new property")
        assert isinstance(crew.app.screen, AskLine)
        await crew.press("escape")
        await click_on(crew, "12 Elm Street")
        assert crew.place.place in PLACES


async def test_dialogs_have_their_keys_to_click(book_file: Path) -> None:
    async with at_the_truck(book_file, (60, 18)) as crew:
        await crew.type("ab")
        await click_on(crew, "Enter begin")
        await click_on(crew, "Ins new property")
        await click_on(crew, "Esc leave")
        await click_on(crew, "Ins new property")
        await crew.type("12 Elm Street")
        await click_on(crew, "Enter keep")
        assert crew.open_job.job.job.address == "12 Elm Street"
        await crew.stand_on("supply", "meter_size")
        await crew.press("enter")
        await click_on(crew, "Esc leave")
        assert crew.open_job.job.supply is None
        await crew.press("enter", "1")
        await click_on(crew, "Enter take it")
        assert crew.open_job.job.supply is not None


@pytest.mark.parametrize("size", [(60, 18), (80, 24)])
async def test_a_click_on_the_first_line_lists_every_action(
    book_file: Path, size: tuple[int, int]
) -> None:
    async with at_a_new_property(book_file, size) as crew:
        await crew.pilot.click(offset=(3, 0))
        assert isinstance(crew.app.screen, PaletteScreen)
        await crew.press("escape", "ctrl+b")
        await crew.pilot.click(offset=(3, 0))
        assert isinstance(crew.app.screen, PaletteScreen)


@pytest.mark.parametrize("key", sorted({key for action in ACTIONS for key in action.keys}))
def test_every_key_that_is_shown_can_be_clicked(key: str) -> None:
    assert key_named(key_name(key)) == key


@pytest.mark.parametrize("words", ["type", "letter", "1-5", "y n", "Tab Up Down", "zone number"])
def test_words_that_name_no_key_are_not_clicked(words: str) -> None:
    assert key_named(words) is None
