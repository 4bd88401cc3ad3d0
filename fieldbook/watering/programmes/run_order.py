"""The order in which items run so that the fewest minutes pass with nothing running.

An item runs `cycles` times for `length_min` each, with at least `lag_min` from the end of one cycle
to the start of its next. One item runs at a time. While it soaks, others run. The search goes
through the orders by branch and bound and says whether it went through all of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from fieldbook.trade.watering.clock_times import ALL_DAY, DAY_MIN, span


@dataclass(frozen=True)
class Item:
    """What runs as one piece, in whole minutes: a zone, or zones that follow each other."""

    name: str
    cycles: int
    length_min: int
    lag_min: int = 0


@dataclass(frozen=True)
class Slot:
    """One cycle of an item, from `start_min` after midnight."""

    name: str
    start_min: int
    length_min: int

    @property
    def end_min(self) -> int:
        """When it ends."""
        return self.start_min + self.length_min


@dataclass(frozen=True)
class Order:
    """The cycles in their order. `proven` says that no other order ends earlier."""

    slots: tuple[Slot, ...]
    proven: bool

    @property
    def end_min(self) -> int:
        """When the last cycle ends."""
        return max((slot.end_min for slot in self.slots), default=0)

    @property
    def pause_min(self) -> int:
        """Minutes between the first start and the last end in which nothing runs."""
        if not self.slots:
            return 0
        return self.end_min - self.slots[0].start_min - sum(slot.length_min for slot in self.slots)


_MOST_STEPS = 5_000


def best_order(items: Sequence[Item], allowed: int = ALL_DAY, first_min: int = 0) -> Order | None:
    """The order that ends earliest in the allowed minutes of a day, from `first_min` on.

    `allowed` has a bit for each minute of the day. None if no order fits. With nothing to wait for
    the order is that of the items.
    """
    held = [item for item in items if item.cycles and item.length_min]
    allowed &= ~span(0, first_min)
    if sum(item.cycles * item.length_min for item in held) > allowed.bit_count():
        return None
    # An order that ends after the last allowed minute is none.
    search = _Search(held, allowed, best_end=allowed.bit_length() + 1)
    search.go(first_min, [item.cycles for item in held], [0] * len(held), [])
    if search.best is None:
        return None
    return Order(tuple(search.best), search.steps < _MOST_STEPS)


@dataclass
class _Search:
    items: list[Item]
    allowed: int
    best_end: int
    best: list[Slot] | None = None
    steps: int = 0
    seen: dict[tuple[tuple[int, ...], tuple[int, ...]], int] = field(default_factory=dict)

    def go(self, at: int, left: list[int], ready: list[int], made: list[Slot]) -> None:
        """Try every item next, the one with the longest way to go first."""
        if not any(left):
            if at < self.best_end:
                self.best, self.best_end = list(made), at
            return
        self.steps += 1
        if self.steps >= _MOST_STEPS or self._least_end(at, left, ready) >= self.best_end:
            return
        if self._was_here(at, left, ready):
            return
        for place in sorted(range(len(left)), key=lambda one: self._rank(one, at, left, ready)):
            if not left[place]:
                continue
            item = self.items[place]
            start = self._fit(max(at, ready[place]), item.length_min)
            if start is None:
                continue
            end = start + item.length_min
            left[place] -= 1
            before, ready[place] = ready[place], end + item.lag_min
            made.append(Slot(item.name, start, item.length_min))
            self.go(end, left, ready, made)
            made.pop()
            left[place] += 1
            ready[place] = before

    def _rank(self, place: int, at: int, left: list[int], ready: list[int]) -> tuple[int, int, int]:
        """Those that are ready first; of them the one whose remaining way is longest."""
        item = self.items[place]
        way = left[place] * item.length_min + max(left[place] - 1, 0) * item.lag_min
        return max(ready[place] - at, 0), -way, place

    def _least_end(self, at: int, left: list[int], ready: list[int]) -> int:
        """No order from here can end before this."""
        work = sum(many * item.length_min for many, item in zip(left, self.items, strict=True))
        least = at + work
        for place, item in enumerate(self.items):
            if left[place]:
                way = left[place] * item.length_min + (left[place] - 1) * item.lag_min
                least = max(least, max(at, ready[place]) + way)
        return least

    def _was_here(self, at: int, left: list[int], ready: list[int]) -> bool:
        """Whether the same was left at an earlier minute already; then nothing better comes."""
        # What is ready already is ready now, whenever it became so.
        waits = tuple(max(one, at) if many else 0 for one, many in zip(ready, left, strict=True))
        key = (tuple(left), waits)
        if self.seen.get(key, DAY_MIN + 1) <= at:
            return True
        self.seen[key] = at
        return False

    def _fit(self, at: int, length: int) -> int | None:
        """The first minute from `at` on from which `length` minutes are allowed, if any."""
        while at + length <= DAY_MIN:
            barred = ~(self.allowed >> at) & ((1 << length) - 1)
            if not barred:
                return at
            # Go on after the last barred minute of the stretch.
            at += barred.bit_length()
        return None
