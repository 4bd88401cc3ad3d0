"""A crew at the keyboard: it presses keys on the real app, counts them and reads the screen."""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from pathlib import Path

from textual import events
from textual.containers import VerticalScroll
from textual.css.model import RuleSet
from textual.css.stylesheet import Stylesheet
from textual.css.types import CSSLocation
from textual.keys import _character_to_key
from textual.pilot import Pilot

from fieldbook.actions.board.board_row import BoardRow
from fieldbook.actions.open_job import OpenJob
from fieldbook.checks.finding import CellRef
from fieldbook.screens.app import FieldbookApp
from fieldbook.screens.board.board_screen import BoardScreen
from fieldbook.screens.first_run import FirstRun
from fieldbook.screens.job.hint import HintLine
from fieldbook.screens.job.job_screen import JobScreen
from fieldbook.screens.open_book import OpenBook
from fieldbook.screens.sheets.sheet import Cell

_KEY_OF = {" ": "space", "/": "slash", "?": "question_mark", "+": "plus", "'": "apostrophe"}

_parse_rules = Stylesheet._parse_rules
_PARSED: dict[tuple[object, ...], list[RuleSet]] = {}


def _parsed_once(
    sheet: Stylesheet,
    css: str,
    read_from: CSSLocation,
    is_default_rules: bool = False,
    tie_breaker: int = 0,
    scope: str = "",
) -> list[RuleSet]:
    """Textual's own parser, once a run for each style: every app would parse the same ones."""
    key = (css, read_from, is_default_rules, tie_breaker, scope, *sorted(sheet._variables.items()))
    if key not in _PARSED:
        _PARSED[key] = _parse_rules(sheet, css, read_from, is_default_rules, tie_breaker, scope)
    return _PARSED[key]


Stylesheet._parse_rules = _parsed_once  # type: ignore[method-assign, assignment]


