"""Every screen looks as it was accepted: its picture at three sizes in both themes.

A difference is looked at, then accepted:

    python tests/draw_contact_sheets.py     draws all pictures on a few sheets
    pytest -n 0 tests/snapshots --snapshot-update
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator, Sequence
from pathlib import Path

import pytest
import time_machine
from crew import Crew, at_the_truck
from one_day import on_one_day
from picture_tour import DEMO_TOURS, Tour, of_a_new_book, of_the_palette, of_what_differs
from pictures_on_disk import PicturesOnDisk, read_picture
from screen_picture import ScreenPicture, words_of
from syrupy.assertion import SnapshotAssertion
from textual.theme import Theme
from two_books import two_books

from fieldbook.actions import cells as entering
from fieldbook.screens.widgets.theme import THEMES

SIZES = ((80, 24), (120, 40), (60, 18))
_LAPTOP = re.compile(r"\blaptop [0-9a-f]{6}\b")
"""Another laptop is called by the first digits of its origin, which is made at random."""
_RENEW = (
    "Look at them (python tests/draw_contact_sheets.py), then accept them: "
    "pytest -n 0 tests/snapshots --snapshot-update"
)


@pytest.fixture(autouse=True)
def clock(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Iterator[time_machine.Traveller]:
    """Stand in a folder of its own, whose path is in no picture, on one day."""
    monkeypatch.chdir(tmp_path)
    with on_one_day() as clock:
        yield clock


@pytest.fixture
def kept(snapshot: SnapshotAssertion) -> SnapshotAssertion:
    """The accepted pictures."""
    return snapshot.use_extension(PicturesOnDisk)


async def compare(
    crew: Crew, tour: Tour, kept: SnapshotAssertion, themes: Sequence[Theme] = THEMES
) -> None:
    """Take the pictures of a tour, and say which differ from those accepted, and in what words."""
    different = []
    async for screen in tour(crew):
        for theme in themes:
            crew.app.theme = theme.name
            for size in SIZES:
                name = f"{screen.replace(' ', '-')}-{size[0]}x{size[1]}-{theme.name}"
                drawn = await picture(crew, size)
                if kept(name=name) != drawn:
                    different.append(f"{name}: {in_what(read_picture(kept, name), drawn)}")
        crew.app.theme = themes[0].name
        await crew.pilot.resize_terminal(*SIZES[0])
    assert not different, "\n".join(["These pictures differ.", *different, _RENEW])


async def picture(crew: Crew, size: tuple[int, int]) -> str:
    """The screen in front at a size, once it stands still: on a busy machine it follows later."""
    await crew.pilot.resize_terminal(*size)
    drawn = before = ""
    while not drawn or drawn != before or crew.app.screen.size != size:
        await crew.pilot.pause()
        before = drawn
        drawn = ScreenPicture(crew.app.screen._compositor.render_strips()).svg()
    return _LAPTOP.sub("laptop 0a1b2c", drawn)


def in_what(before: str | None, now: str) -> str:
    """In what words two pictures differ; else it is the colours or the places of words."""
    if before is None:
        return "there is no accepted picture."
    lines = difflib.unified_diff(words_of(before), words_of(now), n=0, lineterm="")
    changed = [line for line in lines if line[:3] not in ("---", "+++") and line[:2] != "@@"]
    return "\n    " + "\n    ".join(changed) if changed else "the words are the same."


@pytest.mark.parametrize("tour", DEMO_TOURS, ids=lambda tour: tour.__name__)
async def test_the_screens_of_the_demo(tour: Tour, kept: SnapshotAssertion) -> None:
    async with at_the_truck(None) as crew:
        await compare(crew, tour, kept)


async def test_the_screens_of_a_new_book(kept: SnapshotAssertion) -> None:
    async with at_the_truck(Path("book.sqlite")) as crew:
        await compare(crew, of_a_new_book, kept)


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
async def test_the_palette(theme: Theme, kept: SnapshotAssertion) -> None:
    # A crew's palette closes before the theme changes, and Textual does not repaint an open one.
    async with at_the_truck(None) as crew:
        crew.app.theme = theme.name
        await compare(crew, of_the_palette, kept, [theme])


async def test_the_screens_of_what_differs(
    kept: SnapshotAssertion, clock: time_machine.Traveller
) -> None:
    with two_books(Path("here.sqlite"), Path("there.sqlite")) as pair:
        entering.enter_text(pair.here, pair.static, "62")
        clock.shift(60)
        entering.enter_text(pair.there, pair.static, "64")
        pair.exchange()
    async with at_the_truck(Path("here.sqlite")) as crew:
        await compare(crew, of_what_differs, kept)


def test_a_difference_is_said_in_words() -> None:
    def of(line: str) -> str:
        return f'<svg>\n<text y="14"><tspan class="c0" x="9">{line}</tspan></text>\n</svg>'

    assert "-5 &amp; 6" not in in_what(of("5 &amp; 6"), of("7"))
    assert in_what(of("5 &amp; 6"), of("7")).split("\n    ")[1:] == ["-5 & 6", "+7"]
    assert in_what(of("5"), of("5")) == "the words are the same."
    assert in_what(None, of("5")) == "there is no accepted picture."
