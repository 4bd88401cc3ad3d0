"""How a tree of pipe runs is laid out in rows and columns, so that it stays narrow.

Each run has a row. A run goes on in the column of the run that feeds it, unless another one from
there needs more room: then it branches off to the next column. So many columns are needed only as
the tree is truly branched: n runs take at most log2(n) + 1 (the Strahler number of the tree).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from typing import NamedTuple


class Branch(NamedTuple):
    """Where a run is drawn, and where it comes from; row 0 and column 0 are the start."""

    key: str
    row: int
    column: int
    from_row: int
    from_column: int


def lay_out(fed_by: Mapping[str, str | None]) -> list[Branch]:
    """The branches of a tree in the order of their rows.

    `fed_by` names for each run the one that feeds it, None for the start. Every run must lead back
    to the start.
    """
    fed: defaultdict[str | None, list[str]] = defaultdict(list)
    for key, feeder in fed_by.items():
        fed[feeder].append(key)
    needs = _columns_needed(fed)
    found: list[Branch] = []
    # What is still to be drawn, the next last: key, column, and where it comes from.
    waiting = _next(None, 0, 0, fed, needs)
    while waiting:
        key, column, from_row, from_column = waiting.pop()
        row = len(found) + 1
        found.append(Branch(key, row, column, from_row, from_column))
        waiting += _next(key, row, column, fed, needs)
    return found


def _next(
    feeder: str | None,
    row: int,
    column: int,
    fed: Mapping[str | None, list[str]],
    needs: Mapping[str, int],
) -> list[tuple[str, int, int, int]]:
    """What one run feeds, in the order from last drawn to first drawn."""
    keys = list(fed.get(feeder, ()))
    if not keys:
        return []
    # The one that needs the most columns goes straight on; of equals the last entered does.
    main = max(reversed(keys), key=lambda key: needs[key])
    keys.remove(main)
    aside = [(key, column + 1, row, column) for key in reversed(keys)]
    return [(main, column, row, column), *aside]


def _columns_needed(fed: Mapping[str | None, list[str]]) -> dict[str, int]:
    """How many columns each run needs, with everything behind it."""
    order: list[str] = list(fed.get(None, ()))
    for key in order:
        # The list grows while it is walked, until every run stands in it after its feeder.
        order += fed.get(key, ())
    needs: dict[str, int] = {}
    for key in reversed(order):
        behind = sorted((needs[one] for one in fed.get(key, ())), reverse=True)
        needs[key] = max([1, *behind[:1], *(one + 1 for one in behind[1:2])])
    return needs
