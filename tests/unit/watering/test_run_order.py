"""The order of runs with the fewest minutes of pause, against a search through every minute."""

from __future__ import annotations

from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fieldbook.trade.watering.clock_times import DAY_MIN, minutes_of
from fieldbook.watering.programmes.run_order import Item, Order, best_order


def earliest_end(items: tuple[Item, ...], allowed: int, horizon: int) -> int | None:
    """The earliest end, by trying at every minute to start any item or to start none."""

    @cache
    def end(at: int, left: tuple[int, ...], waits: tuple[int, ...]) -> int | None:
        if not any(left):
            return at
        if at >= horizon:
            return None
        found = [end(at + 1, left, tuple(max(wait - 1, 0) for wait in waits))]
        for place, item in enumerate(items):
            stop = at + item.length_min
            open_now = all(allowed >> minute & 1 for minute in range(at, stop))
            if left[place] and not waits[place] and open_now:
                now_left = tuple(n - (p == place) for p, n in enumerate(left))
                now_waits = tuple(
                    item.lag_min * (now_left[p] > 0) if p == place else max(w - item.length_min, 0)
                    for p, w in enumerate(waits)
                )
                found.append(end(stop, now_left, now_waits))
        known = [one for one in found if one is not None]
        return min(known) if known else None

    return end(0, tuple(item.cycles for item in items), (0,) * len(items))


ITEMS = st.lists(
    st.builds(
        Item,
        st.sampled_from(["a", "b", "c", "d"]),
        st.integers(1, 3),
        st.integers(1, 3),
        st.integers(0, 5),
    ),
    min_size=1,
    max_size=3,
    unique_by=lambda item: item.name,
).map(tuple)
WINDOWS = st.sampled_from(
    [((0, DAY_MIN),), ((2, 9), (11, 40)), ((0, 5), (6, 12), (15, 40)), ((1, 20),)]
)


@settings(deadline=None, max_examples=25)
@given(items=ITEMS, windows=WINDOWS)
def test_no_other_order_ends_earlier(
    items: tuple[Item, ...], windows: tuple[tuple[int, int], ...]
) -> None:
    allowed = minutes_of(windows)
    horizon = 40
    found = best_order(items, allowed)
    least = earliest_end(items, allowed & ((1 << horizon) - 1), horizon)
    if least is None:
        assert found is None or found.end_min > horizon
        return
    assert found is not None
    assert found.proven
    assert found.end_min == least
    assert_keeps(found, items, allowed)


def assert_keeps(order: Order, items: tuple[Item, ...], allowed: int) -> None:
    """Every cycle is there, in allowed minutes, one at a time, with its lag."""
    by_name = {item.name: item for item in items}
    end, last = 0, dict[str, int]()
    for slot in order.slots:
        assert slot.start_min >= end
        end = slot.end_min
        assert all(allowed >> minute & 1 for minute in range(slot.start_min, end))
        if slot.name in last:
            assert slot.start_min >= last[slot.name] + by_name[slot.name].lag_min
        last[slot.name] = end
    for item in items:
        assert sum(slot.name == item.name for slot in order.slots) == item.cycles


def test_others_run_while_one_soaks() -> None:
    # 3 cycles of 8 min with 120 min of soak leave room for everything else.
    clay = Item("clay", 3, 8, 120)
    others = [Item(f"zone {n}", 1, 40, 0) for n in range(5)]
    found = best_order([clay, *others])
    assert found is not None
    assert found.proven
    # Two soaks and three cycles are the least that the clay alone takes.
    assert found.end_min == 3 * 8 + 2 * 120
    assert found.pause_min == found.end_min - 3 * 8 - 5 * 40


def test_what_does_not_fit_is_not_squeezed_in() -> None:
    assert best_order([Item("a", 1, 61)], minutes_of(((0, 60),))) is None
    assert best_order([Item("a", 2, 20, 30)], minutes_of(((0, 60),))) is None


@pytest.mark.parametrize("first_min", [0, 180])
def test_nothing_starts_before_the_first_minute(first_min: int) -> None:
    found = best_order([Item("a", 1, 10)], minutes_of(((0, 600),)), first_min)
    assert found is not None
    assert found.slots[0].start_min == first_min
