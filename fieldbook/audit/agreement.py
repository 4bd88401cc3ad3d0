"""A measured figure held against one that was worked out, by how far each of them may be off."""

from __future__ import annotations

from math import hypot
from typing import Literal, NamedTuple

AgreementWord = Literal["agrees", "differs", "can't tell"]


class Figure(NamedTuple):
    """A figure that may be lower by `down` and higher by `up`; neither is negative."""

    value: float
    down: float
    up: float

    @property
    def error(self) -> float:
        """How far it may be off on its worse side."""
        return max(self.down, self.up)


class Agreement(NamedTuple):
    """What a measured figure says of the one that was worked out; all in the unit of both.

    difference: measured less worked out. error: how far the difference may be off on the side that
    counts. matters: the least difference that somebody would act on.
    """

    word: AgreementWord
    difference: float
    error: float
    matters: float

    @property
    def is_small(self) -> bool:
        """Whether the difference is real, but less than somebody would act on."""
        return self.word == "differs" and abs(self.difference) < self.matters


def agreement(measured: Figure, worked_out: Figure, matters: float) -> Agreement:
    """Whether a measured figure agrees with what was worked out.

    The errors are independent, so they add as squares. A difference larger than its error is real,
    however wide the error is. A smaller one agrees only where the error is no wider than what
    matters: with a wider one nobody can tell.
    """
    difference = measured.value - worked_out.value
    over = hypot(measured.down, worked_out.up)
    under = hypot(measured.up, worked_out.down)
    error = over if difference > 0.0 else under
    if abs(difference) > error:
        word: AgreementWord = "differs"
    else:
        word = "agrees" if max(over, under) <= matters else "can't tell"
        error = max(over, under)
    return Agreement(word, difference, error, matters)
