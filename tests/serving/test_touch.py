"""A day's entries on a tablet, by touch alone, in a real browser at tablet size."""

from __future__ import annotations

from pathlib import Path

import pytest
from a_browser import CHROMIUM, a_browser
from a_server import a_server

from fieldbook.actions.properties import fill_demo, find_properties
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.store.book import Book

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(CHROMIUM is None, reason="There is no Chromium to show the page."),
]
_LEAST_TARGET_PX = 24
"""WCAG 2.2, 2.5.8: the least size of a target."""
_SHOWS_KEYBOARD = "document.querySelector('.xterm-helper-textarea').inputMode !== 'none'"


@pytest.fixture
def demo_file(book_file: Path) -> Path:
    with Book(book_file) as book:
        fill_demo(book)
    return book_file


def recorded(path: Path, address: str) -> LoadedJob:
    """What the closed book holds of a property."""
    with Book(path) as book:
        (job,) = find_properties(book, (address,))
        return book.load(job.id)


async def test_a_wire_a_terminal_a_flush_and_a_pressure_by_touch(demo_file: Path) -> None:
    with a_server("--book", str(demo_file), "serve") as served:
        async with a_browser() as tablet:
            await tablet.open(served.url)
            await tablet.tap_on("208 Quarry Road")
            await tablet.tap_on("2 Valve boxes")
            # A tap moves to the cell; its colours stand below, and a tap takes one.
            await tablet.tap_on("1 terrace", right=18)
            await tablet.tap_on("red RD", right=1)
            await tablet.wait_for("red RD", gone=True)
            await tablet.tap_on("4 Controller")
            await tablet.tap_on("Terminal 1", right=16)
            await tablet.tap_on("red RD", right=1)
            await tablet.wait_for("red RD", gone=True)
            await tablet.tap_on("1 Street")
            await tablet.wait_for("[1 Street]")
            await tablet.swipe(300, 200, 400)
            await tablet.tap_on("Static pressure", right=26, times=2)
            await tablet.until(bool, _SHOWS_KEYBOARD)
            await tablet.tap_on("Ctrl+U wipe")
            await tablet.type("71")
            await tablet.press("Enter")
            await tablet.wait_for("71 psi")
            await tablet.until(lambda shown: not shown, _SHOWS_KEYBOARD)
            await tablet.press("Esc")
            await tablet.press("Esc")
            await tablet.tap_on("5 Harbor View")
            # It opens at the next step, which is the flush: another tap there ticks all of it.
            await tablet.tap_on("2 lee side -", right=11)
            await tablet.wait_for("2 lee side flushed")
            ours = (f"http://{served.host}/", f"ws://{served.host}/")
            assert [one for one in tablet.addresses if not one.startswith(ours)] == []
            assert [said for said in tablet.complaints if "WebGL" not in said] == []
    quarry, harbor = recorded(demo_file, "208 Quarry"), recorded(demo_file, "5 Harbor")
    assert [valve.colour for valve in quarry.valves if valve.colour] == ["red"]
    assert [end.colour for end in quarry.terminals if end.colour] == ["red"]
    assert quarry.supply is not None
    assert quarry.supply.static_psi == 71
    assert all(flush.ran_clear for flush in harbor.flushes)


async def test_everything_is_big_enough_and_every_action_is_a_tap_away(demo_file: Path) -> None:
    with a_server("--book", str(demo_file), "serve") as served:
        async with a_browser() as tablet:
            await tablet.open(served.url)
            await tablet.wait_for("31 Mill Street")
            height = await tablet.script(
                "document.querySelector('.xterm-screen').clientHeight / cells.height"
            )
            assert isinstance(height, int | float)
            assert height >= _LEAST_TARGET_PX
            heights = "[...document.querySelectorAll('nav button')].map((one) => one.clientHeight)"
            buttons = await tablet.script(heights)
            assert isinstance(buttons, list)
            assert min(buttons) >= 44
            await tablet.tap_on("31 Mill Street")
            await tablet.wait_for("4 Controller")
            await tablet.press("All")
            await tablet.wait_for("Type what to do")
            await tablet.type("wire")
            await tablet.tap_on("Wire map")
            await tablet.wait_for("Where each wire leads")
            await tablet.press("Esc")
            await tablet.wait_for("4 Controller")
            await tablet.tap_on("2 stops, 1")
            await tablet.tap_on("Esc back")
            await tablet.wait_for("Esc back", gone=True)
            await tablet.tap_on("31 Mill Street")
            await tablet.wait_for("Type what to do, or where to go")


async def test_a_page_that_may_not_enter_says_why(demo_file: Path) -> None:
    with a_server("--book", str(demo_file), "serve") as served:
        async with a_browser() as tablet, a_browser() as other:
            await tablet.open(served.url)
            await tablet.wait_for("31 Mill Street")
            await other.open(served.url)
            said = await other.script("document.body.textContent")
            assert str(said).startswith("The key in this address was used already")
            await tablet.press("Esc")
            await tablet.script("socket.close()")
            await tablet.until(bool, "!document.getElementById('said').hidden")
            await tablet.press("Open it here")
            await tablet.wait_for("31 Mill Street")
