"""Keys from keys.toml: they work everywhere, and every line that shows keys shows these."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

from crew import Crew

from fieldbook.screens.app import FieldbookApp
from fieldbook.screens.board.board_screen import BoardScreen
from fieldbook.screens.job.job_screen import JobScreen
from fieldbook.screens.pages.picture_page import PicturePage
from fieldbook.screens.palette.palette_screen import PaletteScreen
from fieldbook.screens.widgets.dialogs import Read

OTHERS = """[keys]
undo = ["alt+z"]
new = ["f10"]
flags = ["alt+f"]
wire_map = ["alt+j"]
explain = ["alt+t"]
day = ["alt+d"]
palette = ["alt+p"]
"""


@asynccontextmanager
async def with_keys(book: Path, written: str) -> AsyncIterator[Crew]:
    file = book.parent / "keys.toml"
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(written, encoding="utf-8")
    app = FieldbookApp(book, keys_file=file)
    app.stops_on_fault = True
    try:
        async with app.run_test(size=(110, 24)) as pilot:
            crew = Crew(app, pilot)
            await crew.wait_until(lambda: app._book is not None and len(app.screen_stack) > 2)
            yield crew
    finally:
        FieldbookApp(None)


async def test_other_keys_work_and_are_shown(book_file: Path) -> None:
    async with with_keys(book_file, OTHERS) as crew:
        await crew.enter("ab")
        assert "F10 new property" in crew.screen()
        assert "F10  adds one" in crew.screen()
        await crew.press("insert")
        assert isinstance(crew.app.screen, BoardScreen)
        await crew.press("f10")
        await crew.enter("12 Elm Street")
        await crew.stand_on("supply", "static_psi")
        await crew.enter("62")
        assert "Alt+F flags" in crew.screen()
        await crew.press("ctrl+z")
        assert crew.open_job.job.supply is not None
        await crew.press("alt+z")
        assert crew.open_job.job.supply is None
        await crew.press("alt+j")
        assert isinstance(crew.app.screen, PicturePage)
        await crew.press("escape", "alt+p")
        assert isinstance(crew.app.screen, PaletteScreen)
        await crew.press("escape", "alt+t")
        assert isinstance(crew.app.screen, Read)
        told = await crew.read_page()
        assert "Alt+Z" in told
        assert "Alt+J" in told
        assert "Ctrl+Z" not in told
        # The list of flags has the focus: the screen's own bindings take the key.
        await crew.press("escape", "alt+f", "alt+j")
        assert isinstance(crew.app.screen, PicturePage)


async def test_faults_are_told_once_and_the_usual_keys_hold(book_file: Path) -> None:
    async with with_keys(book_file, "[keys]\nundo = ['u']\nfrobnicate = ['f10']\n") as crew:
        await crew.wait_until(lambda: isinstance(crew.app.screen, Read))
        told = " ".join(crew.screen().replace("│", " ").split())
        assert "“u”: it begins a value in a cell" in told
        assert "no action “frobnicate”" in told
        await crew.press("escape")
        await crew.enter("ab")
        assert "Ins new property" in crew.screen()
        await crew.press("insert")
        await crew.enter("12 Elm Street")
        assert isinstance(crew.app.screen, JobScreen)