class Crew:
    """The app as its user meets it; `keys` counts the keys pressed."""

    def __init__(self, app: FieldbookApp, pilot: Pilot[None]) -> None:
        """Use `at_the_truck` to make one."""
        self.app, self.pilot = app, pilot
        self.keys = 0

    async def press(self, *keys: str) -> None:
        """Press keys one after another, as Textual names them."""
        self.keys += len(keys)
        await self.pilot.press(*keys)
        await self.pilot.pause()

    def burst(self, *keys: str) -> None:
        """Send keys as a terminal does when the app is behind: none waits for the one before."""
        driver = self.app._driver
        assert driver is not None
        self.keys += len(keys)
        for key in keys:
            character = " " if key == "space" else key if len(key) == 1 else None
            name = _character_to_key(key) if len(key) == 1 else key
            driver.send_message(events.Key(name, character))

    async def type(self, text: str) -> None:
        """Type a text, a key a character: the first may open a field, the rest come at once."""
        if not text:
            return
        self.keys += 1
        await self.pilot.press(_KEY_OF.get(text[0], text[0]))
        if text[1:]:
            await self.pilot.pause()
            self.burst(*text[1:])
            await self.pilot.pause()

    async def enter(self, *texts: str) -> None:
        """Type each text and press Enter; an empty one is an Enter that moves on."""
        for text in texts:
            await self.type(text)
            await self.press("enter")

    async def sign(self) -> None:
        """Sign the sign-off under the cursor: Space asks, and the first answer is no."""
        await self.press("space", "down", "enter")

    async def fill(self, *texts: str) -> None:
        """Type each text and press Enter, then go on to the next cell that wants a value."""
        for text in texts:
            await self.enter(text)
            if not self.cell.open:
                await self.press("ctrl+n")

    async def go(self, place: str) -> None:
        """Go to a place by Alt and its number."""
        number = ("street", "boxes", "ground", "controller", "desk", "service").index(place) + 1
        await self.press(f"alt+{number}")

    async def stand_on(self, table: str, column: str, row_id: str = "") -> Cell:
        """Put the cursor on a cell, as the arrow keys would; it must be at this place."""
        cell = next(
            cell
            for cell in self.cells
            if (cell.at.table, cell.at.column) == (table, column) and row_id in ("", cell.at.row_id)
        )
        assert self.place.cursor.go_to(CellRef(table, cell.at.row_id, column))
        self.place.show_cursor()
        await self.pilot.pause()
        return cell

    async def open(self, address: str, place: str) -> None:
        """Open a property of the board at a place."""
        at = [line.address for line in self.lines].index(address)
        await self.press(*["down"] * at, "enter")
        await self.go(place)

    async def read_page(self) -> str:
        """Every word of the open page, top to bottom, once its results are there."""
        await self.app.workers.wait_for_complete()
        await self.pilot.pause()
        seen = ""
        scroll = self.app.screen.query_one(VerticalScroll)
        # A page ends somewhere; the limit only ends a test that would hang.
        for _ in range(60):
            seen += self.screen()
            if scroll.scroll_y >= scroll.max_scroll_y:
                break
            scroll.scroll_relative(y=6, animate=False)
            await self.pilot.pause()
        return " ".join(seen.replace("│", " ").split())

    async def wait_until(self, met: Callable[[], bool]) -> None:
        """Let the app work until something holds. The limit only ends a test that would hang."""
        for _ in range(3000):
            await self.pilot.pause(0.01)
            if met():
                await self.pilot.pause()
                return
        raise AssertionError(self.screen())

    async def wait_for_board(self) -> None:
        """Let the app work until its book is open and it shows the board, or asks for initials."""

        def there() -> bool:
            screen = self.app.screen
            asked = isinstance(screen, FirstRun) and screen.focused is not None
            return self.app._book is not None and (asked or isinstance(screen, BoardScreen))

        await self.wait_until(there)

    @property
    def place(self) -> JobScreen:
        """The open property."""
        screen = self.app.screen
        assert isinstance(screen, JobScreen), screen
        return screen

    @property
    def lines(self) -> list[BoardRow]:
        """Every row of the board."""
        return self.book.board.all_rows()

    @property
    def open_job(self) -> OpenJob:
        """The job of the open property."""
        return self.place.open_job

    @property
    def book(self) -> OpenBook:
        """The open book."""
        assert self.app._book is not None
        return self.app._book

    @property
    def cell(self) -> Cell:
        """The cell under the cursor."""
        found = self.place.cursor.cell
        assert found is not None
        return found

    @property
    def cells(self) -> list[Cell]:
        """Every cell of the place."""
        rows = [line.row for line in self.place.cursor.lines if line.row is not None]
        return [cell for row in rows for cell in row.cells]

    @property
    def at(self) -> tuple[str, str]:
        """Table and column of the cell under the cursor."""
        return self.cell.at.table, self.cell.at.column

    @property
    def said(self) -> str:
        """The hint line: what it says about the cell, or why an entry was refused."""
        return str(self.place.query_one(HintLine).render())

    @property
    def flags(self) -> list[str]:
        """The names of the flags of the open property."""
        return [finding.code for finding in self.open_job.findings]

    def screen(self) -> str:
        """Every line of the screen in front, as it is painted."""
        strips = self.app.screen._compositor.render_strips()
        return "\n".join(strip.text for strip in strips)


@asynccontextmanager
async def at_the_truck(path: Path | None, size: tuple[int, int] = (80, 24)) -> AsyncIterator[Crew]:
    """Run the app on a book, or on the demo where the path is None, until the block ends."""
    app = FieldbookApp(path)
    app.stops_on_fault = True
    async with app.run_test(size=size) as pilot:
        crew = Crew(app, pilot)
        await crew.wait_for_board()
        yield crew


@asynccontextmanager
async def at_a_new_property(
    path: Path, size: tuple[int, int] = (80, 24), address: str = "12 Elm Street"
) -> AsyncIterator[Crew]:
    """Run the app, past first run, at a new property whose next thing is the static pressure."""
    async with at_the_truck(path, size) as crew:
        await crew.enter("ab")
        await crew.press("insert")
        await crew.enter(address)
        assert crew.at == ("job", "customer")
        await crew.enter("A. Customer")
        await crew.stand_on("supply", "static_psi")
        crew.keys = 0
        yield crew


async def click_on(crew: Crew, words: str, *, times: int = 1, right: int = 0) -> None:
    """Click on the first place of the screen where these words stand, or to the right of it."""
    lines = crew.screen().splitlines()
    y = next(no for no, line in enumerate(lines) if words in line)
    for _ in range(times):
        await crew.pilot.click(offset=(lines[y].index(words) + right, y))
        await crew.pilot.pause()
