"""The history page (F5): every value that the cell under the cursor ever held."""

from __future__ import annotations

from pathlib import Path

import pytest
from crew import Crew, at_a_new_property

from fieldbook.screens.pages.page import Page
from fieldbook.screens.sheets.presses import Add

SIZES = ((80, 24), (120, 40), (60, 18))


async def read_history(crew: Crew) -> str:
    await crew.press("f5")
    assert isinstance(crew.app.screen, Page)
    told = " ".join(crew.screen().split())
    await crew.press("f5")
    assert crew.place
    return told


@pytest.mark.parametrize("size", SIZES)
async def test_f5_lists_what_a_cell_held(book_file: Path, size: tuple[int, int]) -> None:
    async with at_a_new_property(book_file, size) as crew:
        await crew.stand_on("supply", "static_psi")
        assert "Nothing was ever entered here." in await read_history(crew)
        for typed in ("62", "64"):
            await crew.stand_on("supply", "static_psi")
            await crew.enter(typed)
        await crew.stand_on("supply", "static_psi")
        told = await read_history(crew)
        for words in ("History of", "62 psi -> 64 psi", "blank -> 62 psi", "this laptop"):
            assert words in told, words
        assert told.index("62 psi -> 64 psi") < told.index("blank -> 62 psi")


async def test_hostile_text_shows_as_it_is(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.stand_on("job", "access")
        await crew.enter("[/] [b]gate[/b]")
        await crew.stand_on("job", "access")
        assert "blank -> [/] [b]gate[/b]" in await read_history(crew)


async def test_a_cell_that_adds_a_row_has_no_history_and_says_so(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.go("ground")
        adding = next(cell for cell in crew.cells if isinstance(cell.press, Add))
        await crew.stand_on(adding.at.table, adding.at.column, adding.at.row_id)
        await crew.press("f5")
        assert "has no history of its own" in crew.said
