"""Hands have few keys to press: a whole property, and the everyday tasks, are held to figures."""

from __future__ import annotations

from pathlib import Path

import pytest
from count_keys import MOST_KEYS, whole_property
from examples import few_or_many
from key_tasks import BUDGETS, keys_of, listed_in

DEVELOPERS = Path(__file__).parent.parent.parent / "DEVELOPERS.md"
PER_ZONE = 60
"""Keys that a zone more may take: its name, length, wires, splice, ohms, flush, backfill, test."""


@few_or_many("zones", 2, 6)
async def test_a_whole_property_takes_few_keys(
    book_file: Path, zones: int, capsys: pytest.CaptureFixture[str]
) -> None:
    parts = await whole_property(book_file, zones)
    whole = sum(parts.values())
    with capsys.disabled():
        print(f"\n{zones} zones: {whole} keys ({parts})")
    assert whole <= MOST_KEYS - PER_ZONE * (6 - zones)


@pytest.mark.parametrize("task", BUDGETS)
async def test_an_everyday_task_takes_no_more_keys_than_it_may(task: str) -> None:
    most, way = BUDGETS[task]
    assert await keys_of(way) <= most


def test_the_budgets_are_listed_for_developers() -> None:
    assert listed_in(DEVELOPERS) == {task: most for task, (most, _) in BUDGETS.items()}
