"""Random keys, pastes, clicks and sizes over every screen with hostile data: the app goes on.

Whatever is pressed, no screen faults and the book is sound. The gate presses 1,500 keys;
`pytest -m slow tests/acceptance/test_soak.py` presses 100,000.
"""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest
from crew import Crew, at_the_truck
from hostile import HOSTILE, fill_hostile
from textual import events

from fieldbook.actions.keymap import ACTIONS
from fieldbook.store.mending.verify import verify

SIZES = ((80, 24), (60, 18), (120, 40), (200, 60), (20, 5), (40, 10))
FEW = [(seed, 250) for seed in range(6)]
MANY = [pytest.param(seed, 5_000, marks=pytest.mark.slow) for seed in range(20)]
"""Seeds and keys. Of the same seed the many keys begin with the few."""
KEYS = sorted({key for action in ACTIONS for key in action.keys} - {"ctrl+q"})
MOVES = ("up", "down", "left", "right", "home", "end", "pageup", "pagedown", "tab", "shift+tab")
PLAIN = (*"0123456789.,-/'\"abcdefghnoqrstuwxyz?", "space", "backspace", "delete")
TEXTS = (
    *HOSTILE,
    "62",
    "about 60",
    "1 1/4",
    "12'6\"",
    "15H",
    "2026-04-20",
    "red\tblue\n1\t2\t3",
    "a,b\n\n;;\t",
    "x" * 300,
    "\x1b[2J\x07",
)


def some_keys(random: Random) -> list[str]:
    """A few keys as a hand presses them: moves, an entry, commands, or an impatient Enter."""
    kind = random.random()
    if kind < 0.35:
        return [random.choice(MOVES) for _ in range(random.randint(1, 6))]
    if kind < 0.6:
        entry = [random.choice(PLAIN) for _ in range(random.randint(1, 5))]
        return [*entry, random.choice(("enter", "tab", "escape", "down"))]
    if kind < 0.8:
        return [random.choice(KEYS)]
    return [random.choice(("enter", "space", "escape", "enter"))]


async def soak(crew: Crew, random: Random, keys: int) -> None:
    """Press so many keys; now and then paste, click, or change the size of the terminal."""
    pressed = 0
    while pressed < keys:
        kind = random.random()
        if kind < 0.03:
            await crew.pilot.resize_terminal(*random.choice(SIZES))
        elif kind < 0.08:
            crew.app.post_message(events.Paste(random.choice(TEXTS)))
        elif kind < 0.12:
            width, height = crew.app.size
            where = (random.randrange(width), random.randrange(height))
            await crew.pilot.click(offset=where)
        else:
            group = some_keys(random)
            pressed += len(group)
            crew.burst(*group)
            if random.random() < 0.2:
                await crew.pilot.pause()
        if not crew.app.is_running:
            break
    await crew.pilot.pause()


@pytest.mark.parametrize(("seed", "keys"), [*FEW, *MANY])
async def test_no_keys_end_the_app_or_fault_a_screen(
    book_file: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    seed: int,
    keys: int,
) -> None:
    monkeypatch.chdir(tmp_path)
    fill_hostile(book_file)
    async with at_the_truck(book_file, SIZES[seed % 3]) as crew:
        await crew.press("enter")
        await soak(crew, Random(seed), keys)
        assert crew.app.is_running
        assert crew.app._exception is None
        assert list(Path().rglob("*fault*")) == []
    assert list(verify(book_file).wrong) == []
