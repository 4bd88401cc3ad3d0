"""Fewer heads at once, smaller nozzles, and how many heads run well: each by solving again."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import combinations, pairwise

from fieldbook.water.advice.asked import like_last_name, more_name
from fieldbook.water.network import Head, Link, Network, Node

Group = tuple[str, ...]
Trial = Callable[[Group], bool]
"""Whether these heads run well alone; it solves them."""

MOST_HEADS_TOGETHER = 9
"""Heads of which every division in two is tried; of more, those that are neighbours in an order."""
LEAST_NOZZLE_PERCENT, _STEP = 50, 5
MOST_GROUPS = 6


def splits(orders: Sequence[Sequence[str]], runs_well: Trial) -> Iterator[tuple[Group, ...]]:
    """Ways to run the heads in groups one after the other, of the fewest groups that are enough.

    `orders` are the same heads in some orders, such as along the pipe and by height; neighbours
    in one of them stay together. The most even way comes first.
    """
    known: dict[Group, bool] = {}

    def well(group: Group) -> bool:
        key = tuple(sorted(group))
        if key not in known:
            known[key] = runs_well(group)
        return known[key]

    for count in range(2, min(len(orders[0]), MOST_GROUPS) + 1):
        found = False
        for groups in _divided(orders, count):
            if all(well(group) for group in groups):
                found = True
                yield groups
        if found:
            return


def _divided(orders: Sequence[Sequence[str]], count: int) -> Iterator[tuple[Group, ...]]:
    """Divisions in so many groups: neighbours first, the most even first."""
    heads = list(orders[0])
    cuts = sorted(combinations(range(1, len(heads)), count - 1), key=lambda at: _uneven(at, heads))
    for order in orders:
        for at in cuts:
            ends = (0, *at, len(heads))
            yield tuple(tuple(order[a:b]) for a, b in pairwise(ends))
    if count == 2 and len(heads) <= MOST_HEADS_TOGETHER:
        for size in range(len(heads) // 2, 0, -1):
            for chosen in combinations(heads, size):
                yield chosen, tuple(head for head in heads if head not in chosen)


def _uneven(cuts: Sequence[int], heads: Sequence[str]) -> int:
    ends = (0, *cuts, len(heads))
    sizes = [b - a for a, b in pairwise(ends)]
    return max(sizes) - min(sizes)


def nozzle_parts() -> Iterator[float]:
    """Parts of the flow that smaller nozzles could give, the largest first, none under half."""
    for percent in range(100 - _STEP, LEAST_NOZZLE_PERCENT - 1, -_STEP):
        yield percent / 100.0


def most_heads(heads: Sequence[str], runs_well: Trial) -> int:
    """How many heads, counted from the first, run well together; the first failing one ends it."""
    for count in range(1, len(heads) + 1):
        if not runs_well(tuple(heads[:count])):
            return count - 1
    return len(heads)


def like_last(network: Network, run: str, head: str, more: int) -> Network:
    """The network with `more` heads like `head` added behind the run of this name, one by one.

    Raises KeyError for a run or head that is not there.
    """
    pattern = {link.name: link for link in network.links}[run]
    node = network.node_at[pattern.end]
    last = _head(network, head)
    rise_ft = node.elevation_ft - network.node_at[pattern.start].elevation_ft
    nodes, links, at = list(network.nodes), list(network.links), node
    for number in range(1, more + 1):
        name = more_name(number)
        new = Node(
            name, at.elevation_ft + rise_ft, (last._replace(name=like_last_name(head, number)),)
        )
        links.append(Link(name, at.name, name, pattern.kind))
        nodes.append(new)
        at = new
    return network._replace(nodes=tuple(nodes), links=tuple(links))


def _head(network: Network, name: str) -> Head:
    for node in network.nodes:
        for head in node.heads:
            if head.name == name:
                return head
    raise KeyError(name)
