"""The guided first job: each step is asked for, done by its keys, noticed; Esc leaves it."""

from __future__ import annotations

from collections.abc import AsyncIterator, Sequence
from contextlib import asynccontextmanager
from functools import partial
from pathlib import Path

import pytest
from crew import Crew, at_a_new_property

from fieldbook.screens.app import FieldbookApp
from fieldbook.screens.guide.guide import Guide, GuideLine
from fieldbook.screens.guide.steps import END, STEPS
from fieldbook.screens.job.place_tabs import PlaceTabs

KEYS: tuple[Sequence[str], ...] = (
    ("down", "down", "down", "enter"),
    ("ctrl+f",),
    ("enter",),
    ("o",),
    ("ctrl+z",),
    ("ctrl+y",),
    ("f1",),
    ("escape",),
    ("ctrl+p", *"wire", "space", *"map", "enter"),
    ("escape",),
    ("ctrl+b",),
    ("down", "enter"),
    ("home", "space"),
)
"""The keys of each step, as its line asks for them."""


@asynccontextmanager
async def guided(size: tuple[int, int]) -> AsyncIterator[tuple[Crew, Guide]]:
    app = FieldbookApp(None, guided=True)
    app.stops_on_fault = True
    async with app.run_test(size=size) as pilot:
        crew = Crew(app, pilot)
        await crew.wait_until(lambda: app._guide is not None)
        assert app._guide is not None
        yield crew, app._guide


def _is_past(guide: Guide, number: int) -> bool:
    return guide.number > number


def test_there_are_about_ten_steps_each_one_short() -> None:
    assert len(STEPS) == len(KEYS)
    assert 10 <= len(STEPS) <= 14
    assert all(len(step.say) <= 130 for step in STEPS)


@pytest.mark.parametrize("size", [(80, 24), (60, 18), (120, 40)])
async def test_the_guide_goes_from_step_to_step(size: tuple[int, int]) -> None:
    async with guided(size) as (crew, guide):
        for number, keys in enumerate(KEYS):
            assert guide.number == number, (guide.sentence, crew.screen())
            seen = " ".join(crew.screen().split())
            assert guide.sentence.split(":")[0][:40] in seen
            await crew.press(*keys)
            await crew.wait_until(partial(_is_past, guide, number))
        assert guide.sentence == END
        assert len(STEPS) <= crew.keys <= 50
        await crew.press("escape")
        assert crew.app._guide is None
        assert not crew.app.screen.query(GuideLine)


async def test_a_step_is_not_passed_before_it_is_done() -> None:
    async with guided((80, 24)) as (crew, guide):
        await crew.press("enter")
        await crew.pilot.pause(0.4)
        assert guide.number == 0
        await crew.press("ctrl+b", "down", "down", "down", "enter")
        await crew.wait_until(lambda: guide.number == 1)


async def test_esc_leaves_the_guide_and_closes_dialogs_first() -> None:
    async with guided((80, 24)) as (crew, guide):
        await crew.press("f1", "escape")
        assert crew.app._guide is guide
        await crew.press("escape")
        assert crew.app._guide is None
        assert not crew.app.screen.query(GuideLine)
        await crew.press("enter")
        await crew.press("escape")
        assert isinstance(crew.app.focused, PlaceTabs)


async def test_the_palette_starts_it_on_the_demo() -> None:
    async with guided((80, 24)) as (crew, guide):
        await crew.press("escape")
        await crew.press("enter", "ctrl+p", *"guided", "enter")
        await crew.wait_until(lambda: crew.app._guide is not None)
        assert crew.app._guide is not guide


async def test_it_does_not_begin_on_a_crew_s_own_book(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        entry = next(e for e in crew.app.palette_entries(crew.app.screen) if "Guided" in e.label)
        assert "fieldbook demo --guided" in entry.not_now
        entry.run()
        assert crew.app._guide is None


async def test_only_where_esc_leaves_the_guide_the_line_says_so() -> None:
    async with guided((80, 24)) as (crew, guide):

        def said() -> str:
            return str(crew.app.screen.query_one(GuideLine).render())

        guide.look()
        await crew.pilot.pause()
        assert "Esc leaves the guide" in said()
        for opens in ("f1", "insert"):
            await crew.press(opens)
            guide.look()
            await crew.pilot.pause()
            assert not guide.leaves()
            assert "Esc leaves the guide" not in said()
            await crew.press("escape")
