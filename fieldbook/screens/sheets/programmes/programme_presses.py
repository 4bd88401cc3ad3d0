"""What Enter does on the lines of the programme sheet that are no plain cells."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from fieldbook.actions.keymap import KeyWords


@dataclass(frozen=True)
class OpenMonth:
    """Enter opens the month: each day with what may run and what does."""

    keys: ClassVar[KeyWords] = (("Enter", "open the month"),)


@dataclass(frozen=True)
class ChoosePlaceRule:
    """Enter chooses the place whose published watering rule the job is held to."""

    keys: ClassVar[KeyWords] = (("Enter", "choose"),)


@dataclass(frozen=True)
class WorkOutProgrammes:
    """Enter replaces the programmes by those worked out from the needs and the local rule."""

    keys: ClassVar[KeyWords] = (("Enter", "work them out"),)


ProgrammePress = OpenMonth | WorkOutProgrammes | ChoosePlaceRule
"""Presses that open a page, a question or an act over the place."""
