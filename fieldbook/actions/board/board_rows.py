"""What the board lists, read by the window that a screen shows: every property, or those found."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from fieldbook.actions.board.line import BoardLine
from fieldbook.store.board.lines import BoardLines, Kept

_ON_THE_LINE = ("address", "customer")
Tell = Callable[[Iterable[Kept]], list[BoardLine]]
"""Kept lines as they are to be shown today."""


class Listed:
    """Every property on the board, in its order; as many as there were when it was made."""

    def __init__(self, kept: BoardLines, tell: Tell) -> None:
        """Only their number is read yet."""
        self._kept, self._tell = kept, tell
        self._count = kept.count()

    def __len__(self) -> int:
        """How many there are."""
        return self._count

    def window(self, first: int, most: int) -> list[BoardLine]:
        """So many lines from the place `first`, which counts from 0."""
        return self._tell(self._kept.page(first, most))

    def place_of(self, job_id: str) -> int | None:
        """Where a property stands; None when it is not listed."""
        return self._kept.place_of(job_id)


class Found(Listed):
    """The properties that held every word typed when it was looked for."""

    def __init__(self, kept: BoardLines, tell: Tell, typed: str) -> None:
        """Only their numbers are read yet."""
        super().__init__(kept, tell)
        self.typed = typed.strip()
        self._numbers = kept.find(typed)

    def __len__(self) -> int:
        """How many there are."""
        return len(self._numbers)

    def window(self, first: int, most: int) -> list[BoardLine]:
        """So many of them from the place `first`."""
        return self._tell(self._kept.numbered(self._numbers[first : first + most]))

    def place_of(self, job_id: str) -> int | None:
        """Where a property stands among them."""
        number = self._kept.number_of(job_id)
        return self._numbers.index(number) if number in self._numbers else None

    def renew(self) -> None:
        """Add what holds the words now, leave out what is gone, all in the order of now.

        What no longer holds them stays: it is the property that was just entered on.
        """
        held = {*self._numbers, *self._kept.find(self.typed)}
        self._numbers = [number for number in self._kept.numbers() if number in held]

    def where(self, job_id: str) -> str:
        """Where a property holds what was typed, beside what its line shows anyway."""
        texts = self._kept.texts(job_id, self.typed)
        others = [f"{label}: {text}" for label, text in texts if label not in _ON_THE_LINE]
        return ", ".join(others[:2])
