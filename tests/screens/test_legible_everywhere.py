"""Every screen, page and dialog is legible in both themes and without colours.

WCAG 2.2: text 4.5:1 (1.4.3), what shows where the cursor is 3:1 (1.4.11).
"""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable
from pathlib import Path

import pytest
from crew import Crew, at_the_truck
from legible import contrast, legible, painted, rgb
from rich.segment import Segment

from fieldbook.screens.job.flags import FlagList
from fieldbook.screens.widgets.theme import THEMES

Pages = Callable[[Crew], AsyncIterator[str]]
WAYS = (*(theme.name for theme in THEMES), "no colour")


async def in_the_way(crew: Crew, way: str) -> None:
    """Show the board in a theme, or in the first one without colours."""
    if way in {theme.name for theme in THEMES} and crew.app.theme != way:
        await crew.press("ctrl+l")


@pytest.fixture
def way(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    """A theme's name, or "no colour" with NO_COLOR set before the app begins."""
    found: str = request.param
    if found == "no colour":
        monkeypatch.setenv("NO_COLOR", "1")
    return found


async def pages_of_the_board(crew: Crew) -> AsyncIterator[str]:
    """The board and what opens over it."""
    yield "board"
    for key, name in (("f7", "day"), ("f1", "keys"), ("ctrl+e", "exchange")):
        await crew.press(key)
        yield name
        await crew.press("escape")
    for key, name in (("slash", "find"), ("insert", "new"), ("delete", "remove"), ("f9", "who")):
        await crew.press(key)
        yield name
        await crew.press("escape")
    await crew.press("ctrl+p", "down")
    yield "palette"
    await crew.press("escape")


async def pages_of_the_property(crew: Crew) -> AsyncIterator[str]:
    """The pages, questions and lists that open over the places of a property."""
    await crew.open("31 Mill Street", "controller")
    for key in ("f2", "f3", "f4", "f5", "f10", "f1"):
        await crew.press(key)
        yield key
        await crew.press("escape")
    await crew.press("ctrl+f")
    yield "flags"
    await crew.press("escape", "ctrl+p", "down")
    yield "palette"
    await crew.press("escape")
    await crew.stand_on("terminal", "colour")
    await crew.press("enter")
    yield "list"
    await crew.press("escape")
    await crew.go("ground")
    for column in ("sign", "flush"):
        await crew.stand_on({"sign": "backfill", "flush": "flush"}[column], column)
        await crew.press("space")
        yield f"{column} asked"
        await crew.press("escape")
    await crew.go("boxes")
    await crew.stand_on("valve", "coil_ohm")
    await crew.type("1-5")
    yield "a field"
    await crew.press("enter")
    yield "a refusal"
    await crew.press("escape", "left", "left", "left", "left", "left", "left", "left")
    yield "a name"
    await crew.go("desk")
    await crew.stand_on("zone", "water")
    yield "water"
    await crew.press("enter")
    yield "zone"
    await crew.press("escape", "escape", "right")
    yield "tabs"


@pytest.mark.parametrize("way", WAYS, indirect=True)
@pytest.mark.parametrize("pages", [pages_of_the_board, pages_of_the_property])
async def test_every_page_is_legible(way: str, pages: Pages) -> None:
    async with at_the_truck(None) as crew:
        await in_the_way(crew, way)
        async for name in pages(crew):
            for segment in painted(crew):
                assert legible(segment), (name, segment)


@pytest.mark.parametrize("way", WAYS, indirect=True)
async def test_first_run_and_the_guide_are_legible(way: str, book_file: Path) -> None:
    async with at_the_truck(book_file) as crew:
        for segment in painted(crew):
            assert legible(segment), segment
    async with at_the_truck(None) as crew:
        await in_the_way(crew, way)
        crew.app.start_guide()
        await crew.wait_until(lambda: "Esc leaves the guide" in crew.screen())
        for segment in painted(crew):
            assert legible(segment), segment


def on_line(crew: Crew, text: str) -> list[Segment]:
    """The segments of the first painted line that holds a text."""
    strips = crew.app.screen._compositor.render_strips()
    return next(list(strip) for strip in strips if text in strip.text)


def stands_out(segments: list[Segment], word: str) -> bool:
    """Whether a word has another background than most of its line, by 3:1."""
    backs = {part.text.strip(): rgb(part.style.bgcolor) for part in segments if part.style}
    own = next(back for text, back in backs.items() if word in text)
    return all(back == own or contrast(back, own) >= 3 for back in backs.values())


@pytest.mark.parametrize("way", WAYS, indirect=True)
async def test_row_and_cell_of_the_cursor_stand_out_by_mark_and_by_background(way: str) -> None:
    async with at_the_truck(None) as crew:
        await in_the_way(crew, way)
        await crew.press("down")
        here, other = on_line(crew, "208 Quarry Road"), on_line(crew, "14 Alder Lane")
        assert "".join(part.text for part in here).startswith("> ")
        assert here[0].style
        assert other[0].style
        assert contrast(rgb(here[0].style.bgcolor), rgb(other[0].style.bgcolor)) >= 3
        await crew.press("up")
        await crew.open("31 Mill Street", "boxes")
        await crew.stand_on("valve_box", "location")
        line = on_line(crew, "front bed")
        assert line[0].text.startswith("> ")
        assert stands_out(line, "front bed")
        await crew.press("ctrl+f")
        assert crew.app.screen.focused is crew.place.query_one(FlagList)
        first = on_line(crew, "STOP Yellow")
        assert "".join(part.text for part in first).strip().startswith("> ! STOP")


async def test_doubt_wrong_and_proven_differ_in_sign_word_and_colour() -> None:
    async with at_the_truck(None) as crew:
        await crew.open("31 Mill Street", "controller")
        doubtful = next(part for part in on_line(crew, "2 or 3?") if "2 or 3?" in part.text)
        by_colours = next(part for part in on_line(crew, "~ zone 1") if "~ zone 1" in part.text)
        wrong = next(part for part in on_line(crew, "! STOP") if "! STOP" in part.text)
        await crew.go("desk")
        await crew.stand_on("zone", "water")
        await crew.press("down")
        proven = next(part for part in on_line(crew, "+ good") if "+ good" in part.text)
        parts = (doubtful, by_colours, wrong, proven)
        colours = [rgb(part.style.color) for part in parts if part.style]
        assert len(set(colours)) == len(parts)


async def test_a_note_is_not_red() -> None:
    async with at_the_truck(None) as crew:
        await crew.open("31 Mill Street", "boxes")
        await crew.stand_on("valve", "slack_loop")
        await crew.press("n", "ctrl+f", "end")
        notes = [part for part in painted(crew) if "- NOTE" in part.text]
        await crew.press("home")
        await crew.press("down")
        notes += [part for part in painted(crew) if "- NOTE" in part.text]
        stops = [part for part in painted(crew) if "! STOP" in part.text]
        assert notes
        assert stops
        for note in notes:
            assert note.style
            assert stops[-1].style
            assert note.style.color != stops[-1].style.color
