"""Every column has a head that says what it holds: no lone letter, on no sheet and no board."""

from __future__ import annotations

import pytest
from builders import sound_job

from fieldbook.records.base import PLACES, Place
from fieldbook.screens.board.columns import heads
from fieldbook.screens.sheets import BUILDERS


@pytest.mark.parametrize("place", PLACES)
def test_no_head_of_a_sheet_is_a_lone_letter(place: Place) -> None:
    sections = BUILDERS[place](sound_job(3), "us").sections
    named = [head for section in sections for head in section.heads]
    assert named
    assert [head for head in named if len(head.strip()) == 1] == []


@pytest.mark.parametrize("room", [56, 76, 96, 116, 156])
def test_no_head_of_the_board_is_a_lone_letter_or_cut(room: int) -> None:
    named = [head for head in heads(room).split("  ") if head.strip()]
    assert len(named) >= 4
    assert [head for head in named if len(head.strip()) == 1 or "…" in head] == []
